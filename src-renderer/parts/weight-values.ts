import { parseTape, tapeWeight } from '../../src-shared/dose/tape.ts';
import type { WEIGHED_HOW } from '../../src-shared/entries/weighed.ts';
import { printWeight } from '../../src-shared/quantity/weight.ts';
import { attempt, type Outcome } from '../../src-shared/refusal.ts';
import type { ChoiceOption } from './field.tsx';

export type WeighedHow = (typeof WEIGHED_HOW)[number];

const weighedWords: Readonly<Record<WeighedHow, string>> = {
  scale: 'on a scale',
  crate: 'in the crate',
  tape: 'by tape',
  eye: 'by eye',
};
const isHow = (code: string): code is WeighedHow => Object.hasOwn(weighedWords, code);

/** "by tape"; the code itself for one that is not known here. */
export function sayWeighed(how: string): string {
  return isHow(how) ? weighedWords[how] : how;
}

export const weighedOptions: readonly ChoiceOption[] = [
  { value: 'scale', label: 'On a scale' },
  { value: 'crate', label: 'In the crate' },
  { value: 'tape', label: 'By tape', hint: 'girth and length; an estimate' },
  { value: 'eye', label: 'By eye', hint: 'a guess, and said as one wherever it stands' },
];

/** How a weight is known, as the desk takes it; a scale for anything else. */
export function weighedHowOf(code: string): WeighedHow {
  return isHow(code) ? code : 'scale';
}

/** How often eyes are wrong; where it comes from stands in it. */
export const BY_EYE =
  'The eye is often wrong: of those who guessed a pen of lambs, about seven in ten guessed too light (Welsh meat promotion board). A weight guessed too light is a dose too small.';

/** The estimate by tape as text ("55.6 kg"), or why there is none. Boxes not yet filled give nothing. */
export function tapeSoFar(girth: string, length: string): Outcome<string> | undefined {
  if (girth.trim() === '' || length.trim() === '') return undefined;
  return attempt(() =>
    printWeight(tapeWeight(parseTape(girth, 'girth'), parseTape(length, 'length')).weight),
  );
}
