import type { PeriodRow, Produce } from '../label/terms.ts';
import type { Instant } from '../time/zone.ts';
import type { Step } from '../working.ts';
import type { Counting } from './clearance.ts';

/**
 * What a treatment does to the produce of an animal, decided once and written down. The label's rows rule; where
 * several match, the most restrictive one; where none does, the period is not stated and never ends by time.
 */
export type HoldState = 'until' | 'none' | 'unknown' | 'life' | 'event' | 'dormant';
export type HoldEvent = 'lambing' | 'removal' | 'end-of-release';
export type Market = 'domestic' | 'export';

/** What a hold that waits for an event is counted from once that has come. */
export type Anchor = { lastDose: string; zone: string; marginDays: number };
/** One period that is counted from the event, and beside it the one from the last dose for the later of two. */
export type WaitingPart = { period: string; periodFromDose?: string | undefined };

export type Decision = {
  produce: Produce;
  market: Market;
  state: HoldState;
  /** Set for `until`, and for `dormant` when the clock behind it has an end. */
  until?: Instant;
  /** What it waits for, in state `event` and for a dormant hold that would wait. */
  event?: HoldEvent;
  /** The label's period as read: "28 d". For an event it is counted from that event. */
  period?: string;
  /** For the later of two: the other period, counted from the last dose. */
  periodFromDose?: string;
  /** For a hold that waits for an event: what it is counted from then, besides the event. */
  anchor?: Anchor;
  /** For a hold that waits for an event: other rows count from the same event, and the latest end of all governs. */
  also?: WaitingPart[];
  /** For a hold that waits for an event: it does not end before this, which another row says. */
  atLeast?: Instant;
  /** What a dormant hold becomes when the ewe comes into milk. */
  wakes?: Exclude<HoldState, 'dormant'>;
  /** What the label row says, or `no-row`. */
  says: PeriodRow['says'] | 'no-row';
  countedFrom?: PeriodRow['countedFrom'];
  counting: Counting;
  /** Which rule decided: zero, period, not-stated, not-for-this-produce, for-life, event, each with `-not-milking`. */
  rule: string;
  working: Step[];
};
