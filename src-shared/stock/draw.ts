import { compareUnusable, lastUsableDay, stateAt } from './use-by.ts';

/** A container as it can be drawn from. `left_units` are whole microlitres, micrograms or pieces. */
export type StockRow = {
  id: string;
  label: string;
  medicine: string;
  /** The revision in the box it came in. */
  revision: string;
  /** Id of the batch; nothing when it was made up on the farm. */
  batch: string | null;
  /** The batch number as printed; of what was made up on the farm, the text that stands for it, or nothing. */
  number: string;
  kind: 'volume' | 'mass' | 'pieces';
  received: number;
  left_units: number;
  /** As recorded: sealed, open, quarantined, disposed, returned. */
  state: string;
  /** Local time of opening. */
  opened: string | null;
  /** First local time at which it may no longer be used, and the same by its expiry alone. */
  unusable_from: string;
  unopened_until: string;
  store: string | null;
  strength: string | null;
  counted: string | null;
  /** When it came in: the instant its delivery sorts by, and the local time of it. */
  since_at: string | null;
  since_local: string | null;
};

export type Draw = { readonly container: string; readonly take: number };

/** Whether it may be planned with at a local time: open or sealed, in date, with something left. */
export function usable(row: StockRow, now: string): boolean {
  const state = stateAt(row, now);
  return state === 'open' || state === 'sealed';
}

/**
 * Order of use: earliest use-by day first (the WHO calls it EEFO, earliest expiry first out), opened before sealed
 * on the same day, then by the hour, then the one with less left, then by label.
 */
export function compareForUse(a: StockRow, b: StockRow): number {
  const keyed = (row: StockRow): Keyed => ({ row, day: lastUsableDay(row.unusable_from) });
  return compareKeyed(keyed(a), keyed(b));
}

type Keyed = { row: StockRow; day: string };

function compareKeyed({ row: a, day: dayA }: Keyed, { row: b, day: dayB }: Keyed): number {
  if (dayA !== dayB) return dayA < dayB ? -1 : 1;
  const opened = Number(a.opened === null) - Number(b.opened === null);
  if (opened !== 0) return opened;
  const hour = compareUnusable(a.unusable_from, b.unusable_from);
  if (hour !== 0) return hour;
  if (a.left_units !== b.left_units) return a.left_units - b.left_units;
  return a.label < b.label ? -1 : a.label > b.label ? 1 : a.id < b.id ? -1 : Number(a.id > b.id);
}

/**
 * Which containers give `need` base units, in order of use. Never from what is expired, past its in-use life, in
 * quarantine, gone or empty. `keep` names containers already in hand (the bottle on the gun): while they may be
 * used they come first, in the order given. Of sealed ones that end together as few as possible are opened, and of
 * those that would do for the rest the smallest. What cannot be met is `short`, in base units; nothing is refused.
 * Throws RangeError when `need` is no whole number of base units from 0 up: a mistake in a program.
 */
export function planDraw(
  containers: readonly StockRow[],
  need: number,
  options: { now: string; keep?: readonly string[] | undefined },
): { draws: Draw[]; short: number } {
  if (!Number.isSafeInteger(need) || need < 0) {
    throw new RangeError(`A need must be a whole number of base units: ${need}.`);
  }
  const inHand = new Map((options.keep ?? []).map((id, i) => [id, i] as const));
  const rank = (row: StockRow) => inHand.get(row.id) ?? inHand.size;
  // The day is worked out once a container and not once a comparison: a mass run plans for every head.
  const order = containers
    .filter((row) => usable(row, options.now))
    .map((row) => ({ row, day: lastUsableDay(row.unusable_from) }))
    .sort((a, b) => rank(a.row) - rank(b.row) || compareKeyed(a, b))
    .map(({ row }) => row);
  const draws: Draw[] = [];
  let short = need;
  for (let i = 0; i < order.length && short > 0; ) {
    const alike = endingTogether(order, i, (row) => inHand.has(row.id));
    i += alike.length;
    for (const row of fewest(alike, short)) {
      const take = Math.min(short, row.left_units);
      draws.push({ container: row.id, take });
      short -= take;
    }
  }
  return { draws, short };
}

/** The container at a place in the order, with the sealed ones behind it that end when it does. */
function endingTogether(order: readonly StockRow[], from: number, isInHand: (row: StockRow) => boolean) {
  const first = order[from];
  const isFree = (row: StockRow | undefined) => row !== undefined && row.opened === null && !isInHand(row);
  let end = from + 1;
  if (isFree(first)) {
    while (isFree(order[end]) && order[end]?.unusable_from === first?.unusable_from) end += 1;
  }
  return order.slice(from, end);
}

/** As few of them as give the need: the largest, but for the last one the smallest that does for the rest. */
function fewest(alike: readonly StockRow[], need: number): readonly StockRow[] {
  const all = alike.reduce((sum, row) => sum + row.left_units, 0);
  if (alike.length === 1 || all <= need) return alike;
  const bySize = alike.toSorted((a, b) => b.left_units - a.left_units);
  let rest = need;
  const taken: StockRow[] = [];
  for (const row of bySize) {
    if (row.left_units >= rest) break;
    taken.push(row);
    rest -= row.left_units;
  }
  const last = alike.find((row) => !taken.includes(row) && row.left_units >= rest);
  return last === undefined ? taken : [...taken, last];
}
