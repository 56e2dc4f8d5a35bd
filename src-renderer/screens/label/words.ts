import {
  ANCHORS,
  CLASSES,
  FLOW_CLASSES,
  FORMS,
  NOT_IF_CODES,
  PRODUCE,
  PURPOSES,
  ROUTES,
} from '../../../src-shared/label/terms.ts';
import {
  ANCHOR_WORDS,
  CLASS_WORDS,
  FORM_WORDS,
  PRODUCE_WORDS,
  PURPOSE_WORDS,
  ROUTE_WORDS,
} from '../../../src-shared/label/words.ts';
import type { ChoiceOption } from '../../parts/field.tsx';

/** What can be chosen on a label, in the words that are read back. */

const choose: ChoiceOption = { value: '', label: 'Choose' };

function upper(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function options<T extends string>(values: readonly T[], words: Readonly<Record<T, string>>): ChoiceOption[] {
  return values.map((value) => ({ value, label: upper(words[value]) }));
}

export const formOptions = [choose, ...options(FORMS, FORM_WORDS)];
export const purposeOptions = [choose, ...options(PURPOSES, PURPOSE_WORDS)];
export const routeOptions = [choose, ...options(ROUTES, ROUTE_WORDS)];
export const classOptions: readonly ChoiceOption[] = CLASSES.map((value) => ({
  value,
  label: upper(CLASS_WORDS[value] ?? value),
}));
export const routeTicks: readonly ChoiceOption[] = options(ROUTES, ROUTE_WORDS);
export const produceOptions = options(PRODUCE, PRODUCE_WORDS);

export const kindOptions: readonly ChoiceOption[] = [
  { value: 'volume', label: 'By volume, in mL', hint: 'injections, drenches, pour-ons' },
  { value: 'mass', label: 'By weight, in g', hint: 'powders, pastes' },
  { value: 'pieces', label: 'By the piece', hint: 'boluses, tablets, tubes, sponges' },
];

/** How what it is, is nearly always measured: filled in where nothing is chosen yet. */
export const USUAL_KIND: Readonly<Record<string, 'volume' | 'pieces'>> = {
  injection: 'volume',
  drench: 'volume',
  'pour-on': 'volume',
  bolus: 'pieces',
  tablet: 'pieces',
  sponge: 'pieces',
};

export const prescriptionOptions: readonly ChoiceOption[] = [
  { value: 'not-stated', label: 'The label does not say' },
  { value: 'vet-only', label: 'Only a vet may give it' },
  { value: 'vet-prescription', label: 'Only on a vet’s prescription' },
  { value: 'qualified-person', label: 'Sold by a qualified person' },
  { value: 'general-sale', label: 'On general sale' },
];

export const saysOptions: readonly ChoiceOption[] = [
  choose,
  { value: 'value', label: 'A period in days or hours' },
  { value: 'zero', label: 'Zero: it may be taken at once' },
  { value: 'not-for-this-produce', label: 'Not for animals that give this for people' },
  { value: 'for-life', label: 'Never again, for life' },
  { value: 'not-stated', label: 'The label does not say' },
];

export const anchorOptions: readonly ChoiceOption[] = ANCHORS.map((value) => ({
  value,
  label: upper(ANCHOR_WORDS[value]),
}));

const flowWords = {
  watery: 'Like water',
  syrupy: 'Like syrup',
  suspension: 'A suspension: it settles and is shaken',
  oily: 'Like oil',
} as const;
export const flowOptions: readonly ChoiceOption[] = [
  { value: '', label: 'Not known' },
  ...options(FLOW_CLASSES, flowWords),
];

const ruleWords: Readonly<Record<(typeof NOT_IF_CODES)[number], string>> = {
  class: 'It is one of these sheep',
  'younger-than': 'It is younger than',
  'older-than': 'It is older than',
  'lighter-than': 'It is lighter than',
  'heavier-than': 'It is heavier than',
  'pregnant-from-to': 'It is in lamb, between two days',
  'before-lambing': 'It lambs within',
  milking: 'Its milk is for people',
  'condition-under': 'Its body condition is under',
  'shorn-within': 'It was shorn within',
  'same-substance-within': 'It had the same substance within',
  'not-with': 'It is given together with',
};
export const ruleOptions = [choose, ...options(NOT_IF_CODES, ruleWords)];

export const inUseOptions: readonly ChoiceOption[] = [
  { value: '', label: 'The label does not say', hint: 'then only the expiry date limits it' },
  { value: 'period', label: 'So many days or hours' },
  { value: 'none', label: 'It keeps to its expiry date' },
  { value: 'at once', label: 'It must be used at once' },
];

export const roundingOptions: readonly ChoiceOption[] = [
  { value: '', label: 'The label does not say' },
  { value: 'nearest', label: 'To the nearest mark' },
  { value: 'up', label: 'Up' },
  { value: 'down', label: 'Down' },
];
