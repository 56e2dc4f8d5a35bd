import '../book/book.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { downloadText } from '../../parts/download.ts';
import { Field } from '../../parts/field.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { MadePaper } from '../../parts/made-paper.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { lastYear } from '../book/last-year.ts';
import { PeriodFields, periodProblems } from '../book/narrow.tsx';
import { localInWords } from '../book/when.ts';

type Cost = Reply<'cost'>;
type Money = Cost['total'];

/** What medicines cost: by medicine, group and head, from the price of the batch. */
export default function CostScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="What medicines cost"
      lead="By the price of each batch and what was drawn from it. What was lost stands apart; what has no price is named and in no sum."
      deeds={
        <>
          <CommandDeed id="use" />
          <DeedLink to="cabinet">Cabinet</DeedLink>
        </>
      }
    >
      <Await call={farm} what="Reading the farm">
        {(value) => <Period today={value.clock.today} />}
      </Await>
    </Screen>
  );
}

function Period({ today }: { today: string }) {
  const [range, setRange] = useState(() => lastYear(today));
  const isRead = Object.keys(periodProblems(range)).length === 0;
  const call = useCall('cost', isRead ? { ...range, most: 0 } : null);
  return (
    <>
      <div className="book-filters">
        <PeriodFields value={range} onChange={(part) => setRange((before) => ({ ...before, ...part }))} />
      </div>
      <Await call={call} what="Adding up">
        {(cost) => <Shown key={`${cost.from} ${cost.to}`} cost={cost} />}
      </Await>
    </>
  );
}

const said = (money: Money) => money.map(({ text }) => text).join(' + ');
const first = (money: Money) => money[0]?.minorUnits ?? -1;

/** A sum, or what it is at least where some of it has no price. */
function saidPart(money: Money, isPart: boolean): string {
  const text = said(money);
  if (!isPart) return text;
  return text === '' ? 'not known' : `at least ${text}`;
}

type Row = { cost: Money; isPart: boolean };
const costColumn = <R extends Row>(): Column<R> => ({
  key: 'cost',
  head: 'Cost',
  isNumber: true,
  text: (row) => saidPart(row.cost, row.isPart),
  order: (row) => first(row.cost),
});
const eachColumn = <R extends Row>(head: string, each: (row: R) => Money): Column<R> => ({
  key: 'each',
  head,
  isNumber: true,
  text: (row) => (row.isPart ? 'not known' : said(each(row))),
  order: (row) => first(each(row)),
});

const medicineColumns: readonly Column<Cost['medicines'][number]>[] = [
  { key: 'name', head: 'Medicine', isName: true, share: 2, text: (row) => row.name },
  {
    key: 'doses',
    head: 'Doses',
    isNumber: true,
    text: (row) => String(row.doses),
    order: (row) => row.doses,
  },
  costColumn(),
  eachColumn('A dose', (row) => row.perDose),
  {
    key: 'lost',
    head: 'Lost',
    isNumber: true,
    text: (row) => said(row.lost),
    order: (row) => first(row.lost),
  },
];
const groupColumns: readonly Column<Cost['groups'][number]>[] = [
  { key: 'name', head: 'Group', isName: true, share: 2, text: (row) => row.name },
  { key: 'heads', head: 'Head', isNumber: true, text: (row) => String(row.heads), order: (row) => row.heads },
  costColumn(),
  eachColumn('A head', (row) => row.perHead),
];
const subjectColumns: readonly Column<Cost['subjects'][number]>[] = [
  { key: 'shown', head: 'Animal or lot', isName: true, share: 2, text: (row) => row.shown },
  { key: 'heads', head: 'Head', isNumber: true, text: (row) => String(row.heads), order: (row) => row.heads },
  costColumn(),
  eachColumn('A head', (row) => row.perHead),
];

const UNKNOWN: Readonly<Record<Cost['unknown'][number]['kind'], string>> = {
  'no-price': 'No price',
  'not-written': 'Not written',
  'on-a-bill': 'On a bill',
};

function Shown({ cost }: { cost: Cost }) {
  if (cost.medicines.length + cost.unknown.length === 0) {
    return (
      <Empty deed={<CommandDeed id="receive-batch" />}>
        Nothing was drawn from a bottle in this time. Prices are entered with a delivery.
      </Empty>
    );
  }
  const days = `${localInWords(cost.from)} to ${localInWords(cost.to)}`;
  return (
    <>
      <Section title="In all">
        <Sentences label="In all">
          <Sentence margin="Given">
            <strong>{said(cost.total) || 'No price is known'}</strong>
          </Sentence>
          <Sentence margin="Lost" small="Spilt, left in guns and tubes, disposed of, or missing at a count.">
            {said(cost.lost) || 'Nothing, as far as prices are known.'}
          </Sentence>
          {cost.unknown.map(({ kind, text, batch }) => (
            <Sentence
              key={text}
              mind={kind === 'no-price'}
              margin={UNKNOWN[kind]}
              deed={
                batch === undefined ? undefined : (
                  <DeedLink to="book/cost/price" query={{ batch }}>
                    Enter its price
                  </DeedLink>
                )
              }
            >
              {text}
            </Sentence>
          ))}
        </Sentences>
      </Section>
      <Section title="By medicine">
        <List
          rows={cost.medicines}
          columns={medicineColumns}
          rowKey={(row) => row.medicine}
          label="Cost by medicine"
          isAside
          onOpen={({ medicine }) => go({ to: 'cabinet/medicine/:medicine', params: { medicine } })}
          empty={<Empty>Nothing.</Empty>}
        />
      </Section>
      <Section title="By group">
        <List
          rows={cost.groups}
          columns={groupColumns}
          rowKey={(row) => row.group ?? ''}
          label="Cost by group"
          isAside
          empty={<Empty>Nothing was given to anybody.</Empty>}
        />
        <p>By the group at the time of the treatment. Who was in two groups counts in both.</p>
      </Section>
      <Section title="By head">
        <ByHead from={cost.from} to={cost.to} inAll={cost.subjectsInAll} />
      </Section>
      <Section title="On paper and as a table">
        <p>
          <SaveTable from={cost.from} to={cost.to} />
        </p>
        <MadePaper
          deed="Print it"
          title={`What medicines cost, ${days}`}
          saveAs={`cost-${cost.from}-${cost.to}.pdf`}
          onMake={() => desk.call('cost-paper', { from: cost.from, to: cost.to })}
        />
      </Section>
    </>
  );
}

/** So many are shown at first, and so many more at a time. */
const atOnce = 25;

/** The dearest animals and lots; of a large flock those that are looked for, or more of them. */
function ByHead({ from, to, inAll }: { from: string; to: string; inAll: number }) {
  const [typed, setTyped] = useState('');
  const [search, setSearch] = useState('');
  const [most, setMost] = useState(atOnce);
  const call = useCall('cost', { from, to, search, most });
  const look = (text: string) => {
    setTyped(text);
    setSearch(text);
    setMost(atOnce);
  };
  return (
    <>
      {inAll <= atOnce ? null : (
        <form
          className="book-filters book-print"
          onSubmit={(event) => {
            event.preventDefault();
            look(typed);
          }}
        >
          <Field
            name="search"
            label={`Look through all ${inAll.toLocaleString('en-GB')}`}
            hint="Part of a number or a name."
            size={16}
            value={typed}
            onChange={setTyped}
          />
          <p className="deeds book-filter-deed">
            <Deed submits>Look for it</Deed>
            {search === '' ? null : <Deed onDo={() => look('')}>Show the dearest of all</Deed>}
          </p>
        </form>
      )}
      <Await call={call} what="Adding up">
        {({ subjects, subjectsFound }) => (
          <>
            <List
              rows={subjects}
              columns={subjectColumns}
              rowKey={(row) => row.subject}
              label="Cost by animal or lot"
              first={{ key: 'cost', isDown: true }}
              heads={(row) => row.heads}
              onOpen={({ subject }) => go({ to: 'flock/subject/:subject', params: { subject } })}
              empty={
                <Empty>
                  {search === ''
                    ? 'Nothing was given to anybody.'
                    : 'No animal and no lot that was given anything in this time is called so.'}
                </Empty>
              }
            />
            {subjects.length === subjectsFound ? null : (
              <p className="deeds">
                The {subjects.length.toLocaleString('en-GB')} dearest of{' '}
                {subjectsFound.toLocaleString('en-GB')} are shown.{' '}
                <Deed onDo={() => setMost(most + 4 * atOnce)}>Show more</Deed>
              </p>
            )}
          </>
        )}
      </Await>
    </>
  );
}

/** Every line of it as a file for a spreadsheet, every animal included. */
function SaveTable({ from, to }: { from: string; to: string }) {
  const [fault, setFault] = useState<Fault | undefined>(undefined);
  const save = async () => {
    setFault(undefined);
    const outcome = await desk.call('cost-table', { from, to });
    // Saving puts the mark of UTF-8 before it; it stands there once.
    if (outcome.ok) downloadText(outcome.value.name, outcome.value.text.replace(/^\uFEFF/, ''), 'text/csv');
    else setFault(outcome.error);
  };
  return (
    <>
      <Deed onDo={() => void save()}>Save as a table</Deed>
      {fault === undefined ? null : <FaultNotice fault={fault} onAgain={() => void save()} />}
    </>
  );
}
