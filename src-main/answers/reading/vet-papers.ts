import { Refusal } from '../../../src-shared/refusal.ts';
import { compareDays, parseDay } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { checkPerson, type Person } from './holding.ts';

/** A vet the book knows as one. Refuses (`no-such-person`, `not-a-vet`). */
export function checkVet(tx: Reader, id: string): Person {
  const person = checkPerson(tx, id, 'vet');
  if (person.roles.includes('vet')) return person;
  throw new Refusal('not-a-vet', `${person.name} is not down as a vet.`, {
    field: 'vet',
    next: 'Choose the vet, or add the role under Farm.',
  });
}

/** The last day of a paper as an entry keeps it. Refuses (`bad-date`, `dates-crossed`) one before the day it was written. */
export function validUntil(text: string | undefined, from: string): { validUntil?: string } {
  if (text === undefined) return {};
  const until = parseDay(text, 'validUntil');
  const start = parseDay(from, 'written');
  if (compareDays(until, start) < 0) {
    throw new Refusal('dates-crossed', 'Valid until: this day is before the day it was written.', {
      field: 'validUntil',
      next: 'Check both dates.',
    });
  }
  return { validUntil: until };
}
