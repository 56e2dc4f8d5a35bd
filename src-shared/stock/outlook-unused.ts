import { fraction, ONE, roundTo } from '../quantity/fraction.ts';
import type { Day } from '../time/day.ts';
import type { Gone, OutlookContainer, Unused } from './outlook-types.ts';
import type { Price } from './price.ts';

/** What dies with something left in it, and what that cost: its share of the price, rounded once to a whole penny. */
export function unusedOf(
  gone: readonly (Gone & { readonly day: Day })[],
  containers: readonly OutlookContainer[],
): Unused[] {
  const byId = new Map(containers.map((row) => [row.id, row]));
  return gone.map(({ day, ...one }) => {
    const row = byId.get(one.container);
    const cost = row === undefined ? undefined : shareOf(row, one.amount);
    return { ...one, lastDay: day, ...(cost === undefined ? {} : { cost }) };
  });
}

function shareOf({ price, received }: OutlookContainer, amount: number): Price | undefined {
  if (price === undefined || received <= 0) return undefined;
  const share = fraction(BigInt(price.minorUnits) * BigInt(amount), received);
  return { minorUnits: Number(roundTo(share, ONE, 'nearest').n), currency: price.currency };
}

/** The sum of what is known, by currency. */
export function costByCurrency(unused: readonly Unused[]): Price[] {
  const sums = new Map<string, number>();
  for (const { cost } of unused) {
    if (cost !== undefined) sums.set(cost.currency, (sums.get(cost.currency) ?? 0) + cost.minorUnits);
  }
  return [...sums].map(([currency, minorUnits]) => ({ currency, minorUnits }));
}
