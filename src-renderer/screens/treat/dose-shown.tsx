import type { ReactNode } from 'react';
import { parseAmount } from '../../../src-shared/quantity/amount.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { Syringe } from '../../drawings/syringe.tsx';
import { useCall } from '../../hooks/use-call.ts';
import { Notice, Warnings } from '../../parts/notice.tsx';
import { Result } from '../../parts/result.tsx';
import type { LineDose } from './sends.ts';
import { hasPlaces, isInjected, routeInWords, TECHNIQUE_SOURCE, techniqueOf } from './words.ts';

type SyringeSaid = { capacity: string; graduation: string };

function microlitresOf(text: string): number | undefined {
  const read = attempt(() => parseAmount(text, 'syringe'));
  return read.ok && read.value.kind === 'volume' ? read.value.microlitres : undefined;
}

/** The syringe filled to the mark, where a syringe was named and the dose is a volume. */
function Filled({ dose, syringe }: { dose: NonNullable<LineDose['dose']>; syringe: SyringeSaid }) {
  const capacity = microlitresOf(syringe.capacity);
  const graduation = microlitresOf(syringe.graduation);
  const { amount } = dose.draw;
  if (capacity === undefined || graduation === undefined || amount.kind !== 'volume') return null;
  return (
    <Syringe
      capacityMicrolitres={capacity}
      graduationMicrolitres={graduation}
      drawMicrolitres={amount.microlitres}
      text={dose.draw.text}
    />
  );
}

/** One medicine for one animal: the dose large, how it comes about, from which bottle, what to mind. */
export function DoseShown({
  line,
  medicine,
  syringe,
  source,
  heads,
  isMindShown = true,
  where,
  more = [],
}: {
  line: LineDose;
  medicine: string;
  syringe: SyringeSaid | undefined;
  source: string;
  heads: number;
  isMindShown?: boolean;
  /** Where it goes and with which needle, in place of the short technique. */
  where?: ReactNode;
  /** Warnings that concern the plan and not the dose. */
  more?: readonly { code: string; text: string }[];
}) {
  const { dose } = line;
  if (dose === null) {
    return (
      <Notice kind="stop" word="Not this">
        <p>
          <strong>{line.name}</strong>: {line.refused?.text ?? 'the label has no dose for it'}
        </p>
      </Notice>
    );
  }
  return (
    <section className="race-dose" aria-label={line.name}>
      <Result
        label={`${line.name}, ${routeInWords(line.route)}${heads > 1 ? `, for each of ${heads} head` : ''}`}
        big={dose.draw.text}
        drawing={syringe === undefined ? undefined : <Filled dose={dose} syringe={syringe} />}
      >
        {line.foreseen === undefined ? null : <p className="race-starts">{line.foreseen.meat}</p>}
        {line.foreseen?.course === undefined ? null : <p>{line.foreseen.course.says}</p>}
        {dose.working.map(({ code, text }) => (
          <p key={text} className={code === 'dosed-to' ? 'race-part' : undefined}>
            {text}
          </p>
        ))}
      </Result>
      <Warnings
        warnings={[
          ...dose.warnings,
          ...more,
          ...(line.checks ?? []).map((text) => ({ code: 'check-by-eye', text: `Look first: ${text}.` })),
        ]}
      />
      <ul className="race-mind">
        {dose.sites.length > 1 ? (
          <li>
            <strong>
              In {dose.sites.length} places: {dose.sites.join(' + ')}.
            </strong>
          </li>
        ) : null}
        <li>{bottles(line, source)}</li>
        {isMindShown ? (
          <Mind
            medicine={medicine}
            route={line.route}
            hasWhere={where !== undefined && hasPlaces(line.route)}
          />
        ) : null}
      </ul>
      {where}
    </section>
  );
}

function bottles(line: LineDose, source: string): ReactNode {
  if (source !== 'ours') return 'From a bottle that is not ours: nothing leaves the cabinet.';
  if (line.draws.length === 0) {
    return (
      <strong>No usable bottle is in the cabinet. Look for another, or take in the delivery first.</strong>
    );
  }
  return line.draws.map((draw, n) => (
    <span key={draw.container}>
      {n === 0 ? 'From ' : ', then '}
      <strong>{draw.label}</strong>, batch {draw.batch}, use by {draw.useBy}
      {line.draws.length > 1 ? ` (${draw.take.text})` : ''}
    </span>
  ));
}

/** What the label and practice say to mind, short. */
/** A label's own words may end with a full stop already. */
function asSentence(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

function Mind({ medicine, route, hasWhere }: { medicine: string; route: string; hasWhere: boolean }) {
  const call = useCall('medicine', { medicine });
  const terms =
    call.state === 'ready' ? call.value.revisions.find((one) => one.state === 'confirmed')?.terms : undefined;
  const technique = hasWhere ? [] : techniqueOf(route, terms?.form);
  const label = [
    ...(terms?.shakeWell === true ? ['Shake well.'] : []),
    ...(terms?.narrowMargin === true ? ['Little room between a dose and too much.'] : []),
    ...(terms?.irritates === true && isInjected(route) ? ['It irritates where it is injected.'] : []),
    ...(terms?.hazards.people === undefined ? [] : [asSentence(`Danger to people: ${terms.hazards.people}`)]),
    ...(terms?.hazards.pregnantWomen === undefined
      ? []
      : [asSentence(`Pregnant women: ${terms.hazards.pregnantWomen}`)]),
  ];
  return (
    <>
      {label.length === 0 ? null : (
        <li>
          {label.join(' ')} <small>From the label.</small>
        </li>
      )}
      {technique.length === 0 ? null : (
        <li>
          {technique.join(' ')} <small>{TECHNIQUE_SOURCE}</small>
        </li>
      )}
    </>
  );
}
