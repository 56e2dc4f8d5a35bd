/** Why a count found another amount than the book had. */
export const DIFFERENCES = [
  'not-known',
  'spilt',
  'broken',
  'priming',
  'not-written',
  'taken',
  'counted-wrongly',
] as const;
export type Difference = (typeof DIFFERENCES)[number];

/** As people say it, and as it stands in the book. */
export const DIFFERENCE_WORDS: Readonly<Record<Difference, string>> = {
  'not-known': 'Nobody knows why',
  spilt: 'Spilt or leaked',
  broken: 'Broken',
  priming: 'Left in tubes, guns and needles',
  'not-written': 'Given and not written down',
  taken: 'Lent, taken or gone',
  'counted-wrongly': 'Counted or typed wrongly before',
};

/**
 * Whether what was found missing counts as lost for the wastage: what went into an animal does not, nor what never was
 * missing.
 */
export function isWasted(difference: Difference | undefined): boolean {
  return difference !== 'not-written' && difference !== 'counted-wrongly';
}
