import { useCall } from '../../hooks/use-call.ts';
import { FaultNotice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentences } from '../../parts/sentence.tsx';
import { TrainingLine } from './line.tsx';

/** Reviews of training that are due or overdue, for Today. Nothing when there is none. */
export function TrainingDue() {
  const call = useCall('trainings', {});
  if (call.state === 'failed') return <FaultNotice fault={call.fault} />;
  if (call.state !== 'ready') return null;
  const due = call.value.trainings.filter(({ review }) => review === 'soon' || review === 'over');
  if (due.length === 0) return null;
  return (
    <Section title="Training">
      <Sentences label="Training to look at again">
        {due.map((one) => (
          <TrainingLine key={one.training} one={one} />
        ))}
      </Sentences>
    </Section>
  );
}
