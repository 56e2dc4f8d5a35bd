import './cabinet.css';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { Bottle } from '../../drawings/bottle.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { type Container, mustNotBeUsed, sayContainer, sayReceived, stateWords } from './words.ts';

const columns = (isNamed: boolean): readonly Column<Container>[] => [
  {
    key: 'left',
    head: 'What is left',
    text: sayLeft,
    order: (one) => unitsOf(one.left.amount),
    show: (one) => (
      <span className="shelf-left">
        <Bottle
          left={unitsOf(one.left.amount)}
          received={unitsOf(one.received.amount)}
          text={sayContainer(one)}
        />
        <span>{sayLeft(one)}</span>
      </span>
    ),
    share: 1.4,
  },
  ...(isNamed
    ? [
        {
          key: 'name',
          head: 'Medicine',
          text: (one: Container) => one.name,
          show: (one: Container) => <strong>{one.name}</strong>,
          share: 1.6,
        },
      ]
    : []),
  {
    key: 'state',
    head: 'State',
    text: (one) => stateWords[one.state],
    show: (one) => (
      <span className={mustNotBeUsed(one.state) ? 'shelf-word' : undefined}>{stateWords[one.state]}</span>
    ),
  },
  {
    key: 'use-by',
    head: 'Use by',
    text: (one) => one.useBy,
    order: (one) => one.unusableFrom,
    show: (one) => <strong className="shelf-date">{one.useBy}</strong>,
  },
  { key: 'label', head: 'Container no.', text: (one) => one.label },
  { key: 'batch', head: 'Batch', text: (one) => one.batch },
];

function sayLeft(one: Container): string {
  const isFull = unitsOf(one.left.amount) === unitsOf(one.received.amount);
  return isFull ? `${sayReceived(one)}, full` : `${one.left.text} of ${sayReceived(one)}`;
}

/** Containers drawn by what is left, earliest use-by first. Enter opens one. */
export function Shelf({
  containers,
  label,
  isNamed = true,
}: {
  containers: readonly Container[];
  label: string;
  /** False where they are all of one medicine. */
  isNamed?: boolean;
}) {
  return (
    <List
      rows={containers}
      columns={columns(isNamed)}
      rowKey={(one) => one.container}
      label={label}
      first={{ key: 'use-by', isDown: false }}
      onOpen={(one) => go({ to: 'cabinet/container/:container', params: { container: one.container } })}
      fileName="cabinet"
      empty={
        <Empty deed={<CommandDeed id="receive-batch" weight="main" />}>
          Nothing is on the shelf. Take in what is there: batch number, expiry and how much.
        </Empty>
      }
    />
  );
}
