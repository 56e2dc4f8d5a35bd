import type { Reply } from '../../../src-shared/calls/all.ts';
import { count } from '../../parts/words.ts';

export type Coverage = Reply<'coverage'>;
export type CoverRow = Coverage['rows'][number];
export type CoverState = CoverRow['state'];

/** How an animal stands by a vaccine, the ones to look at first. */
export const coverStates: readonly { value: CoverState; label: string }[] = [
  { value: 'late', label: 'Late' },
  { value: 'lapsed', label: 'Lapsed' },
  { value: 'part', label: 'Part of a course' },
  { value: 'unknown', label: 'Not known' },
  { value: 'not-started', label: 'Not begun' },
  { value: 'covered', label: 'Covered' },
];

/** "Covered", "Part of a course". */
export function sayState(state: CoverState): string {
  return coverStates.find((one) => one.value === state)?.label ?? state;
}

/** "41 covered, 12 part of a course, 7 not begun": heads in each state, those with none left away. */
export function sayCounts(heads: Coverage['vaccines'][number]['heads']): string {
  const said = [...coverStates]
    .toReversed()
    .filter(({ value }) => heads[value] > 0)
    .map(({ value, label }) => `${heads[value].toLocaleString('en-GB')} ${label.toLowerCase()}`);
  return said.length === 0 ? 'none of them is of a class on its label' : said.join(', ');
}

/** "41 of 60 heads are covered". */
export function sayCovered(covered: number, of: number): string {
  return `${covered.toLocaleString('en-GB')} of ${count(of, 'head', 'head')} covered`;
}
