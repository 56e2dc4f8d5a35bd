import { unitsOf } from '../../../src-shared/entries/parts.ts';
import type { Container } from './words.ts';

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
