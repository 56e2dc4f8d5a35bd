import './cabinet.css';
import { useState } from 'react';
import { PRESCRIPTION_WORDS } from '../../../src-shared/label/words.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { parsePrice, printPrice } from '../../../src-shared/stock/price.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type Problem, problemsOf, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { DayField } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { MedicinePicker, type MedicineRow } from '../../parts/medicine-picker.tsx';
import { Notice, Warnings } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { listed } from '../../parts/words.ts';
import { go, useLocation } from '../../router.tsx';
import { NextField } from '../label/next-field.tsx';
import { OrderLinePick } from '../order/delivery-line.tsx';
import { orderLineIn } from '../order/write-values.ts';
import { sayOption } from '../papers/words.ts';
import { addScan } from './delivery-scan.ts';
import { type ReadPack, ScanField } from './scan-field.tsx';
import { backExpiry, backPacks, readExpiry, readPacks } from './words.ts';

type Received = {
  readonly name: string;
  readonly batch: string;
  readonly first: string;
  readonly labels: readonly string[];
  readonly warnings: readonly { code: string; text: string }[];
};

/** Takes in a delivery of one batch: what it is, which batch, how much, from whom. */
export default function DeliveryScreen() {
  const { query } = useLocation();
  const medicines = useCall('medicines', {});
  const [received, setReceived] = useState<Received | undefined>(undefined);
  const form = useForm(
    ['cabinet/delivery', query.medicine, query.line].filter((part) => part !== undefined).join('/'),
    {
      medicine: query.medicine ?? '',
      insert: 'as-before',
      number: '',
      expiry: '',
      packs: query.packs ?? '',
      supplier: query.supplier ?? '',
      supplierAddress: '',
      price: '',
      proof: '',
      prescription: query.prescription ?? '',
      ordered: query.order === undefined ? '' : `${query.order} ${query.line}`,
      store: '',
      happened: '',
      code: '',
      serials: [] as readonly string[],
    },
  );
  const [warned, setWarned] = useState<ReadPack['warnings']>([]);
  const { values } = form;
  const picked =
    medicines.state === 'ready'
      ? medicines.value.medicines.find((one) => one.medicine === values.medicine)
      : undefined;
  const write = useWrite('receive-batch', ({ batch, containers, warnings }) => {
    const [first] = containers;
    if (first === undefined) return;
    setReceived({
      name: picked?.name ?? '',
      batch,
      warnings,
      first: first.container,
      labels: containers.map((one) => one.label),
    });
    void form.drop();
  });
  const label = useCall('medicine', picked === undefined ? null : { medicine: picked.medicine });
  const piece = label.state === 'ready' ? label.value.revisions[0]?.terms.piece : undefined;
  const more = piece === undefined ? {} : { piece };

  const send = () => {
    const need = (field: 'medicine' | 'number' | 'expiry' | 'packs', message: string): Problem[] =>
      values[field].trim() === '' ? [{ field, message }] : [];
    const tried = problemsOf([
      ...(values.expiry.trim() === '' ? [] : [attempt(() => readExpiry(values.expiry))]),
      ...(values.packs.trim() === '' ? [] : [attempt(() => readPacks(values.packs, more))]),
      ...(values.price.trim() === '' ? [] : [attempt(() => parsePrice(values.price, 'price'))]),
    ]);
    const problems = [
      ...need('medicine', 'Choose the medicine that came.'),
      ...need('number', 'Write the batch number as it is printed.'),
      ...need('expiry', 'Write the expiry as it is printed, as in 03/2027.'),
      ...need('packs', 'Write how many and how large, as in 2 × 500 mL.'),
      ...tried,
      ...(values.insert === 'new'
        ? [{ field: 'insert', message: 'Write down the new insert first; this delivery is kept meanwhile.' }]
        : []),
    ];
    if (problems.length > 0) return form.show(problems);
    const ordered = orderLineIn(values.ordered);
    void write.send({
      medicine: values.medicine,
      number: values.number,
      expiry: readExpiry(values.expiry).printed,
      packs: readPacks(values.packs, more).map((pack) => ({ count: pack.count, size: pack.size })),
      ...(values.happened === '' ? {} : { happened: values.happened }),
      ...(values.supplier.trim() === '' ? {} : { supplier: values.supplier }),
      ...(values.supplierAddress.trim() === '' ? {} : { supplierAddress: values.supplierAddress }),
      ...(values.price.trim() === '' ? {} : { price: values.price }),
      ...(values.proof.trim() === '' ? {} : { proof: values.proof }),
      ...(values.prescription === '' ? {} : { prescription: values.prescription }),
      ...(ordered === undefined ? {} : { order: ordered }),
      ...(values.store.trim() === '' ? {} : { store: values.store }),
      ...(values.code === '' ? {} : { code: values.code, serials: [...values.serials] }),
    });
  };

  if (received !== undefined) {
    return <Taken received={received} onMore={() => setReceived(undefined)} />;
  }
  return (
    <Screen title="Take in a delivery" lead="One batch at a time, with the box in your hand.">
      <Form
        form={form}
        write={write}
        deed="Take it into the cabinet"
        onSend={send}
        onLeave={() => go({ to: 'cabinet' })}
      >
        <Section title="What came">
          <ScanField
            hint="Fills in product, batch and expiry. Scan each pack of the batch once."
            onRead={(pack) => {
              const added = addScan(values, pack);
              if ('wrong' in added) return added.wrong;
              setWarned(pack.warnings);
              form.set(added.change);
              return undefined;
            }}
          />
          <Warnings warnings={warned} />
          {values.code !== '' && values.medicine === '' ? (
            <Notice word="New">
              <p>No pack of this product came before. Choose the medicine; its code is known from then on.</p>
            </Notice>
          ) : null}
          <MedicinePicker
            picked={values.medicine === '' ? undefined : values.medicine}
            error={form.text('medicine').error}
            onPick={(medicine) =>
              form.set({ medicine: medicine?.medicine ?? '', prescription: '', ordered: '' })
            }
          />
          <NextField name={query.medicine === undefined ? 'medicine' : 'number'} />
          {picked === undefined ? null : <Insert form={form} picked={picked} />}
          <Field
            {...form.text('number')}
            label="Batch number"
            hint="As it is printed on the pack."
            size={20}
          />
          <Field
            {...form.text('expiry')}
            label="Expiry"
            hint="As it is printed: 03/2027, 2027-03 or 14 Mar 2027."
            size={14}
            {...read(backExpiry(values.expiry))}
          />
          <Field
            {...form.text('packs')}
            label="Packs"
            hint="How many, and how much is in each: 2 × 500 mL, 1 × 1 L. Each becomes a container of its own."
            size={28}
            {...read(backPacks(values.packs, more))}
          />
        </Section>
        <Section title="From whom">
          <Suppliers form={form} />
          {picked === undefined ? null : (
            <OrderLinePick {...form.text('ordered')} medicine={picked.medicine} />
          )}
          <Field {...form.text('supplierAddress')} label="Address" lines={3} optional />
          <Field
            {...form.text('price')}
            label="Price"
            hint="For all of it, with the currency: 42.50 GBP."
            size={14}
            optional
            {...read(backPrice(values.price))}
          />
          <Field
            {...form.text('proof')}
            label="Proof"
            hint="Invoice or delivery note, its number."
            optional
          />
          {picked === undefined ? null : <Prescription form={form} picked={picked} />}
        </Section>
        <Section title="Arrival">
          <Field {...form.text('store')} label="Kept in" hint="Cupboard, fridge." size={20} optional />
          <DayField
            {...form.text('happened')}
            label="Came in on"
            hint="Left empty, it came today."
            optional
          />
        </Section>
      </Form>
    </Screen>
  );
}

type DeliveryForm = ReturnType<
  typeof useForm<{
    medicine: string;
    insert: string;
    number: string;
    expiry: string;
    packs: string;
    supplier: string;
    supplierAddress: string;
    price: string;
    proof: string;
    prescription: string;
    ordered: string;
    store: string;
    happened: string;
    code: string;
    serials: readonly string[];
  }>
>;

function read(text: string | undefined): { readBack?: string } {
  return text === undefined ? {} : { readBack: text };
}

function backPrice(text: string): string | undefined {
  const outcome = attempt(() => printPrice(parsePrice(text, 'price')));
  return outcome.ok ? outcome.value : undefined;
}

/** Whether the insert in the box says what the last one said. Another one is written down first. */
function Insert({ form, picked }: { form: DeliveryForm; picked: MedicineRow }) {
  return (
    <>
      <Choice
        {...form.text('insert')}
        label="The insert in the box"
        options={[
          { value: 'as-before', label: 'Says the same as the one on record' },
          { value: 'new', label: 'Says something else' },
        ]}
      />
      {form.values.insert === 'new' ? (
        <Notice
          kind="mind"
          word="First"
          deed={
            <DeedLink
              to="cabinet/label/:medicine/new-insert"
              params={{ medicine: picked.medicine }}
              query={{ after: 'delivery' }}
            >
              Write down the new insert
            </DeedLink>
          }
        >
          <p>
            This batch is held to what its own insert says, so that comes first. What you typed here waits;
            afterwards choose “Says the same as the one on record”.
          </p>
        </Notice>
      ) : null}
    </>
  );
}

/** Who supplied something before is offered while typing. */
function Suppliers({ form }: { form: DeliveryForm }) {
  const cabinet = useCall('cabinet', { show: 'all' });
  const farm = useCall('farm', {});
  const known = [
    ...(cabinet.state === 'ready' ? cabinet.value.containers.map((one) => one.supplier) : []),
    ...(farm.state === 'ready'
      ? farm.value.people.filter((one) => one.roles.includes('supplier')).map((one) => one.name)
      : []),
  ].filter((name) => name !== undefined);
  return <Field {...form.text('supplier')} label="Supplier" list={[...new Set(known)]} optional />;
}

/** The prescriptions for this medicine, those still open first; what the label says of supply stands above them. */
function Prescription({ form, picked }: { form: DeliveryForm; picked: MedicineRow }) {
  const papers = useCall('prescriptions', { medicine: picked.medicine });
  if (papers.state !== 'ready') return null;
  const { prescriptions, today } = papers.value;
  const isOpen = ({ state }: (typeof prescriptions)[number]) => state === 'open';
  const fitting = [...prescriptions.filter(isOpen), ...prescriptions.filter((one) => !isOpen(one))];
  const isNeeded = picked.prescription === 'vet-prescription' || picked.prescription === 'vet-only';
  if (!isNeeded && fitting.length === 0) return null;
  return (
    <>
      <Select
        {...form.text('prescription')}
        label="Prescription"
        hint={PRESCRIPTION_WORDS[picked.prescription]}
        options={[
          { value: '', label: fitting.length === 0 ? 'None on record' : 'None named' },
          ...fitting.map((one) => ({ value: one.prescription, label: sayOption(one, today) })),
        ]}
      />
      {isNeeded && !fitting.some(isOpen) ? (
        <Notice
          word="Mind"
          kind="mind"
          deed={
            <DeedLink to="cabinet/prescription" query={{ medicine: picked.medicine }}>
              Write it down
            </DeedLink>
          }
        >
          <p>
            {fitting.length === 0
              ? 'No prescription for it is on record.'
              : 'Every prescription for it on record has ended or is used up.'}{' '}
            What came is taken in all the same; write the paper down too.
          </p>
        </Notice>
      ) : null}
    </>
  );
}

function Taken({ received, onMore }: { received: Received; onMore: () => void }) {
  const { name, batch, labels, first, warnings } = received;
  const many = labels.length > 1;
  return (
    <Screen
      title="Taken in"
      deeds={
        <>
          <DeedLink to="cabinet" weight="main">
            Go to the cabinet
          </DeedLink>
          <DeedLink to="cabinet/container/:container" params={{ container: first }}>
            {many ? 'Look at the first of them' : 'Look at it'}
          </DeedLink>
          <DeedLink to="cabinet/batch/:batch" params={{ batch }}>
            Keep its invoice or a photo
          </DeedLink>
          {warnings.some(({ code }) => code === 'no-prescription') ? (
            <DeedLink to="cabinet/prescriptions">Name its prescription</DeedLink>
          ) : null}
          <Deed onDo={onMore}>Take in another batch</Deed>
        </>
      }
    >
      <Notice kind="done">
        <p>
          {name}: write on {many ? 'the containers' : 'the container'}{' '}
          <strong>{labels.length > 12 ? `${labels[0]} to ${labels.at(-1)}` : listed(labels)}</strong>.
        </p>
      </Notice>
      <Warnings warnings={warnings} />
    </Screen>
  );
}
