import type { Weight } from '../quantity/weight.ts';
import type { Day } from '../time/day.ts';
import type { SheepClass } from './terms.ts';

/** What the book knows when the "not if" rows of a label are read. */

/** The dates of one group that the animal is in, or was in when those dates began. */
export type GroupDates = {
  name: string;
  ramIn?: Day | undefined;
  ramOut?: Day | undefined;
  lambingFrom?: Day | undefined;
  lambingTo?: Day | undefined;
  shorn?: Day | undefined;
};

/** A medicine beside the one that is judged, with its active substances and the forms they are given in. */
export type OtherMedicine = { name: string; substances: readonly string[] };

/** What the animal, or a lot it was in, had before the day. */
export type GivenBefore = OtherMedicine & {
  on: Day;
  /** `possibly`: it went through a session without a record, and counts as treated. */
  how: 'given' | 'possibly';
};

export type NotIfGiven = {
  /** The day of treatment. */
  day: Day;
  class: SheepClass;
  sex?: string | undefined;
  weight?: Weight | undefined;
  /** The day of that weight, when it is not of now. */
  weighedOn?: Day | undefined;
  born?: Day | undefined;
  milking: boolean;
  groups: readonly GroupDates[];
  /** Treatments up to the day, in the order in which they happened. */
  given: readonly GivenBefore[];
  /** Since when the book has the animal: what it was given earlier nobody wrote down here. */
  knownSince?: Day | undefined;
  /** Other medicines given or planned at the same time. */
  together: readonly OtherMedicine[];
};

/** Whether a row bars the animal, with the facts it was judged by. */
export type Judgement = { applies: 'yes' | 'no' | 'check'; why?: string };

export const NO: Judgement = { applies: 'no' };
