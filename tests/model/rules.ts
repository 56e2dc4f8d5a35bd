import type { DataOf } from '../../src-shared/entries/all.ts';
import type { LabelTerms } from '../../src-shared/label/terms.ts';
import type { Line, OrderRules } from './facts.ts';
import { type Clear, type Event, type House, PERIOD_RULES, type PeriodRules } from './periods.ts';
import { STOCK_RULES, type StockRules } from './stock.ts';
import { atTime, dayBegins } from './zones.ts';

/** The rules of the second model, one by one, so that a deliberate fault can replace each. */
export type Rules = OrderRules &
  PeriodRules &
  StockRules & {
    /** Whether heads that leave a lot take its holds along. */
    follows(move: DataOf<'lot-moved'>): boolean;
    /** Whether what happens to the giving lot at the very moment of the move follows too. */
    momentFollows: boolean;
    /** The local time a dose of a course is counted from. */
    lastDose(happened: string, plannedLast: string | undefined, zone: string): string;
    /** Whether a treatment of some of the heads of a lot holds all of it. */
    unmarkedHoldAll: boolean;
    labelAsCorrected: boolean;
    unreadCount: boolean;
    /** Whether a record of one medicine leaves the others that were planned possibly given. */
    partlyCounts: boolean;
    /** Whether it is heard that one got none of a medicine. */
    noneIsHeard: boolean;
    /** Whether whoever may carry a needle is held, and whether a finding about one speaks for that one alone. */
    needlesHold: boolean;
    findingIsOfOne: boolean;
    /** Whether something that happened settles what waited for it, for those it happened to. */
    settles(bar: Bar, event: Event): boolean;
    /** Whether it settles what those carry who had left before, or came in afterwards. */
    settlesForAll: boolean;
    /** Which day counts for a certificate. */
    isCertified(house: House, day: string): boolean;
    /** Whether lambs carry what their dam was treated with, and only while at foot. */
    atFootHolds: boolean;
    atFootFor(from: number, foot: { from: number; until: number }): boolean;
    /** Whether a label's word on lambs that suck is heard, and whether it counts in the place of the ewe's period. */
    youngIsHeard: boolean;
    youngInstead(isRule: boolean): boolean;
    /** Whether a word that gives a bought-in hold an end is heard. */
    wordsDate: boolean;
    boxes(labels: readonly LabelTerms[]): readonly LabelTerms[];
  };

/** A day alone: moves at the end of the day, everything else at its start; a written time as it is. */
function orderOf({ kind, happened }: Line): number {
  const { local, zone, at } = happened;
  if (local.length === 10 && kind === 'lot-moved') return dayBegins(local, zone, 1);
  if (local.length === 10 && kind === 'administered') return dayBegins(local, zone);
  if (kind === 'lot-moved' || kind === 'administered') {
    const minute = atTime(local, zone);
    const written = Date.parse(at);
    return written >= minute && written < minute + 60_000 ? written : minute;
  }
  return Date.parse(at);
}

export const RULES: Rules = {
  ...PERIOD_RULES,
  ...STOCK_RULES,
  orderOf,
  struckCounts: true,
  correctionCounts: true,
  follows: () => true,
  momentFollows: true,
  lastDose: (happened, plannedLast, zone) => {
    if (plannedLast === undefined) return happened;
    const ends = (local: string) => PERIOD_RULES.countedFrom(local, zone);
    return ends(plannedLast) > ends(happened) ? plannedLast : happened;
  },
  unmarkedHoldAll: true,
  labelAsCorrected: true,
  unreadCount: true,
  partlyCounts: true,
  noneIsHeard: true,
  needlesHold: true,
  findingIsOfOne: true,
  settles: () => true,
  settlesForAll: false,
  isCertified: (house, day) =>
    (house.organic ?? []).some(({ from, until }) => from <= day && (until === undefined || day <= until)),
  atFootHolds: true,
  atFootFor: (from, foot) => foot.from <= from && from <= foot.until,
  youngIsHeard: true,
  youngInstead: (isRule) => isRule,
  wordsDate: true,
  boxes: (labels) => labels,
};

/** What bars one produce on a market, from an instant on. */
export type Bar = {
  source: string;
  put: string;
  produce: string;
  market: string;
  clock: 'food' | 'organic';
  from: number;
  clear: Clear;
  /** While it waits for something to happen: until when it bars once that has. */
  after?: ((event: Event) => Clear) | undefined;
  /** Some of its heads have their end already, and none of them is free before this. */
  atLeast?: Clear;
  /** Of meat: what the label says of lambs that suck: in its place, or the later of the two. */
  young?: { instead: boolean; clear: Clear } | undefined;
  /** By a medicine, so that lambs at foot carry it too. */
  isOfMedicine: boolean;
};
