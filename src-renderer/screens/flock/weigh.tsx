import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWeightKnown } from '../../hooks/use-weight-known.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { WeightHow } from '../../parts/weight-how.tsx';
import { tapeSoFar, weighedHowOf } from '../../parts/weight-values.ts';
import { go, useParams } from '../../router.tsx';
import type { Farm } from './holding-field.tsx';
import type { SubjectPage } from './words.ts';

/** Writes down what one animal, or one head of a lot, weighs. */
export default function WeighScreen() {
  const { subject } = useParams('flock/subject/:subject/weigh');
  const farm = useCall('farm', {});
  const call = useCall('subject', { subject });
  return (
    <Await call={farm} what="Reading the farm">
      {(value) => (
        <Await call={call} what="Opening the page">
          {(page) => <WeighPage page={page} farm={value} />}
        </Await>
      )}
    </Await>
  );
}

function WeighPage({ page, farm }: { page: SubjectPage; farm: Farm }) {
  const sayKnown = useWeightKnown();
  return (
    <Screen title={`Weigh ${page.who.shown}`} lead={leadOf(page, sayKnown)}>
      <WeighForm page={page} farm={farm} />
    </Screen>
  );
}

function leadOf({ who, predicted }: SubjectPage, sayKnown: ReturnType<typeof useWeightKnown>): string {
  const each = who.subject.startsWith('lot:') ? 'What one head of this lot weighs. ' : '';
  if (who.weight === undefined) return `${each}It has no weight on record yet.`;
  const known = `${each}The last weight was ${sayKnown({ ...who, weight: who.weight })}.`;
  return predicted === undefined ? known : `${known} ${predicted}`;
}

function WeighForm({ page, farm }: { page: SubjectPage; farm: Farm }) {
  const { subject } = page.who;
  const toPage = () => go({ to: 'flock/subject/:subject', params: { subject } });
  const unit = farm.holdings.find((one) => one.holding === page.holding)?.weightUnit ?? 'kg';
  const form = useForm(`flock/weigh/${subject}`, {
    weight: '',
    how: 'scale',
    girth: '',
    length: '',
    happened: '',
  });
  const write = useWrite('weigh', () => {
    void form.drop().then(toPage);
  });
  const send = () => {
    const { weight, girth, length, happened } = form.values;
    const how = weighedHowOf(form.values.how);
    // The desk works the estimate out itself, from what the tape showed.
    const isByTape = how === 'tape' && tapeSoFar(girth, length)?.ok === true;
    if (weight.trim() === '' && !isByTape) {
      return form.show([{ field: 'weight', message: 'Write the weight, or girth and length by tape.' }]);
    }
    void write.send({
      subject,
      how,
      ...(isByTape ? { tape: { girth, length } } : { weight }),
      ...withoutEmpty({ happened }),
    });
  };
  return (
    <Form form={form} write={write} deed="Write the weight" onLeave={toPage} onSend={send}>
      <Field
        {...form.text('weight')}
        label={`Weight in ${unit}`}
        hint={`A number alone is read in ${unit}. For the other unit write it behind: ${unit === 'kg' ? '137 lb' : '62 kg'}.`}
        inputMode="decimal"
        size={10}
      />
      <WeightHow
        how={form.text('how')}
        girth={form.text('girth')}
        length={form.text('length')}
        onPut={(change) => form.set(change)}
      />
      <DayField {...form.text('happened')} label="On" optional hint="Left empty it counts from now." />
    </Form>
  );
}
