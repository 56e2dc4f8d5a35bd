import type { DoseLine, LabelTerms } from '../label/terms.ts';
import { parseRate } from '../quantity/rate.ts';
import { attempt, Refusal } from '../refusal.ts';
import { draftingRefused } from './draft.ts';

/** Whether what a line of the label gives follows the weight. A rate that cannot be read is taken to. */
export function isByWeight(terms: Pick<LabelTerms, 'piece'>, line: Pick<DoseLine, 'rate'>): boolean {
  const { rate } = line;
  if (rate.style !== 'rate') return true;
  const read = attempt(() => parseRate(rate.text, 'rate', { piece: terms.piece }));
  return !read.ok || read.value.perUnit !== 'head';
}

/**
 * Why a group is not dosed to its heaviest or drafted by this line of a label, or undefined when it may be: antibiotics,
 * anti-inflammatories and remedies with a narrow margin are dosed animal by animal, and a dose a head needs no weights.
 */
export function groupingRefused(
  terms: Pick<LabelTerms, 'purpose' | 'narrowMargin' | 'piece'>,
  line: Pick<DoseLine, 'rate'>,
): Refusal | undefined {
  const refused = draftingRefused(terms);
  if (refused !== undefined || isByWeight(terms, line)) return refused;
  return new Refusal(
    'drafting-not-offered',
    'By the label every animal gets the same, whatever it weighs, so there is nothing to draft.',
    { field: 'grouping', next: 'Leave it at each by its own weight.' },
  );
}
