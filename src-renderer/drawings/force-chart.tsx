import './force-chart.css';
import { HAND_LIMIT_N, HAND_LIMIT_SOURCE } from '../../src-shared/needle/flow.ts';
import type { ForceRange } from '../../src-shared/needle/force-range.ts';
import { HUB_NOTE } from '../../src-shared/needle/hubs.ts';
import type { Gauge } from '../../src-shared/needle/tubing.ts';
import { type Fraction, toPlaces } from '../../src-shared/quantity/fraction.ts';
import { HubSwatch } from './hub-swatch.tsx';
import { shareOf } from './scale.ts';

/** The drawing ends at twice what a hand can keep up; what goes on beyond runs out of it with a broken edge. */
const end = 60;
const marks = [0, 10, 20, 30, 40, 50, 60];
const limit = Number(HAND_LIMIT_N.n) / Number(HAND_LIMIT_N.d);
/** Units of the drawing, which is stretched to the room there is. */
const width = 1000;

export type ForceRow = { readonly gauge: Gauge; readonly warm: ForceRange; readonly cold: ForceRange };

/**
 * How hard a remedy pushes through each needle, warm and cold, against what a hand can keep up. A table first: each
 * row says its range in figures and words, and the bar beside it, hidden from screen readers, shows the same.
 * How it was worked out stands in `working` of each range, for `<Working lines={printForceWorking(…)} />` beneath.
 */
export function ForceChart({
  remedy,
  conditions,
  rows,
}: {
  /** The remedy's name. */
  remedy: string;
  /** Syringe, length and speed in words: "10 mL syringe, 1 in needle, 1 mL each second". */
  conditions: string;
  /** From `forceByGauge`, widest needle first. */
  rows: readonly ForceRow[];
}) {
  if (rows.length === 0) return null;
  const warnings = new Map(
    rows.flatMap(({ warm, cold }) => [...warm.warnings, ...cold.warnings]).map((one) => [one.code, one]),
  );
  return (
    <figure className="drawing force">
      {[...warnings.values()].map((warning) => (
        <p key={warning.code} className="force-mind">
          <strong>Mind:</strong> {warning.text}
        </p>
      ))}
      <table>
        <caption>
          <strong>How hard {remedy} pushes</strong> {conditions}
        </caption>
        <thead>
          <tr>
            <th scope="col">Needle</th>
            <th scope="col">Bottle</th>
            <th scope="col">Force on the plunger</th>
            <td className="force-drawn" aria-hidden="true">
              <span className="force-scale">
                {marks.map((mark) => (
                  <span key={mark} style={{ left: `${shareOf(mark, end) * 100}%` }}>
                    {mark === end ? `${mark} N` : mark}
                  </span>
                ))}
              </span>
            </td>
          </tr>
        </thead>
        {rows.map(({ gauge, warm, cold }) => (
          <tbody key={gauge}>
            <tr>
              <th scope="rowgroup" rowSpan={2}>
                {gauge}G <HubSwatch gauge={gauge} />
              </th>
              <Cells bottle="warm" force={warm} />
            </tr>
            <tr>
              <Cells bottle="cold" force={cold} />
            </tr>
          </tbody>
        ))}
      </table>
      <figcaption>
        <p>
          The broken line is at 30 N, the weight of about 3 kg: what a hand can keep up, from{' '}
          {HAND_LIMIT_SOURCE}. The plunger’s own friction is in the figures. Warm is a room at about 20 °C,
          cold a bottle from the fridge at about 5 °C.
        </p>
        <p>
          This explains why a needle is hard work. It does not choose one: bore and thickness are known too
          roughly for that.
        </p>
        <p>{HUB_NOTE}</p>
      </figcaption>
    </figure>
  );
}

function Cells({ bottle, force }: { bottle: 'warm' | 'cold'; force: ForceRange }) {
  return (
    <>
      <td>{bottle}</td>
      <td>{force.laminar ? <Said force={force} /> : 'not known: the flow is not smooth'}</td>
      <td className="force-drawn" aria-hidden="true">
        <Bar force={force} />
        {isPast(force) ? <Arrow /> : null}
      </td>
    </>
  );
}

/** Drawn beside the bars, which are stretched, and as large as the letters. */
function Arrow() {
  return (
    <svg className="force-beyond" viewBox="0 0 32 20" aria-hidden="true">
      <path d="M2 10 H28 M19 3 L28 10 L19 17" fill="none" className="draw-line" />
    </svg>
  );
}

const hands: Readonly<Record<'under' | 'may-pass' | 'over', string>> = {
  under: 'under 30 N',
  'may-pass': 'may pass 30 N',
  over: 'over 30 N',
};

function Said({ force }: { force: Extract<ForceRange, { laminar: true }> }) {
  const { least, most } = force.forceN;
  return (
    <>
      <strong>
        {newtons(least)} to {newtons(most)} N
      </strong>{' '}
      <span className="force-hand">{hands[force.hand]}</span>
    </>
  );
}

/** Tenths below 10 N, whole newtons below 100, two figures above: anything finer would not be true. */
function newtons(value: Fraction): string {
  const rounded = Number(Number(toPlaces(value, 3)).toPrecision(2));
  return rounded.toLocaleString('en-GB');
}

/** Nothing of it lies in the drawing: it gets an arrow, because a bar would stand at a wrong figure. */
function isPast(force: ForceRange): boolean {
  return force.laminar && Number(toPlaces(force.forceN.least, 3)) >= end;
}

function Bar({ force }: { force: ForceRange }) {
  const x = (value: number) => width * shareOf(value, end);
  return (
    <svg className="force-bar" viewBox={`0 0 ${width} 24`} preserveAspectRatio="none" aria-hidden="true">
      {marks.map((mark) => (
        <line key={mark} x1={x(mark)} x2={x(mark)} y1="0" y2="24" className="draw-feint" />
      ))}
      {force.laminar && !isPast(force) ? <Span force={force} x={x} /> : null}
      <line x1={x(limit)} x2={x(limit)} y1="0" y2="24" className="force-limit" />
    </svg>
  );
}

function Span({ force, x }: { force: Extract<ForceRange, { laminar: true }>; x: (value: number) => number }) {
  const least = Number(toPlaces(force.forceN.least, 3));
  const most = Number(toPlaces(force.forceN.most, 3));
  const isBeyond = most > end;
  const start = x(least);
  // Beyond the drawing there is no edge to draw.
  const stop = isBeyond ? width + 50 : x(most);
  return (
    <>
      <rect
        x={start}
        y="5"
        width={Math.max(6, stop - start)}
        height="14"
        className={`force-${force.temperature}`}
      />
      {isBeyond ? <path d="M958 2 l8 20 M972 2 l8 20 M986 2 l8 20" className="draw-gap" /> : null}
    </>
  );
}
