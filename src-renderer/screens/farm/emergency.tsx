import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';

const toFarm = () => go({ to: 'farm' });

/** The numbers for an emergency. */
export default function EmergencyNumbersScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="Numbers for an emergency"
      lead="They stand on the emergency sheet and one key away during the work. Ring each once, so that you know it is right."
    >
      <Await call={farm} what="Reading the farm">
        {({ business }) => (business === null ? null : <NumbersForm business={business} />)}
      </Await>
    </Screen>
  );
}

function NumbersForm({ business }: { business: NonNullable<Reply<'farm'>['business']> }) {
  const { call = '', doctor = '', hospital = '', poison = '', place = '' } = business.emergency ?? {};
  const form = useForm('farm/emergency', { call, doctor, hospital, poison, place });
  const write = useWrite('set-emergency-numbers', () => {
    void form.drop().then(toFarm);
  });
  return (
    <Form
      form={form}
      write={write}
      deed="Write them in the book"
      onLeave={toFarm}
      onSend={() => void write.send(withoutEmpty(form.values))}
    >
      <Field
        {...form.text('call')}
        label="Emergency call"
        hint="The number of your country."
        inputMode="tel"
        size={12}
        optional
      />
      <Field {...form.text('doctor')} label="Doctor" hint="Name and number." size={32} optional />
      <Field
        {...form.text('hospital')}
        label="Hospital"
        hint="The nearest with an emergency department."
        size={32}
        optional
      />
      <Field {...form.text('poison')} label="Poison line" inputMode="tel" size={20} optional />
      <Field
        {...form.text('place')}
        label="How to find us"
        hint="For whoever comes: grid reference, which gate."
        lines={2}
        size={40}
        optional
      />
    </Form>
  );
}
