import type { Ask } from '../../../src-shared/calls/all.ts';

export type LeakedSaid = NonNullable<Ask<'treat'>['leaked']>;

/** What ran out, as it is typed: "3 drops" is counted, anything else is an amount with its unit. */
export function leakedOf(text: string): LeakedSaid | undefined {
  const trimmed = text.trim();
  if (trimmed === '') return undefined;
  const drops = /^(\d{1,3}) drops?$/i.exec(trimmed);
  return drops === null ? { amount: trimmed } : { drops: Number(drops[1]) };
}

export const LEAKED_HINT =
  'As in 3 drops, or 0.2 mL. The dose stays what was drawn; what ran out is booked as lost.';

/** Whether to make good for it is the label's word or the vet's; no second dose is ever worked out. */
export const LEAKED_MORE = 'Give more only if the label says so, or the vet.';
