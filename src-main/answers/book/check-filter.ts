import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { checkPerson } from '../reading/holding.ts';
import { medicineOf } from '../reading/labels.ts';
import { subjectOfName } from '../reading/subjects.ts';
import { groupDatesOf } from '../vaccine/groups.ts';
import type { BookFilter } from './filter.ts';

/**
 * Refuses to narrow the book to what is not in it: the paper would be empty, and look as if nothing had happened.
 * (`no-such-medicine`, `no-such-animal`, `no-such-group`, `no-such-person`)
 */
export function checkFilter(tx: Reader, { medicine, subject, group, person }: BookFilter): void {
  if (medicine !== undefined) medicineOf(tx, medicine);
  if (subject !== undefined) subjectOfName(tx, subject);
  if (group !== undefined) groupDatesOf(tx, group);
  if (person !== undefined) checkPerson(tx, person, 'person');
}

/** Refuses (`cannot-narrow`) a running balance of some of the animals or people: it counts everything. */
export function checkBalanceFilter(filter: BookFilter): void {
  const names = { group: 'Group', subject: 'Animal', person: 'Given or written by' } as const;
  for (const field of ['group', 'subject', 'person'] as const) {
    if (filter[field] === undefined) continue;
    throw new Refusal(
      'cannot-narrow',
      `${names[field]}: a page a medicine counts everything that moved it, so it cannot be narrowed by this.`,
      { field, next: 'Choose all, or print the whole book.' },
    );
  }
}
