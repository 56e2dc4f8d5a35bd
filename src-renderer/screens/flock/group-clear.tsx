import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, dayInWords } from '../../parts/words.ts';
import { headsOf } from '../declare/clear-rows.ts';
import { Staying } from '../declare/staying.tsx';

type Group = Reply<'group'>['group'];

/** Whether a group may go for slaughter, on the day it is due away or today, and who would have to stay at home. */
export function GroupClear({ group }: { group: Group }) {
  const farm = useCall('farm', {});
  return (
    <Await call={farm} what="Reading the clock">
      {({ clock }) => (clock.state === 'believed' ? <Clear group={group} today={clock.today} /> : null)}
    </Await>
  );
}

function Clear({ group, today }: { group: Group; today: string }) {
  const { dueAwayFrom, dueAwayTo } = group.dates;
  const due = [dueAwayFrom, dueAwayTo].find((day) => day !== undefined && day >= today);
  const at = due ?? today;
  const call = useCall('clear-list', { at, group: group.group });
  const when = due === undefined ? 'today' : `on ${dayInWords(at)}, when they are due away`;
  return (
    <Await call={call} what="Looking who may go">
      {({ clear, held, steps }) => (
        <>
          <Section
            title="To slaughter"
            deeds={
              <DeedLink to="declare/clear" query={{ group: group.group }}>
                See who is clear for what
              </DeedLink>
            }
          >
            <Sentences label="To slaughter">
              <Sentence margin={held.length === 0 ? 'Clear' : 'Held'} mind={held.length > 0}>
                {held.length === 0
                  ? `All ${count(headsOf(clear), 'head', 'head')} may go ${when}.`
                  : `${count(headsOf(held), 'head', 'head')} of ${headsOf(held) + headsOf(clear)} may not go ${when}.`}
              </Sentence>
            </Sentences>
          </Section>
          <Staying steps={steps} held={held} />
        </>
      )}
    </Await>
  );
}
