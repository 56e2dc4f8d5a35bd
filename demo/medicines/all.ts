import { INJECTED } from './injected.ts';
import { OTHERS } from './others.ts';
import { period, says, type Terms } from './terms.ts';

/** Every medicine of the demo as it is first typed in. */
export const MEDICINES = { ...INJECTED, ...OTHERS } as const satisfies Record<string, Terms>;
export type MedicineKey = keyof typeof MEDICINES;

/** Orvethin as its insert really says: what was typed first had another meat period. */
export const ORVETHIN_AS_PRINTED: Terms = {
  ...INJECTED.orvethin,
  periods: [period('meat', '35 d'), says('milk', 'not-for-this-produce')],
};

/** The new insert that came with Marlexan in the second summer: a longer period for meat, none given for milk. */
export const MARLEXAN_NEW_INSERT: Terms = {
  ...OTHERS.marlexan,
  periods: [period('meat', '28 d'), says('milk', 'not-for-this-produce')],
  notIf: [{ id: 'n1', code: 'milking', says: 'Not for ewes whose milk people drink' }],
};
