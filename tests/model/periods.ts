import type { LabelTerms, PeriodRow } from '../../src-shared/label/terms.ts';
import { atTime, dayBegins } from './zones.ts';

const HOUR = 3_600_000;

/** When produce may be taken again: milliseconds, or Infinity for what time never ends. */
export type Clear = number;
export type Counting = '24-hour' | 'whole-days' | 'later';
/** `organic`: days of European organic certificates, as they were known. */
export type House = {
  counting: Counting;
  marginDays: number;
  organic?: readonly { from: string; until: string | undefined }[];
  /** The farm goes by the label's word on lambs at foot. */
  byYoungWord?: boolean;
};
/** What rows of a label may be counted from, besides the dose. */
export type Event = { what: string; local: string };
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
  /** Of a row counted from lambing and from the dose: which of the two ends. */
  ofTwo(fromEvent: Clear, fromDose: Clear): Clear;
  /** Whether an event of this kind is what the row waits for. */
  isAwaited(row: PeriodRow, event: Event): boolean;
  /** The periods that an organic animal is held by, of one period of the label. */
  organicOf(period: string, purpose: string): readonly string[];
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
  ofTwo: (fromEvent, fromDose) => Math.max(fromEvent, fromDose),
  isAwaited: (row, event) =>
    (row.countedFrom === 'later-of-two' ? 'lambing' : row.countedFrom) === event.what,
  organicOf: (period, purpose) => (purpose === 'vaccine' ? [period] : [doubled(period), '48 h']),
  governing: (clears) => Math.max(...clears),
};

/** Twice a period: days stay days. */
function doubled(period: string): string {
  const read = readPeriod(period);
  return 'hours' in read ? `${read.hours * 2} h` : `${read.days * 2} d`;
}

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

type How = { event?: Event | undefined; organic?: string | undefined };

function rowClears(row: PeriodRow, local: string, dose: Dose, rules: PeriodRules, how: How): Clear {
  if (row.says === 'for-life' || row.says === 'not-for-this-produce') return Number.POSITIVE_INFINITY;
  const period = row.says === 'zero' ? '0 d' : row.value;
  if (row.says === 'not-stated' || period === undefined) return rules.notStated;
  const { event, organic } = how;
  const all = (one: string, from: string) =>
    Math.max(
      ...(organic === undefined ? [one] : rules.organicOf(one, organic)).map((each) =>
        passes(each, from, dose, rules),
      ),
    );
  if (row.countedFrom === 'last-dose') return all(period, local);
  // Counted from something other than the dose, zero too: until it has happened nothing ends it.
  if (event === undefined || !rules.isAwaited(row, event)) return Number.POSITIVE_INFINITY;
  const fromEvent = all(period, event.local);
  const { valueFromDose } = row;
  if (row.countedFrom !== 'later-of-two' || valueFromDose === undefined) return fromEvent;
  const fromDose = organic === undefined ? valueFromDose : (rules.organicOf(valueFromDose, organic)[0] ?? '');
  // The farm's margin is on both already.
  return rules.ofTwo(fromEvent, passes(fromDose, local, dose, rules));
}

/** When a produce is clear by one label; nothing when the label does not speak of that market (or of wool) at all. */
function byLabel(
  terms: LabelTerms,
  produce: string,
  market: string,
  local: string,
  dose: Dose,
  rules: PeriodRules,
  how: How,
): Clear | undefined {
  const rows = terms.periods.filter((row) => row.produce === produce && row.market === market);
  if (rows.length === 0 && !(market === 'domestic' && (produce === 'meat' || produce === 'milk')))
    return undefined;
  const mine = rows.filter((row) => rules.matches(row, dose));
  if (mine.length === 0) return rules.notStated;
  return rules.governing(mine.map((row) => rowClears(row, local, dose, rules, how)));
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
  /** What has happened that rows may be counted from, and whether for the organic clock. */
  told: { event?: Event | undefined; isOrganic?: boolean } = {},
): Clear | undefined {
  const clears = labels.map(({ terms, dose }) => {
    const how = { event: told.event, organic: told.isOrganic ? terms.purpose : undefined };
    return {
      here: byLabel(terms, produce, market, local, dose, rules, how),
      instead: byLabel(terms, produce, 'domestic', local, dose, rules, how),
    };
  });
  if (clears.every(({ here }) => here === undefined)) return undefined;
  return rules.governing(clears.flatMap(({ here, instead }) => here ?? instead ?? []));
}
