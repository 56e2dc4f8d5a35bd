import { Refusal } from '../refusal.ts';

/** A pack as it can be bought: whole base units (µL, µg, pieces) and whole minor units of money. */
export type Pack = { readonly size: number; readonly price: number };

/** At most so many sums are looked at for one list of packs: a moment's work, and far more than a farm needs. */
export const MOST_SUMS = 400_000;

/**
 * For every amount that some packs make up exactly, the cheapest packs that do, and of those the fewest. Amounts are
 * counted in `unit`, the largest measure all sizes are whole counts of.
 */
export type SumTable = {
  readonly unit: number;
  readonly widest: number;
  /** By sum in units: Infinity where no packs make it up. */
  readonly cost: Float64Array;
  readonly count: Int32Array;
  /** The smallest pack among those chosen, in base units. */
  readonly smallest: Float64Array;
  /** The packs chosen for a sum, as counts by their place in the list. */
  packsOf(sum: number): number[];
};

/**
 * The table up to one widest pack over `most` base units. Refuses (`too-many-sums`) beyond MOST_SUMS sums, which
 * happens where sizes have no common measure, as 33.333 mL and 500 mL.
 */
export function sumTable(packs: readonly Pack[], most: number): SumTable {
  const unit = packs.reduce((common, { size }) => commonMeasure(common, size), 0);
  const widest = packs.reduce((wide, { size }) => Math.max(size, wide), 0) / unit;
  const sums = wholeUnits(most, unit) + widest;
  if (sums > MOST_SUMS) {
    throw new Refusal(
      'too-many-sums',
      'Packs: these sizes are too fine beside what is needed for every mix to be weighed against every other.',
      { field: 'packs', next: 'Leave the smallest size out, or write the sizes in rounder numbers.' },
    );
  }
  const cost = new Float64Array(sums + 1).fill(Number.POSITIVE_INFINITY);
  const count = new Int32Array(sums + 1);
  const smallest = new Float64Array(sums + 1).fill(Number.POSITIVE_INFINITY);
  const last = new Int32Array(sums + 1).fill(-1);
  cost[0] = 0;
  for (let sum = 1; sum <= sums; sum += 1) {
    for (const [i, { size, price }] of packs.entries()) {
      const before = sum - size / unit;
      if (before < 0) continue;
      const costs = at(cost, before) + price;
      const counts = at(count, before) + 1;
      if (costs > at(cost, sum) || costs === Number.POSITIVE_INFINITY) continue;
      if (costs === at(cost, sum) && counts >= at(count, sum)) continue;
      cost[sum] = costs;
      count[sum] = counts;
      last[sum] = i;
      smallest[sum] = Math.min(size, at(smallest, before));
    }
  }
  const packsOf = (sum: number) => {
    const counts = packs.map(() => 0);
    for (let rest = sum; rest > 0; ) {
      const i = at(last, rest);
      const pack = packs[i];
      if (pack === undefined) throw new RangeError(`No packs make up ${sum} units.`);
      counts[i] = (counts[i] ?? 0) + 1;
      rest -= pack.size / unit;
    }
    return counts;
  };
  return { unit, widest, cost, count, smallest, packsOf };
}

/** How many units hold an amount, the last not full. */
export function wholeUnits(amount: number, unit: number): number {
  const over = amount % unit;
  return (amount - over) / unit + (over === 0 ? 0 : 1);
}

/** A cell that is there. Throws RangeError beyond the table: a mistake in the program. */
export function at(cells: Float64Array | Int32Array, i: number): number {
  const value = cells[i];
  if (value === undefined) throw new RangeError(`The table has no sum ${i}.`);
  return value;
}

function commonMeasure(a: number, b: number): number {
  return b === 0 ? a : commonMeasure(b, a % b);
}
