import { Timeline } from '../../drawings/timeline.tsx';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, listed } from '../../parts/words.ts';
import {
  alsoHeld,
  type HeldPage,
  type HeldWho,
  heldAlike,
  isAsleep,
  runningOf,
  sayHeld,
  type Why,
} from './held-words.ts';
import { produceWord, sayLocal } from './words.ts';

/** Each hold that runs, with its reason, what it is counted from and the working; and what happened to it. */
export function WhyOne({ subject, milks }: { subject: string; milks: boolean }) {
  const call = useCall('why-held', { subject });
  return (
    <Await call={call} what="Reading why">
      {({ subjects }) => {
        const [who] = subjects;
        if (who === undefined) return null;
        const running = runningOf(who, milks);
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
    ...(row.young === undefined ? [] : [row.young]),
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
      {sayHeld(row).text}. <strong>{row.reason}</strong>.
    </Sentence>
  );
}

function Events({ who }: { who: HeldWho }) {
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
  const farm = useCall('farm', {});
  const milks = farm.state === 'ready' && farm.value.holdings.some((holding) => holding.milk);
  return (
    <Await call={call} what="Reading who is held and why">
      {(page) => {
        const alike = heldAlike(page.subjects, milks);
        const rows = page.summary
          .filter((row) => milks || row.produce !== 'milk')
          .map((row, n) => ({
            key: `${n} ${row.text}`,
            label: `${produceWord(row.produce.replace('-', ' '))}${row.clock === 'organic' ? ', organic' : ''}`,
            from: row.from,
            until: row.until,
            text: sayReason(row),
          }));
        if (rows.length === 0) return <p className="hint">Nobody is held.</p>;
        return (
          <>
            <Timeline rows={rows} now={page.now} label="What runs" />
            <Sentences label="Who is held">
              {alike.slice(0, most).map((some) => (
                <HeldLine key={some[0].subject} alike={some} milks={milks} />
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

/** One reason over all whom it holds: how many, and until when the last of them. */
function sayReason({ text, heads, until, isDormant }: HeldPage['summary'][number]): string {
  const said = `${text}: ${count(heads, 'head', 'head')}`;
  const end = until === undefined ? '' : ` until ${sayLocal(until.slice(0, 16))} at the latest`;
  if (isDormant) return `${said} not in milk; held${end} if they come into milk.`;
  return `${said}${until === undefined ? ' with no date' : end}.`;
}

/** Names in one sentence; the list of the group has them all. */
const namesMost = 40;

/** Who is held, by what first, and until when by everything else. */
function HeldLine({ alike, milks }: { alike: readonly [HeldWho, ...HeldWho[]]; milks: boolean }) {
  const [who] = alike;
  const running = runningOf(who, milks);
  const [first, ...others] = running;
  if (first === undefined) return null;
  const { text, reason } = sayHeld(first);
  const also = alsoHeld(others.filter(({ hold }) => hold.text !== first.hold.text));
  const shown = alike.slice(0, namesMost).map((one) => one.shown);
  const rest = alike.length - shown.length;
  const names = alike.length === 1 ? '' : `${listed(rest > 0 ? [...shown, `${rest} more`] : shown)}.`;
  return (
    <Sentence
      margin={isAsleep(running) ? 'If in milk' : 'Held'}
      small={also === '' && names === '' ? undefined : `${also} ${names}`.trim()}
      deed={
        alike.length > 1 ? undefined : (
          <DeedLink to="flock/subject/:subject" params={{ subject: who.subject }}>
            Open {who.shown}
          </DeedLink>
        )
      }
    >
      <strong>{alike.length === 1 ? who.shown : `${alike.length} together`}</strong>: {text}. {reason}.
    </Sentence>
  );
}
