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

/** Changes the name and address of the business. */
export default function BusinessScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="The business"
      lead="This stands at the head of every paper. Papers already made stay as they were."
    >
      <Await call={farm} what="Reading the farm">
        {({ business }) => (business === null ? null : <BusinessForm business={business} />)}
      </Await>
    </Screen>
  );
}

function BusinessForm({ business }: { business: NonNullable<Reply<'farm'>['business']> }) {
  const form = useForm('farm/business', {
    name: business.name,
    address: business.address,
    phone: business.phone ?? '',
    email: business.email ?? '',
  });
  const write = useWrite('set-business', () => {
    void form.drop().then(toFarm);
  });
  const { name, address, phone, email } = form.values;
  return (
    <Form
      form={form}
      write={write}
      deed="Write it in the book"
      onLeave={toFarm}
      onSend={() => void write.send({ name, address, ...withoutEmpty({ phone, email }) })}
    >
      <Field {...form.text('name')} label="Name of the farm or business" />
      <Field {...form.text('address')} label="Address" lines={4} />
      <Field {...form.text('phone')} label="Telephone" optional inputMode="tel" size={20} />
      <Field {...form.text('email')} label="E-mail" optional inputMode="email" />
    </Form>
  );
}
