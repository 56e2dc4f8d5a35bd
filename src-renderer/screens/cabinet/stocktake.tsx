import './cabinet.css';
import './stocktake.css';
import { type KeyboardEvent, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { DIFFERENCE_WORDS, DIFFERENCES } from '../../../src-shared/stock/differences.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type FormState, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { FaultNotice, Notice, Warnings } from '../../parts/notice.tsx';
import { Paper } from '../../parts/paper.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go } from '../../router.tsx';
import { NextField } from '../label/next-field.tsx';
import { type ReadPack, ScanField } from './scan-field.tsx';
import { packOnShelf } from './scanned.ts';
import {
  amountField,
  differs,
  emptyStocktake,
  type SheetRow,
  type StocktakeValues,
  sayApart,
  stocktakeProblems,
  whyField,
  withUnit,
} from './stocktake-values.ts';

type Sheet = Reply<'stocktake-sheet'>;
type Store = Sheet['stores'][number];

const nameOf = (store: string) => (store === '' ? 'No store is written' : store);

/** Counts a shelf: one box a container, Enter for the next; a difference from the book is given its cause. */
export default function StocktakeScreen() {
  const call = useCall('stocktake-sheet', {});
  const [picked, setPicked] = useState<string | undefined>(undefined);
  const [isPrinting, setPrinting] = useState(false);
  const [told, setTold] = useState<Reply<'write-stocktake'> | undefined>(undefined);
  return (
    <Screen
      title="Stocktake"
      lead="What is in each container now. Enter goes to the next; what is left empty is not counted."
      deeds={
        <>
          <Deed onDo={() => setPrinting(!isPrinting)}>Print the sheet for the shelf</Deed>
          <DeedLink to="cabinet/drift">How far counts and book drift apart</DeedLink>
        </>
      }
    >
      {told === undefined ? null : (
        <>
          <Notice kind="done">
            <p>
              {count(told.counted, 'container', 'containers')} counted,{' '}
              {told.differed === 0
                ? 'all as the book had them'
                : `${told.differed} otherwise than the book had`}
              .
            </p>
          </Notice>
          <Warnings warnings={told.warnings} />
        </>
      )}
      <Await call={call} what="Reading the cabinet">
        {({ stores }) => {
          // After a count the shelves are shown again, also where there is one: nothing waits to be typed by mistake.
          const only = stores.length === 1 && told === undefined ? stores[0] : undefined;
          const store = stores.find((one) => one.store === picked) ?? only;
          return (
            <>
              {isPrinting ? <Sheet store={store?.store} /> : null}
              {stores.length === 0 ? (
                <Empty deed={<CommandDeed id="receive-batch" />}>
                  Nothing is on the shelf to be counted.
                </Empty>
              ) : store === undefined ? (
                <Stores
                  stores={stores}
                  onPick={(name) => {
                    setTold(undefined);
                    setPicked(name);
                  }}
                />
              ) : (
                <Shelf
                  key={store.store}
                  store={store}
                  onLeave={() => (stores.length === 1 ? go({ to: 'cabinet' }) : setPicked(undefined))}
                  onDone={(reply) => {
                    setTold(reply);
                    setPicked(undefined);
                  }}
                />
              )}
            </>
          );
        }}
      </Await>
    </Screen>
  );
}

function Stores({ stores, onPick }: { stores: readonly Store[]; onPick: (store: string) => void }) {
  return (
    <Section title="Which shelf">
      <Sentences label="Which shelf">
        {stores.map(({ store, containers }) => (
          <Sentence
            key={store}
            margin={count(containers.length, 'container', 'containers')}
            deed={
              <Deed onDo={() => onPick(store)} label={`Count it: ${nameOf(store)}`}>
                Count it
              </Deed>
            }
          >
            <strong>{nameOf(store)}</strong>
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}

/** From box to box by Enter: the cause comes after its amount where there is one, and the last Enter writes it all. */
function nextBox(event: KeyboardEvent<HTMLElement>): void {
  const from = event.target;
  if (event.key !== 'Enter' || event.ctrlKey || event.metaKey) return;
  if (!(from instanceof HTMLInputElement || from instanceof HTMLSelectElement)) return;
  const boxes = [...event.currentTarget.querySelectorAll<HTMLElement>('input, select')];
  const next = boxes[boxes.indexOf(from) + 1];
  if (next === undefined) return;
  event.preventDefault();
  next.focus();
}

function Shelf({
  store,
  onDone,
  onLeave,
}: {
  store: Store;
  onDone: (reply: Reply<'write-stocktake'>) => void;
  onLeave: () => void;
}) {
  const rows = store.containers;
  const form = useForm<StocktakeValues>(`cabinet/stocktake/${store.store}`, emptyStocktake(rows));
  const write = useWrite('write-stocktake', (reply) => {
    void form.drop().then(() => onDone(reply));
  });
  const { values } = form;
  const done = rows.filter((row) => values[amountField(row)]?.trim() !== '').length;
  const send = () => {
    const problems = stocktakeProblems(rows, values);
    if (problems.length > 0) return form.show(problems);
    void write.send({
      counts: rows.flatMap((row) => {
        const amount = values[amountField(row)]?.trim() ?? '';
        const why = DIFFERENCES.find((one) => one === values[whyField(row)]);
        if (amount === '') return [];
        return [
          {
            container: row.container,
            amount: withUnit(amount, row.unit),
            ...(why === undefined ? {} : { difference: why }),
          },
        ];
      }),
    });
  };
  const [first] = rows;
  const [scanned, setScanned] = useState<{ name: string; n: number } | undefined>(undefined);
  /** Puts the cursor into the box of a scanned pack: of several of its batch the first that is not counted yet. */
  const toBox = (pack: ReadPack): string | undefined => {
    const boxes = rows.filter((row) => pack.here.some(({ container }) => container === row.container));
    const row = boxes.find((one) => (values[amountField(one)] ?? '').trim() === '') ?? boxes[0];
    if (row === undefined) {
      const found = packOnShelf(pack);
      if ('wrong' in found && pack.here.length === 0) return found.wrong;
      const labels = pack.here.map(({ label }) => label).join(', ');
      return `By the book ${labels} stands in another store. Put it where it belongs, or write that it stands here, on its own page.`;
    }
    setScanned({ name: amountField(row), n: (scanned?.n ?? 0) + 1 });
    return undefined;
  };
  return (
    <Section title={nameOf(store.store)}>
      <Form
        form={form}
        write={write}
        deed={`Write the count of ${done} of ${rows.length}`}
        onSend={send}
        onLeave={onLeave}
      >
        <div className="stocktake-line">
          <ScanField hint="Enter goes to its box." onRead={toBox} />
        </div>
        {/* biome-ignore lint/a11y/noStaticElementInteractions: only listens to the keys of the boxes inside */}
        <div className="stocktake" onKeyDown={nextBox}>
          {rows.map((row) => (
            <Line key={row.container} row={row} form={form} />
          ))}
        </div>
        <NextField
          key={scanned?.n ?? 0}
          name={scanned?.name ?? (first === undefined ? undefined : amountField(first))}
        />
      </Form>
    </Section>
  );
}

const causes = [
  { value: '', label: 'Choose why' },
  ...DIFFERENCES.map((value) => ({ value, label: DIFFERENCE_WORDS[value] })),
];

function Line({ row, form }: { row: SheetRow; form: FormState<StocktakeValues> }) {
  const typed = form.values[amountField(row)] ?? '';
  const back = sayApart(typed, row);
  return (
    <div className="stocktake-line">
      <Field
        {...form.text(amountField(row))}
        label={`${row.label}, in ${row.unit}`}
        hint={`${row.name}, of ${row.received.text}, use by ${row.useBy}. The book has ${row.left.text}.`}
        size={8}
        {...(back === undefined ? {} : { readBack: back })}
      />
      {differs(typed, row) ? (
        <Select {...form.text(whyField(row))} label={`Why ${row.label} differs`} options={causes} />
      ) : null}
    </div>
  );
}

/** The paper to take to the shelf: with what the book has, or without, so that nobody counts what they expect. */
function Sheet({ store }: { store: string | undefined }) {
  const [showBook, setShowBook] = useState(true);
  const call = useCall('stocktake-paper', { showBook, ...(store === undefined ? {} : { store }) });
  if (call.state === 'failed') return <FaultNotice fault={call.fault} />;
  return (
    <Section
      title="The sheet"
      deeds={
        <Deed onDo={() => setShowBook(!showBook)}>
          {showBook ? 'Leave out what the book has' : 'Show what the book has'}
        </Deed>
      }
    >
      <Await call={call} what="Printing the sheet">
        {({ paper }) => <Paper hash={paper} title="Stocktake sheet" saveAs="stocktake.pdf" />}
      </Await>
    </Section>
  );
}
