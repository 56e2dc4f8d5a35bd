import type { Reply } from '../../../src-shared/calls/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { type Container, isGone, mustNotBeUsed } from './words.ts';

/** Containers that cannot be told apart but by their number stand in one row from this many on. */
const groupFrom = 3;

/** One row of the shelf: one container, or several full ones of one batch. */
export type ShelfRow = { readonly one: Container; readonly all: readonly Container[] };

/**
 * The rows of a shelf: full, sealed containers of one size, batch and date together, all others by themselves, in the
 * order of the first of each. `opened` are the keys of rows that were taken apart.
 */
export function shelfRows(
  containers: readonly Container[],
  opened: ReadonlySet<string>,
): readonly ShelfRow[] {
  const rows = Map.groupBy(containers, (one) => {
    const isFull = one.state === 'sealed' && unitsOf(one.left.amount) === unitsOf(one.received.amount);
    return isFull
      ? [one.revision, one.batch, one.received.text, one.unusableFrom, one.store ?? ''].join('\n')
      : one.container;
  });
  return [...rows.values()].flatMap((all) => {
    const [one] = all;
    if (one === undefined) return [];
    const isTogether = all.length >= groupFrom && !opened.has(one.container);
    return isTogether ? [{ one, all }] : all.map((each) => ({ one: each, all: [each] }));
  });
}

export type Ahead = Reply<'shelf-ahead'>['ahead'];

const NOT_TO_BE_USED = 'Not to be used';
const GONE = 'Empty or gone';
const LATER = 'Later';

/**
 * Under which heading a container stands, and its place among them: the first work that it does not last to. What may
 * not be used comes behind everything that may.
 */
export function headOf(one: Container, ahead: Ahead): { place: number; title: string } {
  if (mustNotBeUsed(one.state)) return { place: ahead.length + 1, title: NOT_TO_BE_USED };
  if (isGone(one.state) || one.state === 'empty') return { place: ahead.length + 2, title: GONE };
  const ends = one.unusableFrom.slice(0, 10);
  const place = ahead.findIndex(({ on }) => ends <= on);
  const found = ahead[place];
  if (found === undefined) return { place: ahead.length, title: LATER };
  return { place, title: `${found.title}: ${found.what}` };
}
