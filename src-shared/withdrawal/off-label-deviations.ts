/**
 * Which ways of departing from a label put a treatment outside it, so that the label's own period does not speak for
 * it. Every deviation is named in the book; only these need the vet's word. What kind of thing departed stands beside
 * each, for the sentence that says it.
 */
export const OFF_LABEL_KINDS = {
  'over-label': 'dose',
  'over-most': 'dose',
  'below-first-band': 'dose',
  'above-last-band': 'dose',
  'weight-missing': 'dose',
  'strength-missing': 'dose',
  'made-up-by-volume': 'dose',
  'dose-line-unknown': 'dose',
  'class-not-on-label': 'class',
  'too-light': 'weight',
  'too-heavy': 'weight',
  'too-young': 'age',
  'too-old': 'age',
  'other-route': 'route',
  'repeated-early': 'interval',
  'more-doses': 'length of the course',
  'not-for-sheep': 'species',
  'not-if': 'what the label rules out',
} as const;

/** A code of a deviation that puts a treatment outside its label. */
export function isOffLabelCode(code: string): code is keyof typeof OFF_LABEL_KINDS {
  return Object.hasOwn(OFF_LABEL_KINDS, code);
}

export function isOffLabel(deviations: readonly { code: string }[]): boolean {
  return deviations.some(({ code }) => isOffLabelCode(code));
}

/**
 * "Outside the label: dose, route." Nothing when it is on the label.
 *
 * Not among them, and why (practice; each is still named): too little, which leaves no more in the animal than the
 * label's dose does; a group's dose within the cap of its plan; a vaccine before its turn, each dose of which has its
 * own period; where it was put, and what was spilt.
 */
export function sayOffLabel(deviations: readonly { code: string }[]): string | undefined {
  const kinds = new Set(
    deviations.flatMap(({ code }) => (isOffLabelCode(code) ? [OFF_LABEL_KINDS[code]] : [])),
  );
  return kinds.size === 0 ? undefined : `Outside the label: ${[...kinds].join(', ')}`;
}
