import type { ReactNode } from 'react';
import type { Column, Order } from './list-rows.ts';
import { together } from './together.tsx';

/** What the two ways of showing rows share: the plain table, and the one that shows only what can be seen. */
export type RowsProps<R> = {
  rows: readonly R[];
  columns: readonly Column<R>[];
  rowKey: (row: R) => string;
  label: string;
  order: Order | undefined;
  onOrder: (key: string) => void;
  onOpen: ((row: R) => void) | undefined;
};

/** The heads of the columns say by a word which way the list is ordered, not by an arrow alone. */
export function HeadButton<R>({
  column,
  order,
  onOrder,
}: {
  column: Column<R>;
  order: Order | undefined;
  onOrder: (key: string) => void;
}) {
  const mark = order?.key !== column.key ? '' : order.isDown ? ' ↓' : ' ↑';
  return (
    <button type="button" className="head-button" onClick={() => onOrder(column.key)}>
      {column.head}
      <span aria-hidden="true">{mark}</span>
    </button>
  );
}

/** The class of a cell: figures to the right, the name of a row as a way in. */
export function cellClass<R>(column: Column<R>): string | undefined {
  if (column.isNumber === true) return 'number';
  return column.isName === true ? 'row-name' : undefined;
}

/** What stands in a cell. A text keeps its numbers, days and tags in one piece. */
export function cellText<R>(column: Column<R>, row: R): ReactNode {
  return together(column.show?.(row) ?? column.text(row));
}

/** What a screen reader says of the order of a column. */
export function ariaSort(key: string, order: Order | undefined): 'ascending' | 'descending' | undefined {
  if (order?.key !== key) return undefined;
  return order.isDown ? 'descending' : 'ascending';
}
