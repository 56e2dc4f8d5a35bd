import './book.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type TextProps, useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';
import { entryOfQuery } from './record.ts';

type ToFill = Reply<'entry-to-complete'>;
type Blank = ToFill['blanks'][number];

const toGaps = () => go({ to: 'book/gaps' }, { replace: true });

/** Fills in what an entry did not say, without changing anything that was decided. */
export default function FillInScreen() {
  const entry = entryOfQuery(useLocation().query);
  return (
    <Screen
      title="Fill in what is missing"
      lead="What the entry says already stays as it is, and so does every dose, balance and withdrawal. Both versions stay in the book."
    >
      {entry === undefined ? (
        <Empty deed={<DeedLink to="book/gaps">See what is missing</DeedLink>}>No entry is named here.</Empty>
      ) : (
        <Asked entry={entry} />
      )}
    </Screen>
  );
}

function Asked({ entry }: { entry: { request: string; n: number } }) {
  const call = useCall('entry-to-complete', { entry });
  return (
    <Await call={call} what="Opening the entry">
      {(value) =>
        value.blanks.length === 0 ? (
          <Empty deed={<DeedLink to="book/gaps">See what is missing</DeedLink>}>
            This entry says all that can be filled in.
          </Empty>
        ) : (
          <FillForm key={`${entry.request} ${entry.n}`} entry={entry} value={value} />
        )
      }
    </Await>
  );
}

function FillForm({ entry, value }: { entry: { request: string; n: number }; value: ToFill }) {
  const form = useForm(`fill in ${entry.request} ${entry.n}`, {
    supplier: '',
    supplierAddress: '',
    proof: '',
    how: '',
    where: '',
    batch: '',
    expiry: '',
    prescription: '',
    reason: '',
  });
  const write = useWrite('complete-entry', () => {
    void form.drop().then(toGaps);
  });
  const { values } = form;
  const has = (blank: Blank) => value.blanks.includes(blank);
  // One of several may wait; the only one is what the form is there for.
  const mayWait = value.blanks.length > 1;
  /** Where the supplier was written before with an address, that is offered with it. */
  const known = value.suppliers.find(({ supplier }) => supplier === values.supplier)?.supplierAddress ?? '';
  const send = () => {
    const { reason, ...more } = values;
    if (reason.trim() === '') {
      return form.show([
        { field: 'reason', message: 'Where you have it from: write it, such as "found the invoice".' },
      ]);
    }
    void write.send({ entry, reason, ...withoutEmpty(more) });
  };
  return (
    <Form form={form} write={write} deed="Fill it in" onSend={send} onLeave={toGaps}>
      <Section title="This entry">
        <Sentences>
          <Sentence margin="Says">{value.text}</Sentence>
        </Sentences>
      </Section>
      <Section title="What is missing">
        {has('supplier') ? (
          <Field
            {...form.text('supplier')}
            label="Supplier"
            optional={mayWait}
            list={value.suppliers.map(({ supplier }) => supplier)}
          />
        ) : null}
        {has('supplierAddress') ? (
          <Field
            {...form.text('supplierAddress')}
            label="Address of the supplier"
            optional={mayWait}
            lines={2}
            {...(known === '' || known === values.supplierAddress
              ? {}
              : { readBack: `Before it was ${known}.` })}
          />
        ) : null}
        {has('proof') ? (
          <Field
            {...form.text('proof')}
            label="Proof of purchase"
            optional={mayWait}
            hint="The number of the invoice or the delivery note. A photo or PDF of it can be kept on the page of the batch."
          />
        ) : null}
        {has('how') ? (
          <Field {...form.text('how')} label="How it was disposed of" optional={mayWait} />
        ) : null}
        {has('where') ? <Field {...form.text('where')} label="Where it went" optional={mayWait} /> : null}
        {has('batch') ? <Field {...form.text('batch')} label="Batch" optional={mayWait} size={20} /> : null}
        {has('expiry') ? (
          <Field
            {...form.text('expiry')}
            label="Expiry"
            optional={mayWait}
            size={12}
            hint="As printed: 2027-03 or 2027-03-14."
          />
        ) : null}
        {has('prescription') ? <Orders value={value} field={form.text('prescription')} /> : null}
        <Field
          {...form.text('reason')}
          label="Where you have it from"
          hint="It stands beside the entry as the reason for the change."
          lines={2}
        />
      </Section>
    </Form>
  );
}

/** Prescriptions and orders for this medicine; where there are none, how one is written down. */
function Orders({ value, field }: { value: ToFill; field: TextProps }) {
  if (value.prescriptions.length === 0) {
    // Most deliveries need none; a treatment is here because one is missing.
    if (value.kind === 'batch-received') return null;
    return (
      <Notice kind="mind" word="No order" deed={<DeedLink to="farm/papers">See the vet’s papers</DeedLink>}>
        <p>No prescription or order for this medicine is in the book yet. Write it down first.</p>
      </Notice>
    );
  }
  return (
    <Select
      {...field}
      label="Prescription or vet's order"
      optional
      options={[{ value: '', label: 'None' }, ...value.prescriptions]}
    />
  );
}
