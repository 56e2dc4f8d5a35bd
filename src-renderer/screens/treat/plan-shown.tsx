import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Called } from '../../hooks/use-call.ts';
import { useWeightKnown } from '../../hooks/use-weight-known.ts';
import { List } from '../../parts/list.tsx';
import { Notice, Warnings } from '../../parts/notice.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { Steady } from '../../parts/steady.tsx';
import { count } from '../../parts/words.ts';
import { GroupShown } from './grouping-shown.tsx';
import { useNeedleMarks } from './needle-marks.ts';
import { StockOfLine, sayBottles } from './stock-of-line.tsx';
import { SyringeShown } from './syringe-shown.tsx';
import { TurnShown } from './turn-shown.tsx';
import { routeInWords } from './words.ts';

type Plan = Reply<'plan-session'>;

/** The plan as it stands: what is needed from which bottle, each dose as a sentence, who is left out and why. */
export function PlanShown({
  plan,
  isAsked,
  onSyringe,
}: {
  plan: Called<Plan>;
  isAsked: boolean;
  /** A syringe of the farm's was taken for the line of that number. */
  onSyringe: (n: number, choice: string) => void;
}) {
  if (!isAsked) return <Empty>The plan stands here as soon as animals and a medicine are chosen.</Empty>;
  return (
    <Steady call={plan} what="Working out the plan">
      {(value) => <Planned plan={value} onSyringe={onSyringe} />}
    </Steady>
  );
}

function Planned({ plan, onSyringe }: { plan: Plan; onSyringe: (n: number, choice: string) => void }) {
  const { rows, leftOut, lines, warnings } = plan;
  const sayKnown = useWeightKnown();
  const markOf = useNeedleMarks();
  const heads = rows.reduce((sum, row) => sum + row.heads, 0);
  const unweighed = leftOut.filter((one) => one.why.code === 'weight-missing').length;
  return (
    <div className="race-plan">
      <p className="race-total" role="status">
        <strong>{count(heads, 'head', 'head')}</strong> to treat
        {leftOut.length === 0 ? '' : `, ${leftOut.length} left out`}.
      </p>
      <Warnings warnings={warnings} />
      <Sentences label="What is needed">
        {lines.map((line) => (
          <Sentence
            key={`${line.medicine} ${line.doseLine}`}
            margin={routeInWords(line.route)}
            mind={line.short !== undefined}
            small={line.says}
          >
            <strong>
              {line.needs.text} {line.name}
            </strong>
            {sayBottles((line.withLosses ?? line).draws)}.
            {line.short === undefined ? null : <strong> {line.short.text} is missing in the cabinet.</strong>}
          </Sentence>
        ))}
      </Sentences>
      {lines.map((line) => (
        <StockOfLine key={`${line.medicine} ${line.doseLine}`} line={line} />
      ))}
      {lines.map((line, n) => (
        <div key={`${line.medicine} ${line.doseLine}`}>
          <GroupShown line={line} />
          <SyringeShown line={line} onTake={(choice) => onSyringe(n, choice)} />
        </div>
      ))}
      {lines.map((line) => (
        <Warnings
          key={`${line.medicine} ${line.doseLine}`}
          warnings={line.warnings.filter((one) => one.code !== 'short' && one.code !== 'course-short')}
        />
      ))}
      <LeftOut leftOut={leftOut} />
      {unweighed === 0 ? null : (
        <Notice>
          <p>
            {count(unweighed, 'has', 'have')} no weight and cannot be dosed all at once: weigh them under
            Flock first, or plan the work animal by animal.
          </p>
        </Notice>
      )}
      <List
        label="Doses"
        rows={rows}
        rowKey={(row) => row.subject}
        first={{ key: 'shown', isDown: false }}
        columns={[
          { key: 'shown', head: 'Animal or lot', text: (row) => `${row.shown}${markOf(row.subject)}` },
          {
            key: 'weight',
            head: 'Weight',
            text: (row) => (row.weight === undefined ? '' : sayKnown({ ...row, weight: row.weight })),
          },
          ...(rows.some((row) => row.parts !== undefined)
            ? [
                {
                  key: 'part',
                  head: 'Part',
                  text: (row: Plan['rows'][number]) =>
                    (row.parts ?? []).map((part) => (part === null ? 'by itself' : String(part))).join(', '),
                },
              ]
            : []),
          ...lines.map((line, n) => ({
            key: `dose${n}`,
            head: lines.length > 1 ? line.name : 'Dose, a head',
            text: (row: Plan['rows'][number]) => {
              const dose = row.doses[n];
              if (dose == null) return row.toWeigh ? 'weigh at the race' : 'none';
              return dose.working[0]?.text ?? dose.draw.text;
            },
            show: (row: Plan['rows'][number]) => (
              <>
                <Dose dose={row.doses[n] ?? null} heads={row.heads} toWeigh={row.toWeigh} />
                <TurnShown turn={row.turns?.[n]} />
              </>
            ),
            order: (row: Plan['rows'][number]) => unitsOf(row.doses[n] ?? null),
          })),
        ]}
        empty={<Empty>Nobody can be treated by this plan. Look at who is left out, and why.</Empty>}
      />
    </div>
  );
}

type Shown = Plan['rows'][number]['doses'][number];

function unitsOf(dose: Shown): number {
  if (dose === null) return 0;
  const { amount } = dose.draw;
  return amount.kind === 'volume'
    ? amount.microlitres
    : amount.kind === 'mass'
      ? amount.micrograms
      : amount.pieces;
}

function Dose({ dose, heads, toWeigh }: { dose: Shown; heads: number; toWeigh: boolean }) {
  if (dose === null) return <>{toWeigh ? 'weigh at the race' : 'none'}</>;
  return (
    <>
      <strong>{dose.draw.text}</strong>
      {heads > 1 ? ` for each of ${heads}` : ''}
      {dose.sites.length > 1 ? `, in ${dose.sites.length} places: ${dose.sites.join(' + ')}` : ''}
      <small className="race-sentence">{dose.working[0]?.text}</small>
      {dose.warnings.map((warning) => (
        <small key={warning.code} className="race-sentence">
          {warning.text}
        </small>
      ))}
    </>
  );
}

function LeftOut({ leftOut }: { leftOut: Plan['leftOut'] }) {
  if (leftOut.length === 0) return null;
  return (
    <>
      <h3>Left out, and why</h3>
      <Sentences label="Left out">
        {leftOut.slice(0, 30).map((one) => (
          <Sentence
            key={`${one.subject} ${one.why.code} ${one.why.text}`}
            mind
            margin="Left out"
            small={one.why.text}
          >
            <strong>{one.shown}</strong>, {one.class.replace('-', ' ')}
          </Sentence>
        ))}
      </Sentences>
      {leftOut.length > 30 ? (
        <details>
          <summary>{leftOut.length - 30} more are left out</summary>
          <ul>
            {leftOut.slice(30).map((one) => (
              <li key={`${one.subject} ${one.why.text}`}>
                {one.shown}: {one.why.text}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </>
  );
}
