import type { LabelTerms, PeriodRow } from '../label/terms.ts';
import { ceilingOf, fraction } from '../quantity/fraction.ts';
import { hoursIn, type Period, parsePeriod, printPeriod } from '../quantity/period.ts';
import { addHours, type Instant, isoWithOffset, laterOf, millisecondsBetween } from '../time/zone.ts';
import type { Step } from '../working.ts';
import { type Clearance, clearAt } from './clearance.ts';
import type { Anchor, Decision, WaitingPart } from './decision.ts';
import { decideHolds, type Given, lastOf } from './holds.ts';

/** Whose organic rules a certificate stands for. Where none are known there is no organic date. */
export const ORGANIC_RULES = ['eu-organic', 'us-organic'] as const;
export type OrganicRules = (typeof ORGANIC_RULES)[number];

const LEAST_HOURS = 48;
const EU = 'Regulation (EU) 2018/848, Annex II, part II, 1.5.2 (second-hand)';
const US = '7 CFR 205.238 (read)';

/** What the organic clock needs of a treatment besides its food clock. */
export type OrganicGiven = Anchor & { purpose: string };

/**
 * The second clock of a certified animal from the first, where that is not the label's own (the vet's word, the least by
 * law); nothing where the rules say nothing.
 * EU: twice the period and at least 48 h, also when the period is zero; vaccines as the label says. What has no end by
 * time has none here either. United States: an antibiotic ends organic status, and nothing else has a date of its own.
 */
export function organicDecision(
  rules: OrganicRules,
  food: Decision,
  given: OrganicGiven,
): Decision | undefined {
  if (!isSecondClock(food)) return undefined;
  if (rules === 'us-organic') return given.purpose === 'antibiotic' ? ended(food) : undefined;
  if (given.purpose === 'vaccine') {
    return { ...food, rule: 'organic-vaccine', working: [...food.working, step('organic-vaccine', {}, EU)] };
  }
  if (food.event !== undefined) return doubledEvent(food, given);
  const { period } = food;
  if (food.until === undefined || period === undefined) return food;
  const clear = doubled(parsePeriod(period, 'period'), food, given);
  return { ...food, ...clear, rule: 'organic-doubled' };
}

function isSecondClock({ market, produce }: Decision): boolean {
  return market === 'domestic' && (produce === 'meat' || produce === 'milk');
}

const step = (code: string, values: Record<string, string>, source: string): Step => ({
  code,
  values,
  source,
});

function ended(food: Decision): Decision {
  const { produce, market, counting, says } = food;
  return {
    produce,
    market,
    counting,
    says,
    state: 'life',
    rule: 'organic-us-antibiotic',
    working: [step('organic-us-antibiotic', {}, US)],
  };
}

/** Twice the period; days stay days, so that the farm's way of counting them stays too. */
const twice = ({ value, unit }: Period): Period => ({ value: value * 2, unit });
const atLeast48 = (period: Period): Period =>
  hoursIn(period) < LEAST_HOURS ? { value: LEAST_HOURS, unit: 'h' } : period;

function doubled(
  period: Period,
  { counting }: Decision,
  { lastDose, zone, marginDays }: OrganicGiven,
): { until: Instant; period: string; working: Step[] } {
  const double = twice(period);
  const long: Clearance = clearAt({ lastDose, zone, period: double, counting });
  const least = clearAt({ lastDose, zone, period: { value: LEAST_HOURS, unit: 'h' }, counting });
  const isLeast = least.clearAt > long.clearAt;
  const until = addHours(laterOf(long.clearAt, least.clearAt), marginDays * 24);
  return {
    until,
    period: printPeriod(isLeast ? { value: LEAST_HOURS, unit: 'h' } : double),
    working: [
      step('organic-twice', { period: printPeriod(period), double: printPeriod(double) }, EU),
      ...(isLeast ? least.working : long.working),
      ...(marginDays === 0
        ? []
        : [{ code: 'margin', values: { days: String(marginDays), clear: isoWithOffset(until, zone) } }]),
    ],
  };
}

/** A hold that waits for an event waits for it here too, with every period behind it doubled. */
function doubledEvent(food: Decision, given: OrganicGiven): Decision {
  const part = ({ period, periodFromDose }: WaitingPart) => ({
    period: printPeriod(atLeast48(twice(parsePeriod(period, 'period')))),
    ...(periodFromDose === undefined
      ? {}
      : { periodFromDose: printPeriod(atLeast48(twice(parsePeriod(periodFromDose, 'periodFromDose')))) }),
  });
  const { period = '0 d', periodFromDose, also, atLeast } = food;
  return {
    ...food,
    ...part({ period, periodFromDose }),
    ...(also === undefined ? {} : { also: also.map(part) }),
    ...(atLeast === undefined ? {} : { atLeast: twiceAsFar(atLeast, given) }),
    rule: 'organic-doubled',
    working: [...food.working, step('organic-twice-after', {}, EU)],
  };
}

/** An end by time of which only the instant is left: twice as far from the dose, to the whole hour above. */
function twiceAsFar(end: Instant, { lastDose, zone }: OrganicGiven): Instant {
  const from = clearAt({ lastDose, zone, period: { value: 0, unit: 'd' }, counting: 'later' }).clearAt;
  const hours = Number(ceilingOf(fraction(BigInt(millisecondsBetween(from, end)), 3_600_000n)));
  return addHours(from, Math.max(LEAST_HOURS, hours * 2));
}

/**
 * The second clock of a label: every row that fits doubled and held against 48 h for itself, because the row that governs
 * for food need not govern when all are twice as long. Meat and milk for people here; nothing where the rules say
 * nothing. Refuses what `decideHolds` refuses.
 */
export function organicByLabel(rules: OrganicRules, terms: LabelTerms, given: Given): Decision[] {
  const { purpose } = terms;
  const isDoubled = rules === 'eu-organic' && purpose !== 'vaccine';
  const of = { purpose, lastDose: lastOf(given), zone: given.zone, marginDays: given.marginDays ?? 0 };
  const own = decideHolds(isDoubled ? doubledTerms(terms) : terms, given);
  return own.flatMap((decision) => {
    if (!isDoubled) return organicDecision(rules, decision, of) ?? [];
    if (!isSecondClock(decision)) return [];
    const working = [step('organic-twice-after', {}, EU), ...decision.working];
    return { ...decision, rule: 'organic-doubled', working };
  });
}

/** Each row with a period becomes two: twice the period, and 48 h. */
function doubledTerms(terms: LabelTerms): LabelTerms {
  const double = (text: string) => printPeriod(twice(parsePeriod(text, 'value')));
  const periods = terms.periods.flatMap((row): PeriodRow[] => {
    if (row.says === 'zero') return [{ ...row, says: 'value', value: `${LEAST_HOURS} h` }];
    if (row.says !== 'value' || row.value === undefined) return [row];
    const { valueFromDose } = row;
    const fromDose = valueFromDose === undefined ? {} : { valueFromDose: double(valueFromDose) };
    return [
      { ...row, value: double(row.value), ...fromDose },
      { ...row, value: `${LEAST_HOURS} h`, ...fromDose },
    ];
  });
  return { ...terms, periods };
}

/** One treatment as the count of courses sees it. */
export type Counted = { administration: string; course?: string | undefined; at: string; counts: boolean };

/** Purposes that never count among the courses. Compulsory schemes are named one by one. */
const NOT_COUNTED: readonly string[] = ['vaccine', 'parasites'];

/** Whether a medicine for this purpose makes a course that counts. */
export function countsAsCourse(purpose: string): boolean {
  return !NOT_COUNTED.includes(purpose);
}

/**
 * How many courses count in the 12 months before an instant, a course of several doses being one and each dose outside a
 * course another; the instant at which the most were counted at once, had there been more before.
 * @param most courses allowed in any 12 months: three, or one for an animal living under a year
 * @param yearBefore the same local time twelve months before an instant
 */
export function coursesIn12Months(
  treatments: readonly Counted[],
  at: string,
  most: number,
  yearBefore: (at: string) => string,
): { counted: number; lostAt?: string } {
  const first = new Map<string, string>();
  const given = treatments
    .filter((one) => one.counts && one.at <= at)
    .toSorted((a, b) => (a.at < b.at ? -1 : 1));
  for (const one of given) {
    const name = one.course === undefined ? `one ${one.administration}` : `course ${one.course}`;
    if (!first.has(name)) first.set(name, one.at);
  }
  const begun = [...first.values()];
  const within = (end: string) => begun.filter((one) => one > yearBefore(end) && one <= end).length;
  const lostAt = begun.find((one) => within(one) > most);
  return { counted: within(at), ...(lostAt === undefined ? {} : { lostAt }) };
}

/** Courses an animal may have in 12 months: three, or one where it is meant to live under a year. */
export function mostCourses(isUnderAYear: boolean): number {
  return isUnderAYear ? 1 : 3;
}
