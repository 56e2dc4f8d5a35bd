import './order.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { go, useParams } from '../../router.tsx';
import { NextField } from '../label/next-field.tsx';
import {
  MOST_SIZES,
  packsOf,
  priceField,
  type SupplyValues,
  sizeField,
  supplyStart,
} from './supply-values.ts';

/** How one medicine is bought: from whom, in which packs, at which price, how long it takes, how much to keep. */
export default function SupplyScreen() {
  const { medicine } = useParams('order/supply/:medicine');
  const call = useCall('supply', { medicine });
  return (
    <Await call={call} what="Reading how it is bought">
      {(supply) => <SupplyForm supply={supply} />}
    </Await>
  );
}

function SupplyForm({ supply }: { supply: Reply<'supply'> }) {
  const { medicine, name, seen, written, currency } = supply;
  const farm = useCall('farm', {});
  const form = useForm<SupplyValues>(`order/supply/${medicine}`, supplyStart(supply));
  const filledRows = packsOf(form.values).length;
  const [rows, setRows] = useState(Math.min(MOST_SIZES, Math.max(2, filledRows + 1)));
  const shown = Math.max(rows, filledRows);
  const leave = () => go({ to: 'order/outlook/:medicine', params: { medicine } });
  const write = useWrite('set-supply', () => {
    void form.drop();
    leave();
  });
  const send = () => {
    const { supplier, leadDays, least } = form.values;
    void write.send({ medicine, supplier, leadDays, least, packs: packsOf(form.values) });
  };
  const suppliers =
    farm.state === 'ready'
      ? farm.value.people.filter((one) => one.roles.includes('supplier')).map((one) => one.name)
      : [];
  const known = [...new Set([seen.supplier, ...suppliers].filter((one) => one !== undefined))];
  return (
    <Screen
      title={`How ${name} is bought`}
      lead={
        written === undefined && seen.packs.length > 0
          ? 'What the deliveries so far show stands here already: correct it, and add the rest.'
          : 'What is written here is what the outlook reckons with.'
      }
    >
      <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={leave}>
        <Section title="From whom">
          <Field {...form.text('supplier')} label="Supplier" list={known} optional />
          <NextField name="leadDays" />
          <Field
            {...form.text('leadDays')}
            label="Days an order takes"
            hint="From the order until it stands in the cabinet, in whole days. Without it there is no day to order by."
            size={6}
            inputMode="numeric"
            optional
          />
          <Field
            {...form.text('least')}
            label="Least stock wished"
            hint="What should be there at any time, as in 500 mL."
            size={14}
            optional
          />
        </Section>
        <Section
          title="Packs"
          deeds={
            shown >= MOST_SIZES ? undefined : <Deed onDo={() => setRows(shown + 1)}>Another pack size</Deed>
          }
        >
          {Array.from({ length: shown }, (_, n) => n).map((n) => (
            <div key={n} className="order-pack">
              <Field
                {...form.text(sizeField(n))}
                label={`Pack size ${n + 1}`}
                hint="As it is printed, as in 500 mL."
                size={14}
                optional
              />
              <Field
                {...form.text(priceField(n))}
                label={`Price of pack ${n + 1}`}
                hint={`Of one pack, as in 42.50 ${currency ?? 'GBP'}.`}
                size={14}
                optional
              />
            </div>
          ))}
        </Section>
      </Form>
    </Screen>
  );
}
