import type { HoldDecision } from '../entries/parts.ts';

/** A needle that broke or is missing: what is known of it, and whom it holds. */

/** Not found; found whole, so that nothing of it is in an animal. */
export const NEEDLE_FOUND = ['not-found', 'found-whole'] as const;
export type NeedleFound = (typeof NEEDLE_FOUND)[number];

/** Source of what a report demands: "Broken needle" in the reference, read. */
export const NEEDLE_SOURCE = 'general guidance on broken needles, read';

/**
 * The hold of an animal that may carry a needle: its meat, until a finding is recorded. No date ends it, because a
 * piece of steel does not go away. Milk is not held: a needle does not come into it.
 */
export function needleHolds(): HoldDecision[] {
  return [
    {
      produce: 'meat',
      market: 'domestic',
      clock: 'food',
      state: 'event',
      event: 'finding',
      says: 'A needle may be in it: no date ends this, only a finding.',
      rule: 'broken-needle',
      working: [],
    },
  ];
}

/** What is to be done at once, in the order in which it is done. */
export const NEEDLE_STEPS: readonly string[] = [
  'Stop. Keep the animal in the pen, and look for the needle in it, on the ground and in the box.',
  'Mark the animal at once, so that it can be told from the others whatever happens to its tag.',
  'Call the vet when a piece is under the skin: do not dig for it.',
  'Write down which animal, where on it, and when. It goes to slaughter only accompanied, and the abattoir is told.',
];
