import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty, Sentences } from '../../parts/sentence.tsx';
import { TrainingLine } from './line.tsx';

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
