import type { Reply } from '../../../src-shared/calls/all.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { useCall } from '../../hooks/use-call.ts';
import { problemsOf, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';
import { backPacks, readPacks } from '../cabinet/words.ts';
import { NextField } from '../label/next-field.tsx';
import { firstSupplier, type Orderable, orderableOf, packsField, sayPacks } from './write-values.ts';

/** Writes an order list to one supplier: of each medicine how many packs, beginning with what the outlook proposes. */
export default function WriteOrderScreen() {
  const { query } = useLocation();
  const medicines = useCall('medicines', {});
  const outlook = useCall('order-outlook', {});
  return (
    <Await call={medicines} what="Reading the medicines">
      {({ medicines: all }) => (
        <Await call={outlook} what="Looking ahead">
          {({ medicines: ahead }) => {
            const supplier = query.supplier ?? firstSupplier(ahead);
            const rows = orderableOf(all, ahead, { supplier, medicine: query.medicine });
            if (rows.length === 0) return <Nothing hasMedicines={all.length > 0} />;
            return <OrderForm key={supplier} rows={rows} supplier={supplier} />;
          }}
        </Await>
      )}
    </Await>
  );
}

function Nothing({ hasMedicines }: { hasMedicines: boolean }) {
  return (
    <Screen title="Write an order list">
      <Empty deed={<CommandDeed id={hasMedicines ? 'go-order' : 'write-label'} />}>
        {hasMedicines
          ? 'All medicines on record are had from a vet, or nobody wrote down who may supply them. They are talked about with the vet.'
          : 'No medicine is on record yet.'}
      </Empty>
    </Screen>
  );
}

function OrderForm({ rows, supplier }: { rows: readonly Orderable[]; supplier: string }) {
  const form = useForm<Record<string, string>>(`order/write/${supplier}`, {
    supplier,
    ...Object.fromEntries(rows.map((row) => [packsField(row), sayPacks(row)])),
  });
  const write = useWrite('write-order', ({ order }: Reply<'write-order'>) => {
    void form.drop();
    go({ to: 'order/list/:order', params: { order } });
  });
  const typed = rows.filter((row) => (form.values[packsField(row)] ?? '').trim() !== '');
  const send = () => {
    const read = typed.map((row) => ({
      row,
      packs: attempt(() => readPacks(form.values[packsField(row)] ?? '', {}, packsField(row))),
    }));
    const problems = problemsOf(read.map(({ packs }) => packs));
    if (problems.length > 0) return form.show(problems);
    void write.send({
      supplier: form.values.supplier ?? '',
      lines: read.flatMap(({ row, packs }) =>
        packs.ok ? packs.value.map(({ count, size }) => ({ medicine: row.medicine, size, count })) : [],
      ),
    });
  };
  const first = rows.filter((row) => row.isProposed);
  const others = rows.filter((row) => !row.isProposed);
  return (
    <Screen
      title="Write an order list"
      lead="A list to read out on the telephone or to send yourself. It is kept, so that deliveries can be held against it."
    >
      <Form form={form} write={write} deed="Write the list" onSend={send} onLeave={() => go({ to: 'order' })}>
        <Section title="To whom">
          <Field {...form.text('supplier')} label="Supplier" list={suppliersOf(rows)} />
          <NextField name="supplier" />
        </Section>
        {first.length === 0 ? null : (
          <Section title="Runs out">
            {first.map((row) => (
              <Packs key={row.medicine} row={row} form={form} />
            ))}
          </Section>
        )}
        {others.length === 0 ? null : (
          <Section title={first.length === 0 ? 'Medicines' : 'Anything else'}>
            {others.map((row) => (
              <Packs key={row.medicine} row={row} form={form} />
            ))}
          </Section>
        )}
      </Form>
    </Screen>
  );
}

function suppliersOf(rows: readonly Orderable[]): string[] {
  return [...new Set(rows.map(({ supplier }) => supplier).filter((name) => name !== ''))];
}

function Packs({ row, form }: { row: Orderable; form: ReturnType<typeof useForm<Record<string, string>>> }) {
  const back = backPacks(form.values[packsField(row)] ?? '', {});
  return (
    <Field
      {...form.text(packsField(row))}
      label={`Packs of ${row.name}`}
      hint={row.hint}
      size={28}
      optional
      {...(back === undefined ? {} : { readBack: back })}
    />
  );
}
