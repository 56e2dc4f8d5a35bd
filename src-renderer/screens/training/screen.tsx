import type { Reply } from '../../../src-shared/calls/all.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';

type Training = Reply<'trainings'>['trainings'][number];

const day = (text: string) => printDay(text as Day);

/** Who was taught what, or was seen to do it well, and what is to be looked at again. */
export default function TrainingScreen() {
  const call = useCall('trainings', {});
  return (
    <Screen
      title="Training and competence"
      lead="What people were taught or seen to do well. A line that is wrong is struck out in the journal, with a reason."
      deeds={
        <>
          <CommandDeed id="note-training" weight="main" />
          <DeedLink to="farm">Farm</DeedLink>
        </>
      }
    >
      <Await call={call} what="Reading the book">
        {({ trainings }) =>
          trainings.length === 0 ? (
            <Empty deed={<CommandDeed id="note-training" />}>
              Nothing is written down yet. An inspector may ask who was taught to give medicines, and when.
            </Empty>
          ) : (
            <Sentences label="Training and competence">
              {trainings.map((one) => (
                <TrainingLine key={one.training} one={one} />
              ))}
            </Sentences>
          )
        }
      </Await>
    </Screen>
  );
}

const REVIEWS: Readonly<Record<Training['review'], (on: string) => string>> = {
  none: () => '',
  later: (on) => ` To be looked at again on ${on}.`,
  soon: (on) => ` To be looked at again by ${on}.`,
  over: (on) => ` Was to be looked at again on ${on}.`,
  renewed: (on) => ` Was to be looked at again on ${on}; it was.`,
};

/** One note, with the way to note it anew where its review is due. */
export function TrainingLine({ one }: { one: Training }) {
  const isDue = one.review === 'soon' || one.review === 'over';
  const on = one.reviewOn === undefined ? '' : day(one.reviewOn);
  const more = [
    one.proof === undefined ? '' : ` Proof: ${one.proof}.`,
    one.note === undefined ? '' : ` ${one.note}`,
  ];
  return (
    <Sentence
      mind={one.review === 'over'}
      margin={one.review === 'over' ? 'Overdue' : one.review === 'soon' ? 'Soon' : day(one.day)}
      small={`${one.how === 'taught' ? 'Taught' : 'Seen'} by ${one.with} on ${day(one.day)}.${REVIEWS[one.review](on)}${more.join('')}`}
      deed={
        isDue ? (
          <DeedLink to="farm/training/note" query={{ person: one.person, what: one.what }}>
            Note it anew
          </DeedLink>
        ) : undefined
      }
    >
      <strong>{one.personName}</strong>: {one.what}
    </Sentence>
  );
}
