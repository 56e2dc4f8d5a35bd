import type { ReactNode } from 'react';
import { makeHarmless } from '../../src-shared/harmless.ts';
import { searchKey } from '../../src-shared/search-key.ts';

/** One column of a list. `text` is what the filter, the order and the export see; `show` what is on the screen. */
export type Column<R> = {
  readonly key: string;
  readonly head: string;
  readonly text: (row: R) => string;
  /** More words that the filter finds the row by: a number without its spaces. */
  readonly also?: (row: R) => string;
  readonly show?: (row: R) => ReactNode;
  /** What to order by when the text does not sort as it should: a whole number, or a text that does. */
  readonly order?: (row: R) => number | string;
  /** Set to the right, figures under figures. */
  readonly isNumber?: boolean;
  /** How wide it is beside the others in a long list; 1 when left out. */
  readonly share?: number;
  /** What the row is called by: where rows open it looks like what it is, a way to somewhere. */
  readonly isName?: boolean;
};

export type Order = { readonly key: string; readonly isDown: boolean };

const collator = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

/** What the filter compares, once for each row: all that the columns say. */
export function searchTexts<R>(rows: readonly R[], columns: readonly Column<R>[]): readonly string[] {
  return rows.map((row) =>
    searchKey(columns.map((column) => `${column.text(row)}\n${column.also?.(row) ?? ''}`).join('\n')),
  );
}

/** The rows in which every word that was typed is found somewhere, in their order. */
export function filterRows<R>(rows: readonly R[], texts: readonly string[], typed: string): readonly R[] {
  const words = searchKey(typed)
    .split(' ')
    .filter((word) => word !== '');
  if (words.length === 0) return rows;
  return rows.filter((_row, n) => words.every((word) => texts[n]?.includes(word) === true));
}

/** The rows in the order of a column; equal ones stay as they were. "Tag 9" comes before "Tag 10". */
export function orderRows<R>(
  rows: readonly R[],
  columns: readonly Column<R>[],
  order: Order | undefined,
): readonly R[] {
  const column = columns.find((one) => one.key === order?.key);
  if (column === undefined || order === undefined) return rows;
  const value = column.order ?? column.text;
  const keyed = rows.map((row) => ({ row, value: value(row) }));
  const compare = (a: number | string, b: number | string): number =>
    typeof a === 'number' && typeof b === 'number' ? a - b : collator.compare(String(a), String(b));
  keyed.sort((a, b) => (order.isDown ? compare(b.value, a.value) : compare(a.value, b.value)));
  return keyed.map((one) => one.row);
}

/** Numbers below zero are no formula. */
const plainNumber = /^-?\d+(?:\.\d+)?$/;

/**
 * The rows as a text that spreadsheets open (RFC 4180, CRLF). A cell that a spreadsheet would run as a formula
 * gets an apostrophe before it.
 */
export function toCsv<R>(rows: readonly R[], columns: readonly Column<R>[]): string {
  const cell = (text: string): string => {
    const safe = plainNumber.test(text) ? text : makeHarmless(text);
    return /[",;\t|\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  const lines = [
    columns.map((column) => cell(column.head)),
    ...rows.map((row) => columns.map((column) => cell(column.text(row)))),
  ];
  return `${lines.map((line) => line.join(',')).join('\r\n')}\r\n`;
}

/** Which row the cursor goes to from row `at` of `count`, by a key; undefined when the key moves nothing. */
export function moveTo(key: string, at: number, count: number, page = 10): number | undefined {
  const to: Record<string, number> = {
    ArrowDown: at + 1,
    ArrowUp: at - 1,
    PageDown: at + page,
    PageUp: at - page,
    Home: 0,
    End: count - 1,
  };
  const wanted = to[key];
  return wanted === undefined || count === 0 ? undefined : Math.max(0, Math.min(count - 1, wanted));
}
