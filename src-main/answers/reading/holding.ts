import type { z } from 'zod';
import type { businessSet } from '../../../src-shared/entries/business-set.ts';
import type { holdingSet } from '../../../src-shared/entries/holding-set.ts';
import type { personSet } from '../../../src-shared/entries/person-set.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';

export type Holding = z.output<typeof holdingSet.schema>;
export type Business = z.output<typeof businessSet.schema>;
export type Person = z.output<typeof personSet.schema>;

/** The newest content of one simple record, or nothing. */
export function recordOf<T>(tx: Reader, what: string, id: string): T | undefined {
  const row = tx.get<{ data: string }>('SELECT data FROM record WHERE what = ? AND id = ?', what, id);
  return row && (JSON.parse(row.data) as T);
}

/** Every simple record of one sort, by name. */
export function recordsOf<T>(tx: Reader, what: string): T[] {
  return tx
    .all<{ data: string }>('SELECT data FROM record WHERE what = ? ORDER BY name_key, id', what)
    .map((row) => JSON.parse(row.data) as T);
}

export function businessOf(tx: Reader): Business | undefined {
  return recordOf<Business>(tx, 'business', 'this');
}

/** The holding with this id. Refuses (`no-such-holding`). */
export function holdingOf(tx: Reader, id: string): Holding {
  const holding = recordOf<Holding>(tx, 'holding', id);
  if (!holding) {
    throw new Refusal('no-such-holding', 'There is no such holding in this book.', { field: 'holding' });
  }
  return holding;
}

/** The holding when there is one only, or the first: one is the common case and must feel like no choice at all. */
export function onlyHolding(tx: Reader): Holding | undefined {
  return recordsOf<Holding>(tx, 'holding')[0];
}

/** The name to print for a person's id; the id itself when the book does not know it. */
export function personName(tx: Reader, id: string): string {
  return recordOf<Person>(tx, 'person', id)?.name ?? id;
}

/** Refuses (`no-such-person`) when the book does not know the person. */
export function checkPerson(tx: Reader, id: string, field: string): Person {
  const person = recordOf<Person>(tx, 'person', id);
  if (!person) {
    throw new Refusal('no-such-person', 'This person is not in the book yet.', {
      field,
      next: 'Add the person under Farm first.',
    });
  }
  return person;
}
