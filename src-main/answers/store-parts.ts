import { KINDS_OF_ENTRY } from '../../src-shared/entries/all.ts';
import { projections, projectionVersion } from '../store/projections.ts';
import { kindsOf, type StoreParts } from '../store/store.ts';

/** What a book of Foldbook is made of: every kind of entry and every projection. */
export const storeParts: StoreParts = {
  kinds: kindsOf(Object.values(KINDS_OF_ENTRY)),
  projections,
  projectionVersion,
};
