import type { Cell, FoldRead, Row } from './kind.ts';

type WeightCells = { weight: Cell; weight_unit: Cell; weighed_on: Cell; weighed_how: Cell };

/**
 * The last weight known of an animal or lot when its own entry is folded. A weighing can be older than the entry
 * that brings the animal into the book (last month's crate file, read in after the flock list): it stands first,
 * and must not be forgotten.
 */
export function weightSoFar(before: Row | undefined, read: FoldRead): WeightCells {
  if (before) {
    return {
      weight: before.weight ?? null,
      weight_unit: before.weight_unit ?? null,
      weighed_on: before.weighed_on ?? null,
      weighed_how: before.weighed_how ?? null,
    };
  }
  const order = (row: Row) => `${row.at} ${String(row.seq).padStart(16, '0')}`;
  const last = read
    .rows('weighing')
    .toSorted((a, b) => (order(a) < order(b) ? -1 : 1))
    .at(-1);
  return {
    weight: last?.value ?? null,
    weight_unit: last?.unit ?? null,
    weighed_on: last?.local ?? null,
    weighed_how: last?.how ?? null,
  };
}
