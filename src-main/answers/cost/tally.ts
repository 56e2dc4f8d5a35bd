import type { Reply } from '../../../src-shared/calls/all.ts';
import {
  add,
  divide,
  type Fraction,
  floorOf,
  fraction,
  multiply,
  ZERO,
} from '../../../src-shared/quantity/fraction.ts';
import { printPrice } from '../../../src-shared/stock/price.ts';
import { shareOut } from '../../../src-shared/stock/share-out.ts';
import type { UnitPrice } from './prices.ts';

export type Money = Reply<'cost'>['total'];
/** Base units drawn from each container. */
export type Units = Map<string, number>;

/** Adds base units of a container to one row of a tally. */
export function tally(rows: Map<string, Units>, key: string, container: string, units: number): void {
  const row = rows.get(key) ?? new Map<string, number>();
  rows.set(key, row);
  row.set(container, (row.get(container) ?? 0) + units);
}

export type Priced = {
  /** Exact, in minor units, by currency. */
  exact: Map<string, Fraction>;
  /** Something of it has no price. */
  isPart: boolean;
};

/** What the units of a row cost. */
export function priced(
  units: Units | undefined,
  priceOf: (container: string) => UnitPrice | undefined,
): Priced {
  const exact = new Map<string, Fraction>();
  let isPart = false;
  for (const [container, each] of units ?? []) {
    if (each === 0) continue;
    const price = priceOf(container);
    if (price === undefined) isPart = true;
    else {
      const { currency } = price;
      exact.set(currency, add(exact.get(currency) ?? ZERO, multiply(price.each, fraction(each))));
    }
  }
  return { exact, isPart };
}

/** Rows in whole minor units that add up to their rounded sum, in each currency. */
export function inMinorUnits(rows: readonly Priced[]): { rows: Money[]; total: Money } {
  const currencies = [...new Set(rows.flatMap(({ exact }) => [...exact.keys()]))].toSorted();
  const shown: Money[] = rows.map(() => []);
  const total: Money = [];
  for (const currency of currencies) {
    const units = shareOut(rows.map(({ exact }) => exact.get(currency) ?? ZERO));
    units.forEach((minorUnits, i) => {
      if (rows[i]?.exact.has(currency)) shown[i]?.push(moneyOf(minorUnits, currency));
    });
    total.push(
      moneyOf(
        units.reduce((sum, one) => sum + one, 0),
        currency,
      ),
    );
  }
  return { rows: shown, total };
}

/** A row by itself over so many heads or doses, each rounded to the nearest minor unit. */
export function perEach({ exact }: Priced, count: number): Money {
  if (count === 0) return [];
  return [...exact].map(([currency, sum]) => moneyOf(nearest(divide(sum, fraction(count))), currency));
}

/** A row by itself, rounded to the nearest minor unit: for rows that overlap and have no sum. */
export function alone(row: Priced): Money {
  return perEach(row, 1);
}

function nearest(value: Fraction): number {
  return Number(floorOf(add(value, fraction(1, 2n))));
}

function moneyOf(minorUnits: number, currency: string): Money[number] {
  return { minorUnits, currency, text: printPrice({ minorUnits, currency }) };
}
