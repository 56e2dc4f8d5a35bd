import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';

const toCost = () => go({ to: 'book/cost' });

/** What a delivery cost, where that was not entered with it. */
export default function PriceScreen() {
  const { batch } = useLocation().query;
  return (
    <Screen title="What a delivery cost">
      {batch === undefined ? (
        <Empty deed={<CommandDeed id="cost" />}>Choose the delivery where its price is missing.</Empty>
      ) : (
        <PriceOf batch={batch} />
      )}
    </Screen>
  );
}

function PriceOf({ batch }: { batch: string }) {
  const call = useCall('recall', { batch });
  return (
    <Await call={call} what="Reading the delivery">
      {({ name, number, deliveries }) => {
        const received = deliveries.find((one) => one.batch === batch)?.received;
        const on = received === undefined ? '' : `, received ${received}`;
        return <PriceForm batch={batch} title={`${name}, batch ${number}${on}`} />;
      }}
    </Await>
  );
}

function PriceForm({ batch, title }: { batch: string; title: string }) {
  const form = useForm(`book/cost/price/${batch}`, { price: '' });
  const write = useWrite('set-batch-price', () => void form.drop().then(toCost));
  const send = () => {
    const { price } = form.values;
    if (price.trim() === '') {
      return form.show([{ field: 'price', message: 'Write what it cost, as in 42.50 GBP.' }]);
    }
    void write.send({ batch, price });
  };
  return (
    <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={toCost}>
      <p>
        <strong>{title}</strong>
      </p>
      <Field
        {...form.text('price')}
        label="Price"
        hint="Of the whole delivery, with the currency: 42.50 GBP."
        size={14}
      />
    </Form>
  );
}
