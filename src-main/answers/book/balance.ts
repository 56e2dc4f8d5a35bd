import type { BookPart } from '../../paper/medicine-book.ts';
import { printLocal } from '../reading/labels.ts';
import { type Balance, balanceWords, containerWords } from './balances.ts';

type BalancePart = Extract<BookPart, { kind: 'balance' }>;

/** A medicine with its running balance as a page of the book. */
export function balancePart({ name, sums, rows, text }: Balance): BalancePart {
  const moved = (sign: 1 | -1) => rows.reduce((sum, { units }) => sum + Math.max(0, sign * units), 0);
  return {
    kind: 'balance',
    title: name,
    lead: [
      `At the beginning ${text(sums.opening)}; in ${text(moved(1))}, out ${text(moved(-1))}; at the end ${text(sums.closing)}.`,
    ],
    ownPage: true,
    rows: rows.map((row) => ({
      date: printLocal(row.local),
      what: balanceWords(row, text),
      who: [row.treated, containerWords(row)].filter((part) => part !== '').join('; '),
      in: row.units > 0 ? text(row.units) : '',
      out: row.units < 0 ? text(-row.units) : '',
      balance: text(row.balance),
    })),
  };
}
