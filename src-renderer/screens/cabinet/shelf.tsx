import './cabinet.css';
import { useMemo, useState } from 'react';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { Bottle } from '../../drawings/bottle.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { type Ahead, headOf, type ShelfRow, shelfRows } from './shelf-rows.ts';
import { type Container, sayContainer, sayReceived, stateWords } from './words.ts';

const columns = (isNamed: boolean, ahead: Ahead): readonly Column<ShelfRow>[] => [
  {
    key: 'left',
    head: 'What is left',
    text: sayLeft,
    order: ({ one, all }) => all.length * unitsOf(one.left.amount),
    show: (row) => (
      <span className="shelf-left">
        {/* A bolus or a bag of salt looks like no bottle. */}
        {row.one.left.amount.kind === 'volume' ? (
          <Bottle
            left={unitsOf(row.one.left.amount)}
            received={unitsOf(row.one.received.amount)}
            text={sayContainer(row.one)}
          />
        ) : (
          <span className="shelf-no-bottle" />
        )}
        <span>{sayLeft(row)}</span>
      </span>
    ),
    share: 1.4,
  },
  ...(isNamed
    ? [
        {
          key: 'name',
          head: 'Medicine',
          text: ({ one }: ShelfRow) => one.name,
          isName: true,
          share: 1.6,
        },
      ]
    : []),
  {
    key: 'state',
    head: 'State',
    text: ({ one }) => stateWords[one.state],
    show: ({ one }) => (
      <span className={isToGo(one.state) ? 'shelf-word' : undefined}>{stateWords[one.state]}</span>
    ),
  },
  {
    key: 'use-by',
    head: 'Use by',
    text: ({ one }) => one.useBy,
    order: ({ one }) => `${headOf(one, ahead).place} ${one.unusableFrom}`,
    show: ({ one }) => <strong className="shelf-date">{one.useBy}</strong>,
  },
  {
    key: 'label',
    head: 'Container no.',
    text: ({ all }) => all.map((one) => one.label).join(', '),
    isName: !isNamed,
    show: ({ one, all }) => (
      <span className="shelf-date">
        {all.length === 1 ? one.label : `${one.label} and ${all.length - 1} more`}
      </span>
    ),
  },
  {
    key: 'batch',
    head: 'Batch',
    text: ({ one }) => one.batch,
    show: ({ one }) => <span className="shelf-date">{one.batch}</span>,
  },
];

/** Set off only what somebody still has to do something about; what is set aside was dealt with. */
function isToGo(state: Container['state']): boolean {
  return state === 'expired' || state === 'past-in-use';
}

/** In the one unit of the medicine: "2266 mL of 2500 mL", "100 mL, full", "6 × 100 mL, full". */
function sayLeft({ one, all }: ShelfRow): string {
  const isFull = unitsOf(one.left.amount) === unitsOf(one.received.amount);
  const many = all.length === 1 ? '' : `${all.length} × `;
  return isFull ? `${many}${sayReceived(one)}, full` : `${one.left.text} of ${one.received.text}`;
}

/** Containers drawn by what is left, earliest use-by first. Enter opens one, or takes a row of several apart. */
export function Shelf({
  containers,
  label,
  isNamed = true,
  ahead,
}: {
  containers: readonly Container[];
  label: string;
  /** False where they are all of one medicine. */
  isNamed?: boolean;
  /** The work that the shelf is looked at against; absent: nothing stands above the rows. */
  ahead?: Ahead;
}) {
  const shown = useMemo(() => columns(isNamed, ahead ?? []), [isNamed, ahead]);
  const [opened, setOpened] = useState<ReadonlySet<string>>(new Set());
  const open = ({ one, all }: ShelfRow) => {
    if (all.length > 1) setOpened(new Set([...opened, one.container]));
    else go({ to: 'cabinet/container/:container', params: { container: one.container } });
  };
  return (
    <List
      rows={shelfRows(containers, opened)}
      columns={shown}
      rowKey={({ one }) => one.container}
      label={label}
      first={{ key: 'use-by', isDown: false }}
      {...(ahead === undefined
        ? {}
        : { headings: { by: 'use-by', of: ({ one }: ShelfRow) => headOf(one, ahead).title } })}
      onOpen={open}
      fileName="cabinet"
      empty={
        <Empty>Nothing is on the shelf. Take in what is there: batch number, expiry and how much.</Empty>
      }
    />
  );
}
