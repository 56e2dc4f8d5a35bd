/** What several runs of the same work gave, in one unit. */
export type Spread = { readonly values: readonly number[]; readonly unit: string };

/** One printed line: what was measured, and what it is compared with. */
export type Line = {
  readonly what: string;
  readonly was: Spread;
  /** The same work on something else, or other work that bounds it from below. */
  readonly beside?: { readonly what: string; readonly was: Spread };
  /** What it must not exceed, in the same unit. */
  readonly limit?: number;
};

/** The middle value; of an even number of values the mean of the two in the middle. */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  const upper = sorted[Math.floor(middle)];
  const lower = sorted[Math.ceil(middle) - 1];
  if (upper === undefined || lower === undefined) throw new Error('nothing was measured');
  return (lower + upper) / 2;
}

/** Milliseconds that one run of the work took. */
export async function timed(work: () => unknown): Promise<number> {
  const begun = performance.now();
  await work();
  return performance.now() - begun;
}

/**
 * Runs works by turns, so that whatever else the machine does meanwhile falls on all of them alike.
 * @returns the milliseconds of each, in the order in which the works were given
 */
export async function byTurns(
  runs: number,
  ...works: readonly ((run: number) => unknown)[]
): Promise<Spread[]> {
  const times = works.map((): number[] => []);
  for (let run = 0; run < runs; run += 1) {
    for (const [n, work] of works.entries()) times[n]?.push(await timed(() => work(run)));
  }
  return times.map((values) => ({ values, unit: 'ms' }));
}

function printed(value: number): string {
  const digits = value >= 100 ? 0 : value >= 10 ? 1 : 2;
  return value.toLocaleString('en-GB', { maximumFractionDigits: digits, minimumFractionDigits: 0 });
}

function printSpread({ values, unit }: Spread): string {
  const [first] = values;
  // A size is the same each time; a time taken once is not to be relied on.
  if (values.length === 1 && first !== undefined)
    return `${printed(first)} ${unit}${unit === 'ms' ? ' (one run)' : ''}`;
  const ends = [Math.min(...values), Math.max(...values)].map(printed).join('–');
  return `${printed(median(values))} ${unit} (${ends}, ${values.length} runs)`;
}

/** "clear list: 212 ms (198–240, 7 runs); beside 95 ms (…) for reading the same rows: 2.2 times". */
export function printLine({ what, was, beside, limit }: Line): string {
  const parts = [`${what}: ${printSpread(was)}`];
  if (beside !== undefined) {
    const ratio = median(was.values) / median(beside.was.values);
    parts.push(`beside ${printSpread(beside.was)} for ${beside.what}: ${printed(ratio)} times`);
  }
  if (limit !== undefined) {
    const verdict = median(was.values) <= limit ? 'kept' : 'NOT KEPT';
    parts.push(`limit ${printed(limit)} ${was.unit}, ${verdict}`);
  }
  return parts.join('; ');
}
