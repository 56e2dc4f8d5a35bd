import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { DEPARTED_HOW } from '../../../src-shared/entries/departed.ts';
import { CLASSES, type SheepClass } from '../../../src-shared/label/terms.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { parseDay, printDay } from '../../../src-shared/time/day.ts';
import type { ChoiceOption } from '../../parts/field.tsx';

export type AnimalRow = Reply<'find-subject'>['found'][number];
export type SubjectPage = Reply<'subject'>;
export type Sex = NonNullable<Ask<'set-animal'>['sex']>;

/** A class as people say it: "ewe lamb". */
export function sayClass(code: string): string {
  return code.replace('-', ' ');
}

function upperFirst(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** "Meat", "Milk". */
export const produceWord = upperFirst;

export const classOptions: readonly ChoiceOption[] = CLASSES.map((value) => ({
  value,
  label: upperFirst(sayClass(value)),
}));

/** The class with this code, or undefined while none is chosen. */
export function classOf(code: string): SheepClass | undefined {
  return CLASSES.find((one) => one === code);
}

export const sexOptions: readonly (ChoiceOption & { value: Sex | '' })[] = [
  { value: '', label: 'Not said' },
  { value: 'female', label: 'Female' },
  { value: 'male', label: 'Male' },
  { value: 'castrated', label: 'Castrated' },
];

/** The sex with this code, or undefined for none. */
export function sexOf(code: string): Sex | undefined {
  return sexOptions.map((one) => one.value).find((one) => one === code) || undefined;
}

export const leftOptions: readonly ChoiceOption[] = [
  { value: 'slaughter', label: 'To slaughter' },
  { value: 'sold', label: 'Sold' },
  { value: 'moved', label: 'Moved away', hint: 'to another place or keeper' },
  { value: 'died', label: 'Died' },
  { value: 'killed-on-farm', label: 'Killed on the farm' },
  { value: 'lost', label: 'Lost or not found' },
];

/** How it left, or undefined while none is chosen. */
export function leftOf(code: string): (typeof DEPARTED_HOW)[number] | undefined {
  return DEPARTED_HOW.find((one) => one === code);
}

/** True when what goes away may be eaten, so that a hold matters to whoever gets it. */
export function goesToOthers(how: string): boolean {
  return how === 'slaughter' || how === 'sold' || how === 'moved';
}

export const standingOptions: readonly ChoiceOption[] = [
  {
    value: 'none-running',
    label: 'No withdrawal period is running',
    hint: 'I know of every treatment, and all their periods have ended.',
  },
  {
    value: 'unknown',
    label: 'Not known, or one is still running',
    hint: 'Held for meat and milk until there is a statement.',
  },
];

/** What is known of earlier treatments, or undefined while nothing is chosen. */
export function standingOf(code: string): 'none-running' | 'unknown' | undefined {
  return code === 'none-running' || code === 'unknown' ? code : undefined;
}

/** A local day, or day and time, as it is read: "14 Feb 2026, 09:01". What is neither stays as it is. */
export function sayLocal(local: string): string {
  const day = attempt(() => parseDay(local.slice(0, 10), 'day'));
  if (!day.ok) return local;
  const time = local.slice(11, 16);
  return time === '' ? printDay(day.value) : `${printDay(day.value)}, ${time}`;
}

/** Who it is in one line: "Ewe, female, born 25 Mar 2021. 62.5 kg on 14 Feb 2026." */
export function sayWho(
  page: Pick<SubjectPage, 'who' | 'left' | 'cameOn' | 'origin'>,
  /** How a weight is said where it is known what day it is: how and how long ago. */
  sayKnown: (of: { weight: string; weighedOn?: string | undefined }) => string = ({ weight, weighedOn }) =>
    `${weight}${weighedOn === undefined ? '' : ` on ${sayLocal(weighedOn)}`}`,
): string {
  const { who } = page;
  const isLot = who.subject.startsWith('lot:');
  const says = [
    isLot ? `${who.heads.toLocaleString('en-GB')} head, class ${sayClass(who.class)}` : sayClass(who.class),
    ...(who.sex === undefined || isLot ? [] : [who.sex]),
    ...(who.born === undefined ? [] : [`born ${sayLocal(who.born)}`]),
    ...(who.milking ? ['in milk'] : []),
    ...(page.origin === 'bought'
      ? [`bought${page.cameOn === undefined ? '' : ` ${sayLocal(page.cameOn)}`}`]
      : []),
  ];
  const weight =
    who.weight === undefined
      ? ' No weight is on record.'
      : ` ${sayKnown({ ...who, weight: `${who.weight}${isLot ? ' a head' : ''}` })}.`;
  return `${upperFirst(says.join(', '))}.${weight}`;
}

/** A whole number of heads as typed, or undefined when it is none: "40", "1,200". */
export function headsOf(text: string): number | undefined {
  const close = text.trim().replaceAll(',', '');
  return /^\d{1,7}$/.test(close) ? Number(close) : undefined;
}
