import type { Problem } from '../../hooks/use-form.ts';

/** What the fields of the form are called there, where the readers of a label call them otherwise. */
const WORDS: readonly (readonly [RegExp, string])[] = [
  [/\.rate\.text$/, 'Dose'],
  [/\.rate\.perVolume$/, 'Printed also as'],
  [/\.furtherStep\.each$/, 'Above the last, for each further'],
  [/\.furtherStep\.dose$/, 'So much more'],
  [/\.leastWeight$/, 'Not under, weight'],
  [/\.mostWeight$/, 'Not over, weight'],
  [/\.leastAge$/, 'Not younger than'],
  [/\.mostAge$/, 'Not older than'],
  [/\.mostPerSite$/, 'Most in one place'],
  [/\.mostDose$/, 'Most in all'],
  [/\.repeats\.due$/, 'The next is due after'],
  [/\.repeats\.earliest$/, 'Not before'],
  [/\.repeats\.latest$/, 'Not after'],
  [/\.protects$/, 'It protects for'],
  [/^(periods|others)\.\d+\.value$/, 'Period'],
  [/^periods\.\d+\.valueFromDose$/, 'From the last dose'],
  [/^notIf\.\d+\.from$/, 'From, after the ram went in'],
  [/^notIf\.\d+\.to$/, 'To, after he came out'],
  [/^sucklingMeat\.value$/, 'Period of sucking lambs'],
  [/^inUse$/, 'It keeps for'],
];

/** A problem whose sentence begins with the name that its field has on the form. */
export function inFormWords(problem: Problem): Problem {
  const { field, message } = problem;
  const word = WORDS.find(([path]) => field !== undefined && path.test(field))?.[1];
  return word === undefined
    ? problem
    : { ...problem, message: message.replace(/^[A-Z][A-Za-z ]{1,30}: /, `${word}: `) };
}
