import type { Reply } from '../../../src-shared/calls/all.ts';
import { Timeline } from '../../drawings/timeline.tsx';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, listed } from '../../parts/words.ts';
import { produceWord, sayLocal } from './words.ts';

type Page = Reply<'why-held'>;
type Who = Page['subjects'][number];
type Why = Who['rows'][number];

/** Each hold that runs, with its reason, what it is counted from and the working; and what happened to it. */
export function WhyOne({ subject, milks }: { subject: string; milks: boolean }) {
  const call = useCall('why-held', { subject });
  return (
    <Await call={call} what="Reading why">
      {({ subjects }) => {
        const [who] = subjects;
        if (who === undefined) return null;
        const running = who.rows.filter((row) => row.isRunning && (milks || row.hold.produce !== 'milk'));
        return (
          <>
            {running.length === 0 ? null : (
              <Section title="Why">
                <Sentences label="Why">
                  {running.map((row) => (
                    <WhyLine key={nameOf(row)} row={row} />
                  ))}
                </Sentences>
                <Workings rows={running} />
              </Section>
            )}
            <Events who={who} />
          </>
        );
      }}
    </Await>
  );
}

const nameOf = ({ hold, cameBy }: Why) =>
  `${hold.source} ${hold.produce} ${hold.market} ${hold.clock} ${cameBy ?? ''}`;

/** The arithmetic of each, for whoever wants to check it. */
function Workings({ rows }: { rows: readonly Why[] }) {
  const worked = rows.filter((row) => row.hold.working.length > 0);
  if (worked.length === 0) return null;
  return (
    <details className="past">
      <summary>How each was worked out</summary>
      {worked.map((row) => (
        <div key={nameOf(row)}>
          <p>
            <strong>{row.hold.text}</strong>
          </p>
          <ol>
            {row.hold.working.map((line) => (
              <li key={`${line.code} ${line.text}`}>{line.text}</li>
            ))}
          </ol>
        </div>
      ))}
    </details>
  );
}

function WhyLine({ row }: { row: Why }) {
  const { hold } = row;
  const counted = [
    ...(row.cameBy === undefined ? [] : [`It came through ${row.cameBy}.`]),
    ...(row.countedFrom === undefined ? [] : [`Counted from ${row.countedFrom}.`]),
    ...(row.counting === undefined ? [] : [`By ${row.counting}.`]),
    ...(row.margin === undefined ? [] : [`With ${row.margin}.`]),
    ...(row.inserts === undefined
      ? []
      : [`Drawn from bottles with different inserts, ${row.inserts}: the longest counts.`]),
    ...(row.label === undefined ? [] : [`The label says of sucking young: ${row.label}`]),
  ];
  return (
    <Sentence
      margin={produceWord(hold.produce.replace('-', ' '))}
      small={counted.length === 0 ? undefined : counted.join(' ')}
      deed={
        row.administration === undefined ? undefined : (
          <DeedLink to="book/treatment/:administration" params={{ administration: row.administration }}>
            Open the treatment
          </DeedLink>
        )
      }
    >
      {hold.text}. <strong>{row.reason}</strong>.
    </Sentence>
  );
}

function Events({ who }: { who: Who }) {
  if (who.events.length === 0) return null;
  return (
    <Section title="Happened">
      <Sentences label="Happened">
        {who.events.map((event) => (
          <Sentence
            key={event.event}
            deed={
              <DeedLink
                to="book/strike"
                query={{
                  request: event.entry.request,
                  n: String(event.entry.n),
                  what: event.text,
                  kind: 'event-noted',
                }}
              >
                Strike it out
              </DeedLink>
            }
          >
            {event.text}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}

/** A group, or the whole flock: each reason on a line of time, and who is held. */
export function WhyMany({ group, most }: { group?: string; most: number }) {
  const call = useCall('why-held', group === undefined ? {} : { group });
  return (
    <Await call={call} what="Reading who is held and why">
      {(page) => {
        const alike = heldAlike(page.subjects.filter((who) => who.sentences.length > 0));
        const rows = page.summary.map((row, n) => ({
          key: `${n} ${row.text}`,
          label: `${produceWord(row.produce.replace('-', ' '))}${row.clock === 'organic' ? ', organic' : ''}`,
          from: row.from,
          until: row.until,
          text: `${row.text}: ${count(row.heads, 'head', 'head')} ${row.until === undefined ? 'with no date' : `until ${sayLocal(row.until.slice(0, 16))} at the latest`}.`,
        }));
        if (rows.length === 0) return <p className="hint">Nobody is held.</p>;
        return (
          <>
            <Timeline rows={rows} now={page.now} label="What runs" />
            <Sentences label="Who is held">
              {alike.slice(0, most).map((some) => (
                <HeldLine key={some[0].subject} alike={some} />
              ))}
            </Sentences>
            {alike.length > most ? (
              <p className="hint">
                And {count(alike.slice(most).flat().length, 'more is held', 'more are held')} otherwise.
              </p>
            ) : null}
          </>
        );
      }}
    </Await>
  );
}

/** Those who are held by the same treatments on the same days, together: a whole pen reads as one sentence. */
function heldAlike(held: readonly Who[]): readonly (readonly [Who, ...Who[]])[] {
  const alike = new Map<string, [Who, ...Who[]]>();
  for (const who of held) {
    const key = runningOf(who)
      .map(({ hold, reason }) => `${hold.text} ${reason}`)
      .join('\n');
    const others = alike.get(key);
    if (others === undefined) alike.set(key, [who]);
    else others.push(who);
  }
  return [...alike.values()];
}

/** Names in one sentence; the list of the group has them all. */
const namesMost = 40;

/** Meat first: it concerns every animal, and milk only those that give it. */
const runningOf = (who: Who) =>
  who.rows
    .filter((row) => row.isRunning)
    .toSorted((a, b) => Number(a.hold.produce !== 'meat') - Number(b.hold.produce !== 'meat'));

/** Who is held, by what first, and until when by everything else. */
function HeldLine({ alike }: { alike: readonly [Who, ...Who[]] }) {
  const [who] = alike;
  const [first, ...others] = runningOf(who);
  if (first === undefined) return null;
  const also = others.map((row) => `${row.hold.text}.`).join(' ');
  const shown = alike.slice(0, namesMost).map((one) => one.shown);
  const rest = alike.length - shown.length;
  const names = alike.length === 1 ? '' : `${listed(rest > 0 ? [...shown, `${rest} more`] : shown)}.`;
  return (
    <Sentence
      margin="Held"
      small={also === '' && names === '' ? undefined : `${also} ${names}`.trim()}
      deed={
        alike.length > 1 ? undefined : (
          <DeedLink to="flock/subject/:subject" params={{ subject: who.subject }}>
            Open {who.shown}
          </DeedLink>
        )
      }
    >
      <strong>{alike.length === 1 ? who.shown : `${alike.length} together`}</strong>: {first.hold.text}.{' '}
      {first.reason}.
    </Sentence>
  );
}
