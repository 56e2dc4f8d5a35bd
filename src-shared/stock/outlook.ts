import { type Amount, amountOf, baseOf, printAmount } from '../quantity/amount.ts';
import { ceilingOf, type Fraction, fraction, multiply, toPlaces, ZERO } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import { addDays, type Day, printDay } from '../time/day.ts';
import { checkZone } from '../time/zone.ts';
import type { Step } from '../working.ts';
import { compareForUse, planDraw } from './draw.ts';
import { OTHER_USE } from './outlook-said.ts';
import type {
  Gone,
  Outlook,
  OutlookAsk,
  OutlookContainer,
  OutlookDay,
  PlannedWork,
} from './outlook-types.ts';
import { costByCurrency, unusedOf } from './outlook-unused.ts';
import { outlookWarnings } from './outlook-warnings.ts';
import { parseInUse, type StockState, stateAt, unusableOnceOpened, usableAt } from './use-by.ts';

/**
 * The stock of one medicine day by day: planned work and other use drawn under earliest use-by, packs opened only when
 * they are needed. It errs early: where only the day is known, a container that dies in the course of it is not
 * counted on. The same question always has the same answer.
 */

export const MOST_DAYS_AHEAD = 731;
/** Days of an order that can be believed. */
const MOST_LEAD = 365;

/**
 * Refuses `bad-days`, `bad-lead`, `bad-use`, `bad-amount`, `bad-period`, `bad-zone`, and `units-do-not-match` where a
 * container, a need or the use is of another kind. What is not known is never taken as nothing without being said.
 */
export function lookAhead(ask: OutlookAsk): Outlook {
  check(ask);
  const perDay = perDayOf(ask);
  let stock = ask.containers.filter((row) => isCounted(row, ask.today)).toSorted(compareForUse);
  const days: OutlookDay[] = [];
  const gone: (Gone & { day: Day })[] = [];
  const shortOf = new Map<Day, readonly string[]>();
  let next = ask.today;
  for (let n = 0; n < ask.days; n += 1) {
    const day = next;
    next = addDays(day, 1);
    const work = ask.planned.filter(({ on }) => on === day);
    const otherUse = otherUseOn(perDay, n);
    const done = playDay(stock, { day, next, work, otherUse }, ask);
    stock = done.stock;
    days.push(done.row);
    gone.push(...done.row.gone.map((one) => ({ ...one, day })));
    if (done.row.short > 0) shortOf.set(day, done.shortOf);
  }
  const first = days.find(({ short }) => short > 0);
  const missing = days
    .filter(({ short }) => short > 0)
    .map(({ day, short }) => ({ on: day, amount: amountOf(ask.kind, short) }));
  const orderBy = first === undefined ? undefined : orderByOf(first.day, ask);
  const unused = unusedOf(gone, ask.containers);
  const warnings = outlookWarnings(ask, unused);
  return {
    days,
    ...(first === undefined
      ? {}
      : { runOut: { day: first.day, short: first.short, what: shortOf.get(first.day) ?? [] } }),
    missing,
    unused,
    unusedCost: costByCurrency(unused),
    ...(orderBy === undefined ? {} : { orderBy }),
    notCounted: ask.containers
      .filter((row) => !isCounted(row, ask.today) && STANDS_UNUSED.has(stateAt(row, ask.today)))
      .map((row) => ({ label: row.label, state: stateAt(row, ask.today), left: row.left_units })),
    mayEndSooner: warnings.some(({ code }) => SOONER.has(code)),
    working: workingOf(ask, perDay, first?.day, orderBy?.day),
    warnings,
  };
}

const SOONER: ReadonlySet<string> = new Set(['use-unknown', 'need-unknown', 'in-use-unknown', 'overdue']);

/** What stands on the shelf and may not be used; what was used up, disposed of or returned does not stand there. */
const STANDS_UNUSED: ReadonlySet<StockState> = new Set<StockState>(['expired', 'past-in-use', 'quarantined']);

function isCounted(row: OutlookContainer, day: Day): boolean {
  const state = stateAt(row, day);
  return state === 'open' || state === 'sealed';
}

function check(ask: OutlookAsk): void {
  const refuse = (code: string, field: string, message: string) => new Refusal(code, message, { field });
  if (!Number.isInteger(ask.days) || ask.days < 1 || ask.days > MOST_DAYS_AHEAD) {
    throw refuse('bad-days', 'days', `Days: look ahead from 1 to ${MOST_DAYS_AHEAD} days.`);
  }
  const { leadDays, pastUse } = ask;
  checkZone(ask.zone, 'zone');
  if (ask.inUse !== undefined) parseInUse(ask.inUse);
  if (leadDays !== undefined && (!Number.isInteger(leadDays) || leadDays < 0 || leadDays > MOST_LEAD)) {
    throw refuse('bad-lead', 'leadDays', `Lead days: give whole days from 0 to ${MOST_LEAD}.`);
  }
  const fits = (amount: Amount, field: string, name: string) => {
    if (amount.kind !== ask.kind) {
      throw refuse('units-do-not-match', field, `${name}: it is not measured as this medicine is.`);
    }
    if (baseOf(amount) < 0) throw refuse('bad-amount', field, `${name}: it cannot be below zero.`);
  };
  for (const [i, { need }] of ask.planned.entries()) {
    if (need !== undefined) fits(need, `planned.${i}.need`, 'Need');
  }
  for (const [i, { kind, label }] of ask.containers.entries()) {
    if (kind === ask.kind) continue;
    throw refuse(
      'units-do-not-match',
      `containers.${i}`,
      `${label}: it is not measured as this medicine is.`,
    );
  }
  if (pastUse === undefined) return;
  fits(pastUse.used, 'pastUse.used', 'Used');
  if (!Number.isInteger(pastUse.days) || pastUse.days < 1) {
    throw refuse('bad-use', 'pastUse.days', 'Days of use: say over how many whole days it was used, from 1.');
  }
}

function perDayOf({ pastUse }: OutlookAsk): Fraction {
  return pastUse === undefined ? ZERO : fraction(baseOf(pastUse.used), pastUse.days);
}

/** Whole units on day `n`, so that the sum of all days so far is never below the rate. */
function otherUseOn(perDay: Fraction, n: number): number {
  const upTo = (days: number) => ceilingOf(multiply(perDay, fraction(days)));
  return Number(upTo(n + 1) - upTo(n));
}

type DayWork = {
  readonly day: Day;
  readonly next: Day;
  readonly work: readonly PlannedWork[];
  readonly otherUse: number;
};

/** One day of stock that stands in the order of use, and stays in it. */
function playDay(
  stock: readonly OutlookContainer[],
  { day, next, work, otherUse }: DayWork,
  ask: OutlookAsk,
): { stock: OutlookContainer[]; row: OutlookDay; shortOf: string[] } {
  const needs = work.map(({ what, need }) => ({ what, base: need === undefined ? 0 : baseOf(need) }));
  const planned = needs.reduce((sum, { base }) => sum + base, 0);
  const start = stock.reduce((sum, row) => sum + row.left_units, 0);
  const { draws, short } = planDraw(firstFew(stock, planned + otherUse), planned + otherUse, { now: day });
  const taken = new Map(draws.map(({ container, take }) => [container, take]));
  const opened: string[] = [];
  const gone: Gone[] = [];
  const moved: OutlookContainer[] = [];
  const stay = stock.flatMap((before): OutlookContainer[] => {
    const take = taken.get(before.id) ?? 0;
    if (take > 0 && before.opened === null) opened.push(before.label);
    const row = take === 0 ? before : drawn(before, take, day, ask);
    if (row.left_units === 0) return [];
    if (usableAt(row.unusable_from, next)) {
      // Opened, it may have to be used before others.
      if (row.opened === before.opened) return [row];
      moved.push(row);
      return [];
    }
    // An expiry that comes with the end of its in-use life is named as the expiry.
    const why = usableAt(row.unopened_until, next) ? 'past-in-use' : 'expired';
    gone.push({ container: row.id, label: row.label, amount: row.left_units, why });
    return [];
  });
  const after = moved.reduce(putInOrder, stay);
  const end = after.reduce((sum, row) => sum + row.left_units, 0);
  const row = { day, start, planned, otherUse, drawn: planned + otherUse - short, short, opened, gone, end };
  return { stock: after, row, shortOf: shortNames(needs, otherUse, short) };
}

/** The containers that are enough for a need: sorting hundreds for each of hundreds of days would take seconds. */
function firstFew(stock: readonly OutlookContainer[], need: number): readonly OutlookContainer[] {
  let there = 0;
  const enough = stock.findIndex(({ left_units }) => {
    there += left_units;
    return there >= need;
  });
  return enough < 0 ? stock : stock.slice(0, enough + 1);
}

function putInOrder(stock: readonly OutlookContainer[], row: OutlookContainer): OutlookContainer[] {
  const at = stock.findIndex((other) => compareForUse(row, other) < 0);
  return at < 0 ? [...stock, row] : stock.toSpliced(at, 0, row);
}

function drawn(row: OutlookContainer, take: number, day: Day, { zone, inUse }: OutlookAsk): OutlookContainer {
  const left = { ...row, left_units: row.left_units - take };
  if (row.opened !== null) return left;
  const unusable = unusableOnceOpened({ opened: day, zone, inUse, unopenedUntil: row.unopened_until });
  return { ...left, state: 'open', opened: day, unusable_from: unusable };
}

/** Planned work is met in its order and other use last; named is what is not met in full. */
function shortNames(
  needs: readonly { what: string; base: number }[],
  otherUse: number,
  short: number,
): string[] {
  const names: string[] = [];
  let rest = short;
  for (const { what, base } of [...needs, { what: OTHER_USE, base: otherUse }].reverse()) {
    if (rest <= 0) break;
    if (base === 0) continue;
    names.unshift(what);
    rest -= base;
  }
  return names;
}

/** It has to stand here on the day before it is first needed (practice). */
function orderByOf(runOut: Day, { leadDays, today }: OutlookAsk): Outlook['orderBy'] {
  if (leadDays === undefined) return undefined;
  const day = addDays(runOut, -leadDays - 1);
  return { day, late: day < today };
}

function workingOf(
  ask: OutlookAsk,
  perDay: Fraction,
  runOut: Day | undefined,
  orderBy: Day | undefined,
): Step[] {
  const steps: Step[] = [];
  const { pastUse, kind } = ask;
  if (pastUse !== undefined) {
    const exact = kind === 'pieces' ? perDay : multiply(perDay, fraction(1n, 1000n));
    const unit = { volume: ' mL', mass: ' mg', pieces: '' }[kind];
    const used = printAmount(pastUse.used);
    const values = { used, days: String(pastUse.days), perDay: `${toPlaces(exact, 3)}${unit}` };
    steps.push({ code: 'outlook-use', values });
  }
  if (runOut !== undefined && orderBy !== undefined) {
    const lead = `${ask.leadDays} ${ask.leadDays === 1 ? 'day' : 'days'}`;
    const values = { runOut: printDay(runOut), lead, orderBy: printDay(orderBy) };
    steps.push({ code: 'outlook-order-by', values, source: 'Practice: here on the day before' });
  }
  return steps;
}
