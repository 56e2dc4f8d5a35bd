import type { Reply } from '../../../src-shared/calls/all.ts';
import { addDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';

/** So many are named on Today; the list names all. */
const named = 5;

/** "UK 9 999999 00001 on 21 Mar 2026; …", the first to clear first. */
function namesAndDays(rows: readonly { shown: string; clear?: string | undefined }[]): string {
  const said = rows
    .slice(0, named)
    .map((row) => `${row.shown} on ${printDay((row.clear ?? '').slice(0, 10) as Day)}`);
  const more = rows.length - named;
  return `${said.join('; ')}${more > 0 ? `; and ${more.toLocaleString('en-GB')} more` : ''}.`;
}

/** "Store lambs at 14:00; …", the first to clear first. */
function namesAndTimes(rows: readonly { shown: string; clear?: string | undefined }[]): string {
  const said = rows.slice(0, named).map((row) => `${row.shown} at ${(row.clear ?? '').slice(11, 16)}`);
  const more = rows.length - named;
  return `${said.join('; ')}${more > 0 ? `; and ${more.toLocaleString('en-GB')} more` : ''}.`;
}

function heads(rows: readonly { heads: number }[]): number {
  return rows.reduce((sum, row) => sum + row.heads, 0);
}

type Held = Reply<'clear-list'>['held'];

/** "120 head: Marlexan 2.5 % drench; 3 head: came in with no statement": what holds how many, most first. */
function causesOf(held: Held): string {
  const causes = new Map<string, number>();
  for (const row of held) {
    const own = new Set(
      row.holds.map((hold) => hold.product ?? /\((.+)\)$/.exec(hold.text)?.[1] ?? hold.text),
    );
    for (const cause of own) causes.set(cause, (causes.get(cause) ?? 0) + row.heads);
  }
  const sorted = [...causes].toSorted((a, b) => b[1] - a[1]);
  const said = sorted.slice(0, named).map(([cause, n]) => `${count(n, 'head', 'head')}: ${cause}`);
  const more = sorted.length - named;
  return `${said.join('; ')}${more > 0 ? `; and ${count(more, 'other reason', 'other reasons')}` : ''}.`;
}

/** Who may go for meat today, and who may not and why. */
export function Clearance({ today }: { today: string }) {
  const list = useCall('clear-list', { at: today, produce: 'meat' });
  return (
    <Section title="Meat, today">
      <Await call={list} what="Counting who is clear">
        {({ clear, held }) => {
          const byTime = held
            .filter((row) => row.clear !== undefined)
            .toSorted((a, b) => Date.parse(a.clear ?? '') - Date.parse(b.clear ?? ''));
          const dayOf = (row: Held[number]) => (row.clear ?? '').slice(0, 10);
          const until = addDays(today as Day, 7);
          const inTheDay = byTime.filter((row) => dayOf(row) === today);
          const week = byTime.filter((row) => dayOf(row) > today && dayOf(row) <= until);
          const [next] = byTime;
          const notByTime = heads(held) - heads(byTime);
          return (
            <Sentences label="Meat, today">
              {held.length === 0 ? null : (
                <Sentence
                  margin="Held"
                  small={
                    <>
                      {causesOf(held)}
                      {next === undefined || week.length + inTheDay.length > 0
                        ? null
                        : ` First to clear: ${next.shown}. ${next.why}`}
                    </>
                  }
                  deed={<CommandDeed id="clear-list" />}
                >
                  <strong>{count(heads(held), 'head', 'head')}</strong> may not go: under withdrawal.
                </Sentence>
              )}
              {inTheDay.length === 0 ? null : (
                <Sentence margin="Today" small={namesAndTimes(inTheDay)}>
                  <strong>{count(heads(inTheDay), 'head clears', 'head clear')}</strong> in the course of
                  today.
                </Sentence>
              )}
              {week.length === 0 ? null : (
                <Sentence margin="This week" small={namesAndDays(week)}>
                  <strong>{count(heads(week), 'head clears', 'head clear')}</strong> in the next seven days.
                </Sentence>
              )}
              {notByTime === 0 ? null : (
                <Sentence
                  mind
                  margin="No date"
                  small="A period is not known, or something has to happen first. Time alone clears none of them."
                  deed={
                    <DeedLink to="declare/clear" query={{ show: 'no-date' }}>
                      See which have no date
                    </DeedLink>
                  }
                >
                  <strong>{count(notByTime, 'head', 'head')}</strong> of them will not clear by waiting.
                </Sentence>
              )}
              <Sentence margin="Clear" deed={clear.length === 0 ? undefined : <CommandDeed id="declare" />}>
                {clear.length === 0 ? (
                  'Nobody is clear.'
                ) : (
                  <>
                    <strong>{count(heads(clear), 'head', 'head')}</strong> may go.
                  </>
                )}
              </Sentence>
              <Marks />
            </Sentences>
          );
        }}
      </Await>
    </Section>
  );
}

/** Marks that fade within the week: after that nobody can tell by them who was treated. */
function Marks() {
  const call = useCall('marks-fading', {});
  if (call.state === 'failed') {
    return (
      <Sentence mind margin="Marks">
        {call.fault.message}
      </Sentence>
    );
  }
  if (call.state !== 'ready') return null;
  return call.value.marks.slice(0, named).map((mark) => (
    <Sentence
      key={`${mark.subject} ${mark.colour} ${mark.place}`}
      mind
      margin="Mark"
      deed={
        <DeedLink to="flock/subject/:subject" params={{ subject: mark.subject }}>
          Look at {mark.shown}
        </DeedLink>
      }
    >
      {mark.text}
    </Sentence>
  ));
}
