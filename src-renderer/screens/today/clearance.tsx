import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { causesOf, clearingSoon, heads, named, namesAndDays, namesAndTimes } from './clearance-words.ts';

/** Who may go for meat today, and who may not and why. */
export function Clearance({ today }: { today: string }) {
  const list = useCall('clear-list', { at: today, produce: 'meat' });
  return (
    <Section title="Meat, today">
      <Await call={list} what="Counting who is clear">
        {({ clear, held }) => {
          const { next, today: inTheDay, week, notByTime } = clearingSoon(held, today);
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
                        : ` First to clear: ${namesAndDays([next])}`}
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
