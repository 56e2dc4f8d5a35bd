type Line = (values: Readonly<Record<string, string>>) => string;

/** How each step about a treatment that is not as the label says reads. */
export const OFF_LABEL_LINES: Readonly<Record<string, Line>> = {
  'off-label': (v) =>
    `It was not as the label says, so the label’s period for ${v.produce} does not speak for it: the vet must state one`,
  'label-longest': (v) => `The longest period that the label prints for ${v.produce}: ${v.period}`,
  'label-prints-none': (v) => `The label prints no period for ${v.produce}`,
  'law-in-force': (v) =>
    `The law on ${v.on}: ${v.law}${v.from === undefined ? '' : ` (in force from ${v.from})`}`,
  'law-has-none': () => 'No law with a number is known here: the vet must state the period',
  'law-says': (v) => v.says ?? '',
  'law-times': (v) => `The law: ${v.longest} × 1.5, a part of a day rounded up = ${v.period} at least`,
  'law-not-authorised': (v) =>
    `The law, not authorised for ${v.produce === 'milk' ? 'animals that give milk' : 'food animals'}: ${v.period} at least`,
  'law-zero': (v) => `The law, a period of zero for ${v.produce}: ${v.period} at least`,
  'law-zero-family': (v) => `The law, a period of zero and animals of another family: ${v.period} at least`,
  'law-zero-same-family': (v) => `The law, a period of zero and animals of the same family: ${v.period}`,
  'law-flat': (v) => `The law: ${v.period} at least, whatever the label prints`,
  'law-default': (v) => `A default that can be applied: ${v.period}`,
  'not-below-label': (v) => `Never below what the label prints: ${v.period}`,
  'species-on-label': (v) =>
    `The label has a period for this species (${v.period}), so the law has no number: the vet states one, not below it`,
  'law-floor': (v) => `Not below ${v.period}`,
  'vet-states': (v) => `The vet states ${v.period} for ${v.produce}`,
  governs: (v) => `The longest of these counts: ${v.period}, ${v.whose}`,
};
