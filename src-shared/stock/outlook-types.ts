import type { Amount, AmountKind } from '../quantity/amount.ts';
import type { Day } from '../time/day.ts';
import type { Step, Warning } from '../working.ts';
import type { StockRow } from './draw.ts';
import type { Price } from './price.ts';
import type { StockState } from './use-by.ts';

/** What is asked about the stock of one medicine in days to come, and the answer. Counts are whole base units. */

/** A container as it stands now; `price` is that of the whole container as received, where it is known. */
export type OutlookContainer = StockRow & { readonly price?: Price | undefined };

export type PlannedWork = {
  readonly on: Day;
  /** What it is, for people: "Booster of the ewe lambs". */
  readonly what: string;
  /** Doses and losses together; absent where head or dose are not known yet. */
  readonly need?: Amount | undefined;
};

export type OutlookAsk = {
  readonly kind: AmountKind;
  readonly today: Day;
  /** Days looked ahead, today among them: 1 to MOST_DAYS_AHEAD. */
  readonly days: number;
  readonly zone: string;
  /** As on the label; absent where the label is silent. */
  readonly inUse: string | undefined;
  readonly containers: readonly OutlookContainer[];
  readonly planned: readonly PlannedWork[];
  /** What was used besides planned work in so many days before today; absent where it is not known. */
  readonly pastUse?: { readonly used: Amount; readonly days: number } | undefined;
  /** Days from an order until it stands in the cabinet; absent where it is not known. */
  readonly leadDays?: number | undefined;
};

/** A day on which something is left that may not be used on the next. */
export type Gone = {
  readonly container: string;
  readonly label: string;
  readonly amount: number;
  readonly why: 'expired' | 'past-in-use';
};
export type OutlookDay = {
  readonly day: Day;
  /** What may be used at the start of the day. */
  readonly start: number;
  readonly planned: number;
  readonly otherUse: number;
  readonly drawn: number;
  readonly short: number;
  /** Labels of the containers opened on this day. */
  readonly opened: readonly string[];
  readonly gone: readonly Gone[];
  /** What may be used on the next day. */
  readonly end: number;
};
export type Unused = Gone & {
  /** The last day on which it may be used. */
  readonly lastDay: Day;
  /** Its share of what the container cost; absent where that is not known. */
  readonly cost?: Price;
};
export type Outlook = {
  readonly days: readonly OutlookDay[];
  /** The first day that is short, what is missing, and of what work; absent where stock lasts. */
  readonly runOut?: { readonly day: Day; readonly short: number; readonly what: readonly string[] };
  /** What is missing by day: the needs to buy packs for. */
  readonly missing: readonly { readonly on: Day; readonly amount: Amount }[];
  readonly unused: readonly Unused[];
  /** By currency; only what is known. */
  readonly unusedCost: readonly Price[];
  /** The last day to order on; `late` when it has gone by. */
  readonly orderBy?: { readonly day: Day; readonly late: boolean };
  /** Containers that are not counted, and how they stand. */
  readonly notCounted: readonly {
    readonly label: string;
    readonly state: StockState;
    readonly left: number;
  }[];
  /** True where something is not known, so that stock may end sooner than is said. */
  readonly mayEndSooner: boolean;
  readonly working: readonly Step[];
  readonly warnings: readonly Warning[];
};
