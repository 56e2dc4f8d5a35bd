import type { HoldRow } from './kin.ts';

/** What a hold of one possibly treated stands for. A book of an older version names no lines: then all of the plan. */
export type Possible = {
  session?: string;
  /** The lines of that session it may have had. */
  lines?: string[];
  /** What those medicines were called. */
  products?: string[];
};

/** What the hold stands for; nothing in it where it is of another cause. */
export function possibleOf({ possible }: Pick<HoldRow, 'possible'>): Possible {
  return possible == null ? {} : (JSON.parse(possible) as Possible);
}
