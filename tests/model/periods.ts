import type { LabelTerms, PeriodRow } from '../../src-shared/label/terms.ts';
import { atTime, dayBegins } from './zones.ts';

const HOUR = 3_600_000;

/** When produce may be taken again: milliseconds, or Infinity for what time never ends. */
export type Clear = number;
export type Counting = '24-hour' | 'whole-days' | 'later';
export type House = { counting: Counting; marginDays: number };
/** What is known of a dose that its period is counted from. */
export type Dose = { class: string; route: string; doseLine: string; zone: string; house: House };

/** How a period is read and counted; a deliberate fault replaces one of these. */
export type PeriodRules = {
  /** The instant a local day or time stands for when a hold is counted from it. */
  countedFrom(local: string, zone: string): number;
  /** Whole days: how many days after the day of the dose the day begins on which produce may be taken. */
  daysOn(days: number): number;
  countingOf(house: House): Counting;
  notStated: Clear;
  matches(row: PeriodRow, dose: Dose): boolean;
  /** Of several periods for one produce. */
  governing(clears: readonly Clear[]): Clear;
};

const listed = (list: readonly string[], one: string) => list.length === 0 || list.includes(one);

export const PERIOD_RULES: PeriodRules = {
  countedFrom: (local, zone) =>
    local.length > 10 ? atTime(local, zone) : dayBegins(local.slice(0, 10), zone, 1),
  daysOn: (days) => days + 1,
  countingOf: (house) => house.counting,
  notStated: Number.POSITIVE_INFINITY,
  matches: (row, dose) =>
    listed(row.classes, dose.class) && listed(row.routes, dose.route) && listed(row.doseLines, dose.doseLine),
  governing: (clears) => Math.max(...clears),
};

/** "28 d", "6 weeks", "72 h", "35 d + 36 h": days, or hours as soon as one part is in hours. */
export function readPeriod(text: string): { days: number } | { hours: number } {
  const parts = text.split('+').map((part) => /^\s*(\d+)\s*([dhw])/i.exec(part));
  let hours = 0;
  let clock = false;
  for (const part of parts) {
    if (!part) throw new Error(`the model cannot read the period ${text}`);
    const unit = (part[2] ?? '').toLowerCase();
    clock ||= unit === 'h';
    hours += Number(part[1]) * (unit === 'h' ? 1 : unit === 'd' ? 24 : 168);
  }
  return clock ? { hours } : { days: hours / 24 };
}

/** When a period that is counted from a local day or time has passed. */
export function passes(period: string, local: string, dose: Dose, rules: PeriodRules): Clear {
  const from = rules.countedFrom(local, dose.zone);
  const margin = dose.house.marginDays * 24 * HOUR;
  const read = readPeriod(period);
  if ('hours' in read) return from + read.hours * HOUR + margin;
  if (read.days === 0) return from + margin;
  const elapsed = from + read.days * 24 * HOUR;
  const calendar = dayBegins(local.slice(0, 10), dose.zone, rules.daysOn(read.days));
  const counting = rules.countingOf(dose.house);
  if (counting === '24-hour') return elapsed + margin;
  if (counting === 'whole-days') return calendar + margin;
  return Math.max(elapsed, calendar) + margin;
}

function rowClears(row: PeriodRow, local: string, dose: Dose, rules: PeriodRules): Clear {
  if (row.says === 'for-life' || row.says === 'not-for-this-produce') return Number.POSITIVE_INFINITY;
  const period = row.says === 'zero' ? '0 d' : row.value;
  if (row.says === 'not-stated' || period === undefined) return rules.notStated;
  // Counted from something other than the dose, zero too: no line of the book says yet when that was.
  if (row.countedFrom !== 'last-dose') return Number.POSITIVE_INFINITY;
  return passes(period, local, dose, rules);
}

/** When a produce is clear by one label; nothing when the label does not speak of that market (or of wool) at all. */
function byLabel(
  terms: LabelTerms,
  produce: string,
  market: string,
  local: string,
  dose: Dose,
  rules: PeriodRules,
): Clear | undefined {
  const rows = terms.periods.filter((row) => row.produce === produce && row.market === market);
  if (rows.length === 0 && !(market === 'domestic' && (produce === 'meat' || produce === 'milk')))
    return undefined;
  const mine = rows.filter((row) => rules.matches(row, dose));
  if (mine.length === 0) return rules.notStated;
  return rules.governing(mine.map((row) => rowClears(row, local, dose, rules)));
}

/**
 * When a produce is clear after doses by several labels (boxes of two revisions, medicines that may all have been
 * given): the longest. A label without a word on export counts for export with its domestic period, where another one
 * has such a word.
 */
export function labelsClear(
  labels: readonly { terms: LabelTerms; dose: Dose }[],
  produce: string,
  market: string,
  local: string,
  rules: PeriodRules,
): Clear | undefined {
  const clears = labels.map(({ terms, dose }) => ({
    here: byLabel(terms, produce, market, local, dose, rules),
    instead: byLabel(terms, produce, 'domestic', local, dose, rules),
  }));
  if (clears.every(({ here }) => here === undefined)) return undefined;
  return rules.governing(clears.flatMap(({ here, instead }) => here ?? instead ?? []));
}
