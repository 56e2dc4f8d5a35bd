import type { Reply } from '../../../src-shared/calls/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { baseOf, parseAmount } from '../../../src-shared/quantity/amount.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import type { Problem } from '../../hooks/use-form.ts';
import { differenceFrom } from './words.ts';

export type SheetRow = Reply<'stocktake-sheet'>['stores'][number]['containers'][number];
export type StocktakeValues = Readonly<Record<string, string>>;

/** The names of the fields of a container, as the desk names them in what it refuses. */
export const amountField = (row: Pick<SheetRow, 'container'>) => `amount.${row.container}`;
export const whyField = (row: Pick<SheetRow, 'container'>) => `difference.${row.container}`;

/** An empty form for these containers. */
export function emptyStocktake(rows: readonly SheetRow[]): StocktakeValues {
  return Object.fromEntries(
    rows.flatMap((row) => [
      [amountField(row), ''],
      [whyField(row), ''],
    ]),
  );
}

/** What was typed with its unit: the one that stands beside the box, unless another was typed. */
export function withUnit(typed: string, unit: string): string {
  const text = typed.trim();
  return /^[\d.,]+$/.test(text) ? `${text} ${unit}` : text;
}

/** Whether what was typed differs from the book, so that its cause is asked; not while it cannot be read. */
export function differs(typed: string, row: SheetRow): boolean {
  if (typed.trim() === '') return false;
  const more = row.piece === undefined ? {} : { piece: row.piece };
  const read = attempt(() => parseAmount(withUnit(typed, row.unit), 'amount', more));
  if (!read.ok || read.value.kind !== row.left.amount.kind) return false;
  return row.isBelowNone || baseOf(read.value) !== unitsOf(row.left.amount);
}

/** "The book has 500 mL: 20 mL less is there." */
export function sayApart(typed: string, row: SheetRow): string | undefined {
  return typed.trim() === '' || row.isBelowNone
    ? undefined
    : differenceFrom(withUnit(typed, row.unit), row.left, row.piece);
}

/** What cannot be sent as it stands. */
export function stocktakeProblems(rows: readonly SheetRow[], values: StocktakeValues): Problem[] {
  const typed = rows.filter((row) => values[amountField(row)]?.trim() !== '');
  if (typed.length === 0) {
    const [first] = rows;
    return first === undefined
      ? []
      : [{ field: amountField(first), message: 'Write what is in at least one container.' }];
  }
  return typed.flatMap((row): Problem[] => {
    const more = row.piece === undefined ? {} : { piece: row.piece };
    const text = values[amountField(row)] ?? '';
    const read = attempt(() => parseAmount(withUnit(text, row.unit), 'amount', more));
    if (!read.ok) {
      return [{ field: amountField(row), message: read.error.message.replace(/^Amount/, row.label) }];
    }
    if (differs(text, row) && values[whyField(row)] === '') {
      return [{ field: whyField(row), message: `${row.label}: say why it differs, or that nobody knows.` }];
    }
    return [];
  });
}
