import type { LabelTerms } from '../label/terms.ts';

/** What only a vet may decide on, and what nobody wrote down who may supply: the program orders none of it. */
export function isOfTheVet(prescription: LabelTerms['prescription']): boolean {
  return prescription === 'vet-only' || prescription === 'vet-prescription' || prescription === 'not-stated';
}
