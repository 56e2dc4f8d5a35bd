import { compare, type Fraction, fraction } from '../quantity/fraction.ts';

/**
 * Where to cut a row of weights into parts. Everything that is compared is a whole number or an exact fraction.
 *
 * A part from block i to block j costs dose(j) for each head in it. For i < k ≤ j < l this cost never gains by
 * crossing over: cost(i,j) + cost(k,l) ≤ cost(i,l) + cost(k,j), also where a limit on the overdose forbids parts that
 * begin too low. So the best beginning of a part moves up with its end, and halving finds all of them in
 * n·log n steps.
 */

/** Animals that always stay together, in rising order of weight. */
export type Block = {
  readonly heads: number;
  /** The exact dose of its lightest, in base units (µL, µg, pieces); above zero, never falling along the row. */
  readonly exact: Fraction;
  /** The rounded dose of its heaviest, in whole base units; never falling along the row. */
  readonly dose: number;
};

export type Split = {
  /** The index of the last block of each part; the last is the last block of all. */
  readonly ends: readonly number[];
  /** Product used, in base units. */
  readonly total: number;
  /** The largest dose ÷ exact dose of the lightest, over all parts. */
  readonly worst: Fraction;
};

/** A limit on dose ÷ exact dose of the lightest; `under` means the limit itself is too much already. */
export type Limit = { readonly ratio: Fraction; readonly under?: boolean };

/** A row made ready once, so that many limits can be tried on it. */
export type Row = {
  readonly size: number;
  readonly doses: readonly number[];
  /** Heads before each block, and in all at the end. */
  readonly before: readonly number[];
  /** dose × d and exact × d for one d that makes all of them whole. */
  readonly scaledDoses: readonly bigint[];
  readonly scaledExact: readonly bigint[];
};

/** Throws RangeError for an empty row, one that falls, or totals beyond exact whole numbers. */
export function rowOf(blocks: readonly Block[]): Row {
  let d = 1n;
  for (const { exact } of blocks) d = d * fraction(exact.d, d).n;
  const before = [0];
  blocks.forEach(({ heads }, i) => {
    before.push((before[i] ?? 0) + heads);
  });
  const row = {
    size: blocks.length,
    doses: blocks.map(({ dose }) => dose),
    before,
    scaledDoses: blocks.map(({ dose }) => BigInt(dose) * d),
    scaledExact: blocks.map(({ exact }) => (exact.n * d) / exact.d),
  };
  const heaviest = blocks.at(-1);
  if (heaviest === undefined) throw new RangeError('There is nothing to split.');
  if (!Number.isSafeInteger(heaviest.dose * at(before, blocks.length))) {
    throw new RangeError('The product of all parts is beyond exact whole numbers.');
  }
  for (let i = 1; i < row.size; i += 1) {
    if (at(row.doses, i) < at(row.doses, i - 1) || at(row.scaledExact, i) < at(row.scaledExact, i - 1)) {
      throw new RangeError('Doses must not fall as weights rise.');
    }
  }
  return row;
}

/** A value that is there by the bounds of the loop around it. */
function at<T>(values: ArrayLike<T>, i: number): T {
  const value = values[i];
  if (value === undefined) throw new RangeError(`There is no block ${i}.`);
  return value;
}

/** For each block the lowest block a part that ends there may begin with; undefined when a block breaks the limit itself. */
function lowest(row: Row, limit: Limit | undefined): Int32Array | undefined {
  const low = new Int32Array(row.size);
  if (limit === undefined) return low;
  const { n, d } = limit.ratio;
  let begin = 0;
  for (let end = 0; end < row.size; end += 1) {
    const dose = at(row.scaledDoses, end) * d;
    const fits = () => {
      const most = at(row.scaledExact, begin) * n;
      return limit.under === true ? dose < most : dose <= most;
    };
    while (!fits()) {
      if (begin === end) return undefined;
      begin += 1;
    }
    low[end] = begin;
  }
  return low;
}

/** How many parts hold the limit at the least, or undefined when no number does: a block breaks it by itself. */
export function partsNeeded(row: Row, limit: Limit): number | undefined {
  const low = lowest(row, limit);
  if (low === undefined) return undefined;
  let parts = 0;
  for (let end = row.size - 1; end >= 0; end = at(low, end) - 1) parts += 1;
  return parts;
}

/** The least product in at most so many parts within the limit, in as few parts as reach it; undefined when none holds it. */
export function leastProduct(row: Row, parts: number, limit?: Limit): Split | undefined {
  const low = lowest(row, limit);
  if (low === undefined) return undefined;
  const begins: Int32Array[] = [];
  let costs = new Float64Array(row.size).fill(Number.POSITIVE_INFINITY);
  let reach = -1;
  for (let end = 0; end < row.size && at(low, end) === 0; end += 1) {
    costs[end] = at(row.doses, end) * at(row.before, end + 1);
    reach = end;
  }
  begins.push(new Int32Array(row.size));
  let best = { parts: 1, total: at(costs, row.size - 1) };
  for (let part = 2; part <= Math.min(parts, row.size); part += 1) {
    const next = nextPart(row, low, costs, reach, part);
    costs = next.costs;
    reach = next.reach;
    begins.push(next.begins);
    if (at(costs, row.size - 1) < best.total) best = { parts: part, total: at(costs, row.size - 1) };
  }
  if (best.total === Number.POSITIVE_INFINITY) return undefined;
  const ends: number[] = [];
  let end = row.size - 1;
  for (let part = best.parts; part >= 1; part -= 1) {
    ends.unshift(end);
    end = at(at(begins, part - 1), end) - 1;
  }
  return { ends, total: best.total, worst: worstOf(row, ends) };
}

type Part = { costs: Float64Array<ArrayBuffer>; begins: Int32Array; reach: number };

/** One part more: `costs` are the best of the parts before it, finite up to `reach`. */
function nextPart(row: Row, low: Int32Array, costs: Float64Array, reach: number, part: number): Part {
  const found = new Float64Array(row.size).fill(Number.POSITIVE_INFINITY);
  const begins = new Int32Array(row.size);
  let last = part - 1;
  while (last < row.size && at(low, last) <= reach + 1) last += 1;
  last -= 1;
  const search = (from: number, to: number, lowBegin: number, highBegin: number): void => {
    if (from > to) return;
    const end = (from + to) >> 1;
    const first = Math.max(lowBegin, at(low, end), part - 1);
    const final = Math.min(highBegin, end, reach + 1);
    const dose = at(row.doses, end);
    const heads = at(row.before, end + 1);
    let least = Number.POSITIVE_INFINITY;
    let begin = first;
    for (let i = first; i <= final; i += 1) {
      const cost = at(costs, i - 1) + dose * (heads - at(row.before, i));
      if (cost < least) {
        least = cost;
        begin = i;
      }
    }
    found[end] = least;
    begins[end] = begin;
    search(from, end - 1, lowBegin, begin);
    search(end + 1, to, begin, highBegin);
  };
  search(part - 1, last, part - 1, row.size - 1);
  return { costs: found, begins, reach: last };
}

function worstOf(row: Row, ends: readonly number[]): Fraction {
  let worst: Fraction | undefined;
  let begin = 0;
  for (const end of ends) {
    const ratio = fraction(at(row.scaledDoses, end), at(row.scaledExact, begin));
    if (worst === undefined || compare(ratio, worst) > 0) worst = ratio;
    begin = end + 1;
  }
  if (worst === undefined) throw new RangeError('A split has at least one part.');
  return worst;
}

/** Ratios are looked for in these steps, and from so many of them on one by one. */
const PIVOT = 2n ** 40n;
const CLOSE = 1000n;

/**
 * The least worst overdose in at most so many parts using no more than `mostTotal`, and of those the least product.
 * `start` is any split that keeps to it.
 */
export function leastWorst(row: Row, parts: number, mostTotal: number, start: Split): Split {
  let best = start;
  const better = (limit: Limit): boolean => {
    const split = leastProduct(row, parts, limit);
    if (split === undefined || split.total > mostTotal) return false;
    best = split;
    return true;
  };
  const inSteps = ({ n, d }: Fraction) => (n * PIVOT) / d;
  let low = PIVOT;
  let high = inSteps(best.worst);
  while (high - low > CLOSE) {
    const middle = (low + high) / 2n;
    if (better({ ratio: fraction(middle, PIVOT) })) high = inSteps(best.worst);
    else low = middle;
  }
  // From here on until nothing is better than the best.
  while (better({ ratio: best.worst, under: true }));
  // A start that nothing beats may still use more product than it must.
  better({ ratio: best.worst });
  return best;
}
