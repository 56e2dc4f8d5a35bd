import type { Cell, Entry, FoldRead, Row, RowOp } from './kind.ts';

export const CAUSES = [
  'received',
  'made-up',
  'used-to-make',
  'drawn',
  'lost',
  'disposed',
  'returned',
  'counted',
] as const;
export type Cause = (typeof CAUSES)[number];

/**
 * A container as it stands when it comes in: sealed, and full but for what was drawn from it before. A delivery
 * that is entered late is dated after doses out of it, and those have left it all the same.
 */
export function containerRow(
  from: {
    id: string;
    label: string;
    batch: string | null;
    medicine: string;
    revision: string;
    kind: string;
    received: number;
    unusableFrom: string;
    store: string | null;
    strength: string | null;
    /** The batch as text, where it was made up on the farm. */
    batchText: string | null;
  },
  read: FoldRead,
): RowOp {
  return {
    op: 'put',
    table: 'container',
    row: {
      id: from.id,
      label: from.label,
      batch: from.batch,
      medicine: from.medicine,
      revision: from.revision,
      kind: from.kind,
      received: from.received,
      left_units: from.received + leftSoFar(read),
      state: 'sealed',
      opened: null,
      unusable_from: from.unusableFrom,
      store: from.store,
      strength: from.strength,
      batch_text: from.batchText,
      counted: null,
      unopened_until: from.unusableFrom,
    },
  };
}

/** From now on the container stands in this store; nothing where none is written. */
export function stoodRow({ seq, happened }: Entry<unknown>, store: string | undefined): RowOp {
  const { at, local, zone } = happened;
  return { op: 'put', table: 'stood', row: { seq, at, local, zone, store: store ?? null } };
}

/** One movement; `units` is signed: what came in is positive, what went out negative. */
export function movementRow(
  entry: Entry<unknown>,
  i: number,
  cause: Cause,
  units: number,
  more: Row = {},
): RowOp {
  return {
    op: 'put',
    table: 'movement',
    row: {
      seq: entry.seq,
      i,
      at: entry.happened.at,
      local: entry.happened.local,
      cause,
      units,
      administration: null,
      note: null,
      difference: null,
      by: entry.by,
      ...more,
    },
  };
}

/** The container's own row as it stands, or nothing when it is not (or no longer) received. */
export function containerOf(read: FoldRead): Row | undefined {
  return read.rows('container')[0];
}

/** What is left by everything that happened to it so far; below nothing when it was drawn from before it came in. */
export function leftSoFar(read: FoldRead): number {
  const row = containerOf(read);
  if (row) return Number(row.left_units);
  return read.rows('movement').reduce((sum, move) => sum + Number(move.units), 0);
}

/**
 * Takes `units` out of (negative) or into the container. The balance may go below zero: what happened is
 * recorded even when the book says there was not so much, and the count puts it right.
 */
export function moveStock(
  entry: Entry<unknown>,
  read: FoldRead,
  moves: readonly { cause: Cause; units: number; more?: Row }[],
  set: Readonly<Record<string, Cell>> = {},
): RowOp[] {
  const rows = moves.map((move, i) => movementRow(entry, i, move.cause, move.units, move.more));
  const row = containerOf(read);
  if (!row) return rows;
  const left = moves.reduce((sum, move) => sum + move.units, Number(row.left_units));
  return [
    ...rows,
    { op: 'change', table: 'container', key: { id: row.id ?? null }, set: { left_units: left, ...set } },
  ];
}
