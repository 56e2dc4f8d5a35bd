import './book.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go, useLocation } from '../../router.tsx';
import { lastYear } from './last-year.ts';
import { everything, filterOf, Narrow, type Narrowed, periodProblems } from './narrow.tsx';
import { localInWords } from './when.ts';

type Farm = Reply<'farm'>;
type Balance = Reply<'balance'>['medicines'][number];
type Sums = Omit<Balance['batches'][number], 'batch'>;
/** A movement with its place in the order in which things happened. */
type Move = Balance['rows'][number] & { readonly place: number };

/** What came in of each medicine, where it went, and what the book had after each movement. */
export default function BalanceScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="What came in and where it went"
      lead="Everything that moved a medicine, with what the book had of it afterwards. A count says what was found, and how far the book was off."
      deeds={
        <>
          <CommandDeed id="stocktake" />
          <DeedLink to="cabinet">Cabinet</DeedLink>
        </>
      }
    >
      <Await call={farm} what="Reading the farm">
        {(value) =>
          value.holdings[0] === undefined ? (
            <Empty deed={<DeedLink to="farm/holding">Add a holding</DeedLink>}>
              No holding is in the book.
            </Empty>
          ) : (
            <Period farm={value} holding={value.holdings[0].holding} />
          )
        }
      </Await>
    </Screen>
  );
}

function Period({ farm, holding }: { farm: Farm; holding: string }) {
  const { query } = useLocation();
  const [range, setRange] = useState<Narrowed>(() => ({
    ...everything,
    ...lastYear(farm.clock.today),
    medicine: query.medicine ?? '',
    batch: query.batch ?? '',
  }));
  const change = (part: Partial<Narrowed>) => setRange((before) => ({ ...before, ...part }));
  const isRead = Object.keys(periodProblems(range)).length === 0;
  const { from, to } = range;
  const call = useCall('balance', isRead ? { holding, from, to, ...filterOf(range) } : null);
  return (
    <>
      <div className="book-filters">
        <Narrow value={range} onChange={change} people={farm.people} isStock />
      </div>
      <Await call={call} what="Adding up">
        {({ medicines }) =>
          medicines.length === 0 ? (
            <Empty deed={<CommandDeed id="receive-batch" />}>
              {Object.keys(filterOf(range)).length === 0
                ? 'Nothing had come in by the end of this time. Choose a later day, or take in a delivery.'
                : 'Nothing that fits had come in by the end of this time. Choose another medicine, batch or a later day, or take in a delivery.'}
            </Empty>
          ) : range.medicine === '' ? (
            <Section title="Every medicine">
              <List
                rows={medicines}
                columns={medicineColumns}
                rowKey={({ medicine, kind }) => `${medicine} ${kind}`}
                label="Every medicine"
                fileName={`balances-${from}-${to}`}
                onOpen={({ medicine }) => change({ medicine })}
                empty={null}
              />
            </Section>
          ) : (
            <>
              <p className="deeds">
                <Deed onDo={() => change({ medicine: '' })}>Show every medicine</Deed>
                <DeedLink to="book/paper" query={{ ...filterOf(range), from, to, form: 'medicines' }}>
                  Print this
                </DeedLink>
              </p>
              {medicines.map((one) => (
                <OneMedicine key={one.kind} one={one} from={from} to={to} />
              ))}
            </>
          )
        }
      </Await>
    </>
  );
}

const sumColumn = (key: keyof Sums, head: string): Column<Sums> => ({
  key,
  head,
  isNumber: true,
  text: (row) => row[key],
});

const sumColumns: readonly Column<Sums>[] = [
  sumColumn('opening', 'At the beginning'),
  sumColumn('received', 'Came in'),
  sumColumn('used', 'Used'),
  sumColumn('lost', 'Lost'),
  sumColumn('disposed', 'Disposed of'),
  sumColumn('corrected', 'By counts'),
  sumColumn('closing', 'At the end'),
];

const medicineColumns: readonly Column<Balance>[] = [
  { key: 'name', head: 'Medicine', isName: true, share: 2, text: ({ name }) => name },
  ...sumColumns,
];

const batchWords = (batch: string) => (batch === '' ? 'Batch not known' : batch);

const batchColumns: readonly Column<Balance['batches'][number]>[] = [
  { key: 'batch', head: 'Batch', isName: true, share: 2, text: ({ batch }) => batchWords(batch) },
  ...sumColumns,
];

const moveColumns: readonly Column<Move>[] = [
  {
    key: 'when',
    head: 'When',
    text: ({ local }) => local.replace('T', ' '),
    order: ({ place }) => place,
    show: ({ local }) => localInWords(local),
  },
  { key: 'what', head: 'What', isName: true, share: 1.5, text: ({ what }) => what },
  {
    key: 'who',
    head: 'Whom, or which container',
    share: 1.8,
    text: (row) => [row.treated, containerOf(row)].filter((part) => part !== '').join('; '),
    show: (row) =>
      row.treated === '' ? (
        <>
          {row.label}
          {row.batch === '' ? null : <small>batch {row.batch}</small>}
        </>
      ) : (
        <>
          {row.treated}
          <small>{containerOf(row)}</small>
        </>
      ),
  },
  { key: 'in', head: 'In', isNumber: true, text: (row) => row.in },
  { key: 'out', head: 'Out', isNumber: true, text: ({ out }) => out },
  {
    key: 'balance',
    head: 'In all then',
    isNumber: true,
    text: ({ balance }) => balance,
    show: ({ balance }) => <strong>{balance}</strong>,
  },
];

function containerOf({ label, batch }: Pick<Move, 'label' | 'batch'>): string {
  return batch === '' ? label : `${label}, batch ${batch}`;
}

/** One medicine: its batches and all of them together, then every movement, the newest first. */
function OneMedicine({ one, from, to }: { one: Balance; from: string; to: string }) {
  const all = { ...one, batch: 'All' };
  const rows = one.rows.map((row, place): Move => ({ ...row, place }));
  return (
    <>
      <Section title={one.name}>
        <List
          rows={one.batches.length > 1 ? [...one.batches, all] : one.batches}
          columns={batchColumns}
          rowKey={({ batch }) => batch}
          label={`Batches of ${one.name}`}
          fileName={`batches-of-${one.name}-${from}-${to}`}
          isAside
          empty={null}
        />
        <p className="balance-note">
          Made up on the farm counts as come in, what went into it as used, and what was returned as disposed
          of. By counts is what was found above the book, or below it.
        </p>
      </Section>
      <Section title="Every movement">
        {one.leftOut === 0 ? null : (
          <Notice kind="note">
            <p>
              {count(one.leftOut, 'earlier movement is', 'earlier movements are')} in the sums and not in the
              list. Choose a shorter time to see them, or print the page.
            </p>
          </Notice>
        )}
        <div className="record">
          <List
            rows={rows}
            columns={moveColumns}
            rowKey={({ place }) => String(place)}
            label={`Movements of ${one.name}`}
            first={{ key: 'when', isDown: true }}
            fileName={`balance-${one.name}-${from}-${to}`}
            onOpen={({ administration, container }) =>
              administration === undefined
                ? go({ to: 'cabinet/container/:container', params: { container } })
                : go({ to: 'book/treatment/:administration', params: { administration } })
            }
            empty={<p>Nothing moved it in this time.</p>}
          />
        </div>
      </Section>
    </>
  );
}
