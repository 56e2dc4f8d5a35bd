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

function heads(rows: readonly { heads: number }[]): number {
  return rows.reduce((sum, row) => sum + row.heads, 0);
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
            .toSorted((a, b) => (a.clear ?? '').localeCompare(b.clear ?? ''));
          const [next] = byTime;
          const until = addDays(today as Day, 7);
          const week = byTime.filter((row) => (row.clear ?? '').slice(0, 10) <= until);
          const notByTime = heads(held) - heads(byTime);
          return (
            <Sentences label="Meat, today">
              {held.length === 0 ? null : (
                <Sentence
                  margin="Held"
                  small={
                    next === undefined || week.length > 0
                      ? undefined
                      : `First to clear: ${next.shown}. ${next.why}`
                  }
                  deed={<CommandDeed id="clear-list" />}
                >
                  <strong>{count(heads(held), 'head', 'head')}</strong> may not go: under withdrawal.
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
            </Sentences>
          );
        }}
      </Await>
    </Section>
  );
}
