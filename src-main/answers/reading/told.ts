import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Reader } from '../../store/store.ts';

/** What was told of a declaration, and by whom it was written. */
export type ToldRow = DataOf<'declaration-told'> & { by: string };

/** Everything that was told, by declaration, in the order it was written. */
export function toldOf(tx: Reader): ReadonlyMap<string, ToldRow[]> {
  const found = new Map<string, ToldRow[]>();
  const rows = tx.all<{ data: string; by: string }>(
    `SELECT record.data, journal.line ->> '$.by' AS by FROM record JOIN journal ON journal.seq = record.seq
     WHERE what = 'declaration-told' ORDER BY record.seq`,
  );
  for (const { data, by } of rows) {
    const told = { ...(JSON.parse(data) as DataOf<'declaration-told'>), by };
    found.set(told.declaration, [...(found.get(told.declaration) ?? []), told]);
  }
  return found;
}
