import type { Reply } from '../../../src-shared/calls/all.ts';
import { count } from '../../parts/words.ts';

export type Equipment = Reply<'equipment'>['equipment'][number];

/** What each is, and what is asked of it. */
export const equipmentOptions = [
  {
    value: 'gun',
    label: 'Dosing gun',
    hint: 'drenching, pour-on or repeating syringe: checked every 200 shots',
  },
  { value: 'syringe', label: 'Syringe', hint: 'what it holds and its marks decide how a dose is rounded' },
  { value: 'weigher', label: 'Weigher', hint: 'crate or scale: checked against a known weight' },
] as const;

/** What it is, in a word. */
export function sayWhat(what: Equipment['what']): string {
  return { gun: 'Dosing gun', syringe: 'Syringe', weigher: 'Weigher' }[what];
}

/** What it is and what can be read off it: "30 mL, a mark every 0.5 mL, cannot draw back". */
export function sayMeasures(one: Equipment): string | undefined {
  const parts = [
    ...(one.capacity === undefined ? [] : [`holds ${one.capacity}`]),
    ...(one.graduation === undefined ? [] : [`a mark every ${one.graduation}`]),
    ...(one.priming === undefined ? [] : [`priming takes ${one.priming}`]),
    ...(one.drawsBack === undefined
      ? []
      : [one.drawsBack ? 'can draw back' : 'cannot draw back to see whether blood comes']),
  ];
  return parts.length === 0 ? undefined : parts.join(', ');
}

/** How it stands: when it was last checked, and what it has given since. */
export function sayChecked(one: Equipment): string {
  if (one.what === 'syringe') return 'Needs no check.';
  const given = count(one.shotsSince, 'shot', 'shots');
  const shots = one.what === 'gun' ? `, ${given} given since` : '';
  if (one.last === undefined) {
    return one.what === 'gun' && one.shotsSince > 0
      ? `Never checked, ${given} given with it.`
      : 'Never checked.';
  }
  return `Last checked ${one.last.ago}${shots}. ${one.last.says}`;
}

/** The verdict of a check in a word or two. */
export const verdictWords: Readonly<Record<NonNullable<Equipment['last']>['verdict'], string>> = {
  right: 'Right',
  off: 'Not right',
  uneven: 'Not even',
  'too-few': 'Too few shots',
};
