import './book.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Also } from '../../parts/also.tsx';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed } from '../../parts/deed.tsx';
import { Tick } from '../../parts/field.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';
import { lastYear } from './last-year.ts';
import { everything, filterOf, Narrow, periodProblems } from './narrow.tsx';
import {
  correctionWords,
  doseWords,
  endWords,
  isOver,
  type Line,
  lineQuery,
  milkWords,
  noWithdrawal,
  placed,
  type Range,
  recordColumns,
  recordFile,
  untilOrder,
  whoWords,
} from './record.ts';
import { localInWords } from './when.ts';

type Farm = Reply<'farm'>;

/** So many lines are read at once; a longer period is read in parts. */
const most = 5000;

/** The period last looked at, for as long as the window is open: going back from a line finds it again. */
let lastRange: Range | undefined;

/** The treatment record: what went into whom, with the date it is held until set large. */
export default function BookScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="Book"
      lead="Every treatment with its withdrawal. Nothing is rubbed out: what was wrong stays, struck through, beside what took its place."
      deeds={
        <>
          <CommandDeed id="book-paper" weight="main" />
          <CommandDeed id="book-gaps" />
          <CommandDeed id="make-pack" />
        </>
      }
    >
      <Also label="Also in the book">
        <CommandDeed id="vet-page" />
        <CommandDeed id="balance" />
        <CommandDeed id="use" />
        <CommandDeed id="cost" />
        <CommandDeed id="came-to-harm" />
        <CommandDeed id="entries" />
        <CommandDeed id="check-book" />
      </Also>
      <Await call={farm} what="Reading the farm">
        {(value) => <Record farm={value} />}
      </Await>
    </Screen>
  );
}

function Record({ farm }: { farm: Farm }) {
  const { query } = useLocation();
  const [range, setRange] = useState<Range>(() => ({
    ...(lastRange ?? { ...everything, ...lastYear(farm.clock.today), corrections: true }),
    ...(query.medicine === undefined ? {} : { medicine: query.medicine }),
    ...(query.subject === undefined ? {} : { subject: query.subject }),
  }));
  const change = (part: Partial<Range>) => {
    lastRange = { ...range, ...part };
    setRange(lastRange);
  };
  const isRead = Object.keys(periodProblems(range)).length === 0;
  const call = useCall(
    'book',
    !isRead
      ? null
      : {
          from: range.from,
          to: range.to,
          corrections: range.corrections,
          limit: most,
          ...filterOf(range),
        },
  );
  return (
    <>
      <div className="book-filters">
        <Narrow value={range} onChange={change} people={farm.people} />
        <Tick
          name="corrections"
          label="With what was corrected or struck out"
          value={range.corrections}
          onChange={(corrections) => change({ corrections })}
        />
      </div>
      {!isRead ? null : (
        <Await call={call} what="Reading the record">
          {(value) => (
            <Lines
              value={value}
              range={range}
              farm={farm}
              onReadOn={(from) => change({ from })}
              onAll={() => change(everything)}
            />
          )}
        </Await>
      )}
    </>
  );
}

function Lines({
  value,
  range,
  farm,
  onReadOn,
  onAll,
}: {
  value: Reply<'book'>;
  range: Range;
  farm: Farm;
  onReadOn: (from: string) => void;
  /** Takes off everything but the period. */
  onAll: () => void;
}) {
  const zone = farm.holdings[0]?.zone ?? 'UTC';
  const milks = farm.holdings.some((holding) => holding.milk);
  const lines = placed(value.rows);
  // By a date in doubt nothing is called over.
  const today = farm.clock.state === 'believed' ? farm.clock.today : undefined;
  const lastDay = lines.at(-1)?.local.slice(0, 10);
  return (
    <>
      {value.next === undefined || lastDay === undefined ? null : (
        <Notice
          kind="mind"
          deed={<Deed onDo={() => onReadOn(lastDay)}>Read on from {localInWords(lastDay)}</Deed>}
        >
          <p>
            This period has more than {most.toLocaleString('en-GB')} lines. Only the earliest are shown, up to{' '}
            {localInWords(lastDay)}.
          </p>
        </Notice>
      )}
      <div className="record">
        <List
          rows={lines}
          columns={shownColumns(zone, milks, today)}
          rowKey={(row) => `${row.administration} ${row.version}`}
          label="Treatments"
          first={{ key: 'when', isDown: true }}
          fileName={recordFile(range)}
          fileColumns={recordColumns(zone, milks)}
          onOpen={(row) =>
            go({
              to: 'book/treatment/:administration',
              params: { administration: row.administration },
              query: lineQuery(row),
            })
          }
          empty={
            Object.keys(filterOf(range)).length > 0 ? (
              <Empty deed={<Deed onDo={onAll}>Show all of this period</Deed>}>
                No treatment of this period fits what you narrowed the book to.
              </Empty>
            ) : (
              <Empty
                deed={
                  <>
                    <CommandDeed id="treat-one" />
                    <CommandDeed id="plan-session" />
                  </>
                }
              >
                No treatment is in the book for this period. Choose a longer one, or write down what was
                given.
              </Empty>
            )
          }
        />
      </div>
    </>
  );
}

/** Newest first, by place: the versions of one treatment stay together and in the order they were written. */
function shownColumns(zone: string, milks: boolean, today: string | undefined): readonly Column<Line>[] {
  return [
    {
      key: 'when',
      head: 'Given',
      text: (row) => `${row.local} ${localInWords(row.local)}`,
      order: (row) => row.place,
      share: 1.1,
      show: (row) => (
        <Struck row={row}>
          <span className="record-day">{localInWords(row.local.slice(0, 10))}</span>
          {row.local.length > 10 ? <small>{row.local.slice(11, 16)}</small> : null}
        </Struck>
      ),
    },
    {
      key: 'who',
      isName: true,
      head: 'Animal or lot',
      text: (row) => `${row.shown} ${whoWords(row)}`,
      order: (row) => row.shown,
      share: 1.5,
      show: (row) => (
        <Struck row={row}>
          <span className="record-who">{row.shown}</span>
          <small>{whoWords(row)}</small>
        </Struck>
      ),
    },
    {
      key: 'what',
      head: 'What went in',
      text: (row) => [row.product, doseWords(row), row.givenBy, row.source, ...row.deviations].join(' '),
      order: (row) => row.product,
      share: 2.4,
      show: (row) => (
        <>
          <Struck row={row}>
            {row.product}
            <small>{doseWords(row)}</small>
          </Struck>
          {row.deviations.length === 0 || row.state !== 'stands' ? null : (
            <small className="record-mind">Not as the label says: {row.deviations.join('; ')}</small>
          )}
          <Correction row={row} zone={zone} />
        </>
      ),
    },
    {
      key: 'until',
      head: milks ? 'Withdrawal until (meat, milk)' : 'Meat withdrawal until',
      text: (row) => `${endWords(row.period, row.until, row.local)}${milks ? ` ${milkWords(row)}` : ''}`,
      order: untilOrder,
      share: 1.8,
      show: (row) => (
        <Struck row={row}>
          <span className={isOver(row, today, zone) ? 'record-until record-over' : 'record-until'}>
            {endWords(row.period, row.until, row.local)}
          </span>
          {isOver(row, today, zone) && !heldNothing(row) ? <small>over</small> : null}
          {milks ? <small>Milk: {milkWords(row)}</small> : null}
        </Struck>
      ),
    },
  ];
}

/** Nothing that was never held is over. */
function heldNothing(row: Line): boolean {
  return endWords(row.period, row.until, row.local).startsWith(noWithdrawal);
}

function Correction({ row, zone }: { row: Line; zone: string }) {
  const words = correctionWords(row, zone);
  return words === undefined ? null : <small className="record-mind">{words}</small>;
}

/** What does not stand is struck through, and says so by its own element to whoever cannot see the line. */
function Struck({ row, children }: { row: Line; children: React.ReactNode }) {
  return row.state === 'stands' ? <span>{children}</span> : <s>{children}</s>;
}
