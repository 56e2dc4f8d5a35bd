import { type Amount, amountOf, baseOf, printAmount } from '../quantity/amount.ts';
import { quoted, sayField } from '../quantity/field.ts';
import { attempt, Refusal } from '../refusal.ts';
import { parseLocal } from '../time/zone.ts';
import type { Step } from '../working.ts';
import { at, type SumTable, sumTable, wholeUnits } from './packs-table.ts';
import type { PackCounts, PackDay, PackPlan, PacksAsk } from './packs-types.ts';
import { packSteps } from './packs-working.ts';
import { parseInUse, unusableOnceOpened, usableAt } from './use-by.ts';

/**
 * The cheapest packs that cover every dated need, when a pack that was opened dies after its in-use life. Nothing is
 * opened before what is open is used up: opening later is never worse. So at most one pack stands open between two
 * needs, and all there is to remember is what is left in it and how long it lasts. Equal to trying every mix, which
 * a property test does.
 */

/** As many as an outlook has days. */
export const MOST_NEEDS = 731;
export const MOST_PACKS = 12;
/** Whole minor units; far above any pack, and small enough that sums stay exact. */
export const MOST_PRICE = 1_000_000_000;
/** At most so many ways are weighed up before the question is refused. */
export const MOST_WAYS = 3_000_000;

type Occasion = { readonly on: string; readonly need: number };
type State = {
  readonly cost: number;
  readonly bought: number;
  readonly count: number;
  readonly left: number;
  /** The last occasion that what is left can serve. */
  readonly until: number;
  /** The sum of packs opened here, in units of the table. */
  readonly sum: number;
  readonly opened: number;
  readonly before?: State | undefined;
};

/**
 * The cheapest mix; of equal ones the one with least left over, then the fewest packs. Refuses `no-needs`, `no-packs`,
 * `too-many-needs`, `too-many-packs`, `units-do-not-match`, `bad-amount`, `bad-price`, `bad-day`, `bad-time`,
 * `bad-period`, `bad-zone`, and beyond its bounds `too-many-sums` or `too-many-ways`.
 */
export function planPacks(ask: PacksAsk): PackPlan & { readonly working: readonly Step[] } {
  checkOffers(ask);
  const occasions = occasionsOf(ask);
  const most = occasions.reduce((high, { need }) => Math.max(need, high), 0);
  const packs = ask.packs.map(({ size, price }) => ({ size: baseOf(size), price }));
  const table = sumTable(packs, most);
  const ends = occasions.map(({ on }) => endOf(on, ask));
  const lasts = occasions.map((_, i) => lastServed(i, occasions, ends));
  const best = cheapest(occasions, lasts, table);
  const days = daysOf(best, occasions, ends, table);
  const counts = packs.map((_, i) => days.reduce((sum, { opens }) => sum + (opens[i] ?? 0), 0));
  const needed = occasions.reduce((sum, { need }) => sum + need, 0);
  const kind = ask.packs[0]?.size.kind ?? 'volume';
  const plan = {
    buy: counts
      .flatMap((count, pack) => (count === 0 ? [] : [{ pack, count }]))
      .toSorted((a, b) => (packs[a.pack]?.size ?? 0) - (packs[b.pack]?.size ?? 0)),
    cost: best.cost,
    leftOver: amountOf(kind, best.bought * table.unit - needed),
    days,
  };
  const keeping = lasts.every((last) => last === occasions.length - 1)
    ? undefined
    : ifTheyKept(occasions, table, packs.length);
  return { ...plan, working: packSteps(ask, plan, keeping) };
}

function refuse(code: string, field: string, says: string, next?: string): Refusal {
  return new Refusal(code, `${sayField(field)}: ${says}`, { field, next });
}

function checkOffers({ needs, packs }: PacksAsk): void {
  if (needs.length === 0) throw refuse('no-needs', 'needs', 'say on which day how much is needed.');
  if (packs.length === 0) throw refuse('no-packs', 'packs', 'say which sizes can be bought, at what price.');
  if (needs.length > MOST_NEEDS)
    throw refuse('too-many-needs', 'needs', `at most ${MOST_NEEDS} are taken at a time.`);
  if (packs.length > MOST_PACKS)
    throw refuse('too-many-packs', 'packs', `at most ${MOST_PACKS} sizes are compared at a time.`);
  const kind = packs[0]?.size.kind;
  const check = (amount: Amount, field: string) => {
    if (amount.kind !== kind) {
      const message = `${quoted(printAmount(amount))} and the first pack are not measured in the same unit.`;
      throw refuse('units-do-not-match', field, message, 'Write all needs and packs in the same unit.');
    }
    if (baseOf(amount) <= 0) throw refuse('bad-amount', field, 'it must be above zero.');
  };
  for (const [i, { size, price }] of packs.entries()) {
    check(size, `packs.${i}.size`);
    if (!Number.isSafeInteger(price) || price < 0)
      throw refuse('bad-price', `packs.${i}.price`, 'it must be nought or above.');
    if (price > MOST_PRICE) throw refuse('bad-price', `packs.${i}.price`, 'it is too much to be real.');
  }
  for (const [i, { amount }] of needs.entries()) check(amount, `needs.${i}.amount`);
}

/** Needs by occasion, the earliest first; those of the same day, or day and time, are added. */
function occasionsOf({ needs }: PacksAsk): Occasion[] {
  const byOn = new Map<string, number>();
  let total = 0;
  for (const [i, need] of needs.entries()) {
    const { day, time } = parseLocal(need.on, `needs.${i}.on`);
    const on = time === undefined ? day : `${day}T${time}`;
    total += baseOf(need.amount);
    if (!Number.isSafeInteger(total))
      throw refuse('bad-amount', `needs.${i}.amount`, 'it is too much to be real.');
    byOn.set(on, (byOn.get(on) ?? 0) + baseOf(need.amount));
  }
  return [...byOn].map(([on, need]) => ({ on, need })).toSorted((a, b) => (a.on < b.on ? -1 : 1));
}

/** A day no need can be on: the packs to be bought have no expiry here. */
const NEVER = '9999-12-31';

function endOf(on: string, { inUse, zone }: PacksAsk): string | undefined {
  if (inUse === undefined || parseInUse(inUse) === 'none') return undefined;
  return unusableOnceOpened({ opened: on, zone: zone ?? 'UTC', inUse, unopenedUntil: NEVER });
}

/** The last of the occasions in a row that a pack opened at one can serve: always that one itself. */
function lastServed(
  i: number,
  occasions: readonly Occasion[],
  ends: readonly (string | undefined)[],
): number {
  const end = ends[i];
  if (end === undefined) return occasions.length - 1;
  let last = i;
  for (let next = occasions[last + 1]; next !== undefined; next = occasions[last + 1]) {
    if (!usableAt(end, next.on)) break;
    last += 1;
  }
  return last;
}

function cheapest(occasions: readonly Occasion[], lasts: readonly number[], table: SumTable): State {
  let ways = 0;
  const count = (more: number) => {
    ways += more;
    if (ways <= MOST_WAYS) return;
    const says = 'there are too many mixes of these packs over these days to weigh each up.';
    throw refuse('too-many-ways', 'packs', says, 'Leave a size out, or plan fewer days at a time.');
  };
  let states: State[] = [{ cost: 0, bought: 0, count: 0, left: 0, until: -1, sum: 0, opened: -1 }];
  for (const [i, { need }] of occasions.entries()) {
    const next: State[] = [];
    for (const before of states) {
      const open = before.until >= i ? before.left : 0;
      if (open >= need) {
        next.push({ ...before, left: open - need, sum: 0, before });
        continue;
      }
      const short = need - open;
      const least = wholeUnits(short, table.unit);
      count(table.widest);
      for (let sum = least; sum < least + table.widest; sum += 1) {
        const left = sum * table.unit - short;
        // A pack that would stay untouched is better opened another day.
        if (at(table.cost, sum) === Number.POSITIVE_INFINITY || left >= at(table.smallest, sum)) continue;
        next.push({
          cost: before.cost + at(table.cost, sum),
          bought: before.bought + sum,
          count: before.count + at(table.count, sum),
          left,
          until: lasts[i] ?? i,
          sum,
          opened: i,
          before,
        });
      }
    }
    states = worthKeeping(next, i, count);
  }
  const best = states[0];
  if (best === undefined) throw new RangeError('Packs above zero always cover a need.');
  if (!Number.isSafeInteger(best.cost))
    throw refuse('bad-price', 'packs', 'all together is too dear to be real.');
  return best;
}

const byWorth = (a: State, b: State) =>
  a.cost - b.cost || a.bought - b.bought || a.count - b.count || b.until - a.until || b.left - a.left;

/** Leaves out what is no better than another in any way: dearer, less left, sooner dead. */
function worthKeeping(states: State[], i: number, count: (more: number) => void): State[] {
  const kept: State[] = [];
  const serves = ({ left, until }: State) => (until > i ? left : 0);
  for (const state of states.toSorted(byWorth)) {
    count(kept.length);
    const beaten = kept.some((other) => {
      if (serves(state) === 0) return true;
      return serves(other) >= serves(state) && other.until >= state.until;
    });
    if (!beaten) kept.push(state);
  }
  return kept;
}

function daysOf(
  last: State,
  occasions: readonly Occasion[],
  ends: readonly (string | undefined)[],
  table: SumTable,
): PackDay[] {
  const path: State[] = [];
  for (let state: State | undefined = last; state?.before !== undefined; state = state.before)
    path.unshift(state);
  return path.map((state, i) => {
    const occasion = occasions[i];
    if (occasion === undefined) throw new RangeError('There is a state for each occasion.');
    const bought = state.sum * table.unit;
    return {
      on: occasion.on,
      need: occasion.need,
      fromOpen: occasion.need + state.left - bought,
      opens: table.packsOf(state.sum),
      left: state.left,
      unusableFrom: ends[state.opened],
      servesNext: state.left > 0 && state.until > i,
    };
  });
}

/**
 * What would do if opened packs kept: said beside the answer, so that nobody buys by the sum. It is no part of the
 * answer, so where it takes too long by itself it is left out.
 */
function ifTheyKept(occasions: readonly Occasion[], table: SumTable, packs: number): PackCounts | undefined {
  const last = occasions.length - 1;
  const found = attempt(() =>
    cheapest(
      occasions,
      occasions.map(() => last),
      table,
    ),
  );
  if (!found.ok) return undefined;
  const best = found.value;
  const counts = Array.from({ length: packs }, () => 0);
  for (let state: State | undefined = best; state !== undefined; state = state.before) {
    for (const [i, count] of table.packsOf(state.sum).entries()) counts[i] = (counts[i] ?? 0) + count;
  }
  return { cost: best.cost, counts };
}
