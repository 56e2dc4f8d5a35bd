import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Column } from '../../parts/list.tsx';
import { sayWeighed } from '../../parts/weight-values.ts';
import { localInWords } from '../book/when.ts';
import { departureAt } from '../declare/clear-rows.ts';
import { type AnimalRow, sayClass, sayLocal } from './words.ts';

type Held = Reply<'clear-list'>['held'][number];

/** Who is held at the start of a day, by subject, with when time clears them. */
export type HeldBy = ReadonlyMap<string, Pick<Held, 'clear'> & Partial<Pick<Held, 'holds'>>>;

const close = (text: string | undefined) => (text ?? '').replace(/[\s-]/g, '');

/** Every column there is: what the saved file says. */
export const columns: readonly Column<AnimalRow>[] = [
  {
    key: 'shown',
    isName: true,
    head: 'Tag or lot',
    text: (row) => row.shown,
    also: (row) => `${close(row.shown)} ${row.chip ?? ''}`,
    share: 2,
  },
  { key: 'management', head: 'Own number', text: (row) => row.management ?? '' },
  { key: 'chip', head: 'Chip', text: (row) => row.chip ?? '', share: 1.6 },
  { key: 'class', head: 'Class', text: (row) => sayClass(row.class) },
  {
    key: 'heads',
    head: 'Head',
    text: (row) => String(row.heads),
    order: (row) => row.heads,
    isNumber: true,
    share: 0.6,
  },
  { key: 'born', head: 'Born', text: (row) => row.born ?? '', show: (row) => sayLocal(row.born ?? '') },
  { key: 'weight', head: 'Weight', text: (row) => row.weight ?? '', isNumber: true },
  {
    key: 'weighed',
    head: 'Weighed',
    text: (row) => row.weighedOn ?? '',
    show: (row) =>
      row.weighedOn === undefined
        ? ''
        : `${sayLocal(row.weighedOn.slice(0, 10))}${row.weighedHow === undefined ? '' : `, ${sayWeighed(row.weighedHow)}`}`,
  },
];

/**
 * How one stands for a produce, in a word or a day: "clear", "until 9 Dec 2026", "no date". Milk of an animal that gives
 * none is not spoken of by a date. `held` is absent while it is looked up, or while nothing may be called clear.
 */
export function standing(
  row: Pick<AnimalRow, 'subject' | 'milking'>,
  produce: 'meat' | 'milk',
  held: HeldBy | undefined,
): string {
  if (held === undefined) return '';
  if (produce === 'milk' && !row.milking) return 'not in milk';
  const own = held.get(row.subject);
  if (own === undefined) return 'clear';
  // Midnight is the day alone; any other time is said, or the day would be taken for clear from its start.
  if (own.holds?.some(({ cause }) => cause === 'broken-needle') === true)
    return 'no date: may carry a needle';
  return own.clear === undefined ? 'no date' : `until ${localInWords(departureAt(own.clear))}`;
}

function standingColumn(produce: 'meat' | 'milk', head: string, held: HeldBy | undefined): Column<AnimalRow> {
  return {
    key: produce,
    head,
    text: (row) => standing(row, produce, held),
    // The first to clear first, then those that no date clears, then who is clear.
    order: (row) => {
      const own = held?.get(row.subject);
      return own === undefined ? '9999-99' : (own.clear ?? '9999');
    },
    show: (row) => {
      const said = standing(row, produce, held);
      return said === 'clear' || said === 'not in milk' ? said : <strong>{said}</strong>;
    },
    share: 1.3,
  };
}

/**
 * The columns for these rows: how each stands, and of the others those that say something about at least one of them. A
 * chip says the digits of the tag again; it is found by the filter and stands in the file.
 */
export function shownColumns(
  rows: readonly AnimalRow[],
  meat: HeldBy | undefined,
  milk: HeldBy | undefined | 'none',
): readonly Column<AnimalRow>[] {
  const [shown, ...others] = columns;
  const said = others.filter(
    (column) =>
      column.key !== 'chip' &&
      (column.key === 'heads'
        ? rows.some((row) => row.heads > 1)
        : rows.some((row) => column.text(row) !== '')),
  );
  return [
    ...(shown === undefined ? [] : [shown]),
    standingColumn('meat', 'Meat', meat),
    ...(milk === 'none' ? [] : [standingColumn('milk', 'Milk', milk)]),
    ...said,
  ];
}
