import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go, useParams } from '../../router.tsx';
import type { Farm } from './holding-field.tsx';
import { type SubjectPage, sayLocal, weighedOf, weighedOptions } from './words.ts';

/** Writes down what one animal, or one head of a lot, weighs. */
export default function WeighScreen() {
  const { subject } = useParams('flock/subject/:subject/weigh');
  const farm = useCall('farm', {});
  const call = useCall('subject', { subject });
  return (
    <Await call={farm} what="Reading the farm">
      {(value) => (
        <Await call={call} what="Opening the page">
          {(page) => (
            <Screen title={`Weigh ${page.who.shown}`} lead={leadOf(page)}>
              <WeighForm page={page} farm={value} />
            </Screen>
          )}
        </Await>
      )}
    </Await>
  );
}

function leadOf({ who }: SubjectPage): string {
  const each = who.subject.startsWith('lot:') ? 'What one head of this lot weighs. ' : '';
  if (who.weight === undefined) return `${each}It has no weight on record yet.`;
  return `${each}The last weight was ${who.weight}${who.weighedOn === undefined ? '' : ` on ${sayLocal(who.weighedOn)}`}.`;
}

function WeighForm({ page, farm }: { page: SubjectPage; farm: Farm }) {
  const { subject } = page.who;
  const toPage = () => go({ to: 'flock/subject/:subject', params: { subject } });
  const unit = farm.holdings.find((one) => one.holding === page.holding)?.weightUnit ?? 'kg';
  const form = useForm(`flock/weigh/${subject}`, { weight: '', how: 'scale', happened: '' });
  const write = useWrite('weigh', () => {
    void form.drop().then(toPage);
  });
  const send = () => {
    const { weight, how, happened } = form.values;
    if (weight.trim() === '') return form.show([{ field: 'weight', message: 'Write the weight.' }]);
    void write.send({ subject, weight, how: weighedOf(how) ?? 'eye', ...withoutEmpty({ happened }) });
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
      <Choice {...form.text('how')} label="How it is known" options={weighedOptions} />
      <DayField {...form.text('happened')} label="On" optional hint="Left empty it counts from now." />
    </Form>
  );
}
