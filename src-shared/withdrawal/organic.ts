import type { LabelTerms, PeriodRow } from '../label/terms.ts';
import { type Period, parsePeriod, printPeriod } from '../quantity/period.ts';
import type { Step } from '../working.ts';
import type { Decision } from './decision.ts';
import { decideHolds, type Given } from './holds.ts';
import { type Stated, withVet } from './off-label-holds.ts';

/** Whose organic rules a certificate stands for. Where none are known there is no organic date. */
export const ORGANIC_RULES = ['eu-organic', 'us-organic'] as const;
export type OrganicRules = (typeof ORGANIC_RULES)[number];

const LEAST_HOURS = 48;
const EU = 'Regulation (EU) 2018/848, Annex II, part II, 1.5.2 (second-hand)';
const US = '7 CFR 205.238 (read)';

/**
 * The second clock where it is not twice the first; nothing where the rules say nothing. EU: a vaccine as the label
 * says, and what has no end by time has none here either. United States: an antibiotic ends organic status, and nothing
 * else has a date of its own.
 */
function asItIs(rules: OrganicRules, food: Decision, purpose: string): Decision | undefined {
  if (!isSecondClock(food)) return undefined;
  if (rules === 'us-organic') return purpose === 'antibiotic' ? ended(food) : undefined;
  if (purpose !== 'vaccine') return food;
  return { ...food, rule: 'organic-vaccine', working: [...food.working, step('organic-vaccine', {}, EU)] };
}

/**
 * The second clock where the first is not the label's own: the vet's word, the least by law and what the labels print
 * are each doubled, and held against 48 h, before the longest is chosen; the one that governs for food need not govern
 * then.
 * @param food what holds by the food clock, and `label` what the labels alone decided for it
 * @param own what the labels alone decide for the second clock (`organicByLabel`)
 */
export function organicWithVet(
  rules: OrganicRules,
  purpose: string,
  { food, label, own }: { food: Decision; label: Decision; own: Decision | undefined },
  ...[labels, given, stated]: [readonly LabelTerms[], Given, Stated]
): Decision | undefined {
  const isDoubled = rules === 'eu-organic' && purpose !== 'vaccine' && isSecondClock(food);
  if (!isDoubled || stated.period === undefined) return asItIs(rules, food, purpose);
  const longest = withVet(labels, label, given, stated, { rowsOf: doubledRows, own: own ?? label });
  const working = [step('organic-twice-after', {}, EU), ...longest.working];
  return { ...longest, rule: 'organic-doubled', working };
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

/**
 * The second clock of a label: every row that fits doubled and held against 48 h for itself, because the row that governs
 * for food need not govern when all are twice as long. Meat and milk for people here; nothing where the rules say
 * nothing. Refuses what `decideHolds` refuses.
 */
export function organicByLabel(rules: OrganicRules, terms: LabelTerms, given: Given): Decision[] {
  const { purpose } = terms;
  const isDoubled = rules === 'eu-organic' && purpose !== 'vaccine';
  const own = decideHolds(isDoubled ? doubledTerms(terms) : terms, given);
  return own.flatMap((decision) => {
    if (!isDoubled) return asItIs(rules, decision, purpose) ?? [];
    if (!isSecondClock(decision)) return [];
    const working = [step('organic-twice-after', {}, EU), ...decision.working];
    return { ...decision, rule: 'organic-doubled', working };
  });
}

const doubledTerms = (terms: LabelTerms): LabelTerms => ({
  ...terms,
  periods: terms.periods.flatMap(doubledRows),
});

/** What stands for a row on the second clock of the European rules: a vaccine's stays as it is. */
export function organicRows(purpose: string, row: PeriodRow): PeriodRow[] {
  return purpose === 'vaccine' ? [row] : doubledRows(row);
}

/** A row with a period becomes two: twice the period, and 48 h. */
function doubledRows(row: PeriodRow): PeriodRow[] {
  const double = (text: string) => printPeriod(twice(parsePeriod(text, 'value')));
  if (row.says === 'zero') return [{ ...row, says: 'value', value: `${LEAST_HOURS} h` }];
  if (row.says !== 'value' || row.value === undefined) return [row];
  const { valueFromDose } = row;
  const fromDose = valueFromDose === undefined ? {} : { valueFromDose: double(valueFromDose) };
  return [
    { ...row, value: double(row.value), ...fromDose },
    { ...row, value: `${LEAST_HOURS} h`, ...fromDose },
  ];
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
