import type { LAWS } from '../../../src-shared/entries/holding-set.ts';
import type { ChoiceOption } from '../../parts/field.tsx';

/** The laws a book can be kept under, in words. */
export const lawWords: Readonly<Record<(typeof LAWS)[number], string>> = {
  gb: 'Great Britain',
  ni: 'Northern Ireland',
  eu: 'European Union',
  nz: 'New Zealand',
  us: 'United States',
  other: 'Another law',
};

/** The law with this code, or undefined while none is chosen. */
export function lawOf(code: string): keyof typeof lawWords | undefined {
  return lawCodes.find((law) => law === code);
}
const lawCodes: readonly (keyof typeof lawWords)[] = ['gb', 'ni', 'eu', 'nz', 'us', 'other'];

export const lawOptions: readonly ChoiceOption[] = Object.entries(lawWords).map(([value, label]) =>
  value === 'other'
    ? {
        value,
        label,
        hint: 'The book then keeps the strictest record there is, and every period off label must come from the vet.',
      }
    : { value, label },
);

export const weightUnitOptions: readonly ChoiceOption[] = [
  { value: 'kg', label: 'kilograms (kg)' },
  { value: 'lb', label: 'pounds (lb)' },
];

export const countingOptions: readonly ChoiceOption[] = [
  {
    value: 'later',
    label: 'The later of the two',
    hint: 'Whichever of the two ways below ends later. The safe choice when nobody has said.',
  },
  {
    value: '24-hour',
    label: 'In hours',
    hint: 'A period of 28 days is 28 times 24 hours after the last dose.',
  },
  {
    value: 'whole-days',
    label: 'In whole days',
    hint: 'The day of the last dose does not count; the period ends at the end of the last day.',
  },
];

/** Lambs at foot of a treated ewe. Neither is ever shorter than a label says of them. */
export const atFootOptions: readonly ChoiceOption[] = [
  {
    value: 'as-the-ewe',
    label: 'As long as the ewe, always',
    hint: 'Longer where a label says so. The safe choice when nobody has said.',
  },
  {
    value: 'as-the-label',
    label: 'As the label says of them',
    hint: 'It may be shorter than hers. Where the label says nothing, or she was treated outside it or by the vet’s own period, as long as the ewe.',
  },
];

export const paperOptions: readonly ChoiceOption[] = [
  { value: 'a4', label: 'A4' },
  { value: 'letter', label: 'US Letter' },
];

/** The time zone of this computer, or UTC where it does not say. */
export function zoneHere(): string {
  return Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';
}

/** Every time zone the browser knows, offered while typing. */
export function zones(): readonly string[] {
  return Intl.supportedValuesOf('timeZone');
}

/** A zone read back by what its clock shows now; nothing while it is no zone. */
export function readBackZone(zone: string): string | undefined {
  if (!/^[A-Za-z][A-Za-z0-9_+/-]+$/.test(zone)) return undefined;
  try {
    const clock = new Intl.DateTimeFormat('en-GB', {
      timeZone: zone,
      hour: '2-digit',
      minute: '2-digit',
      weekday: 'long',
    });
    return `The clock there shows ${clock.format(new Date())} now.`;
  } catch (thrown) {
    // The browser's way of saying that there is no such zone; the desk says it in words when it is sent.
    if (thrown instanceof RangeError) return undefined;
    throw thrown;
  }
}
