import { searchKey } from '../../../src-shared/search-key.ts';
import { instantOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';

/** A time during which a container stood in a store: from an instant until another, or still. */
export type Stay = { readonly from: string; readonly until: string | undefined };

type Row = { container: string; at: string; local: string; zone: string; store: string | null };

/** The names of every store in which a container stands or ever stood, each once, in order. */
export function everyStore(tx: Reader): string[] {
  const rows = tx.all<{ store: string }>(
    'SELECT store FROM stood WHERE store IS NOT NULL ORDER BY at DESC, seq DESC',
  );
  const named = new Map<string, string>();
  // As it was written last.
  for (const { store } of rows) if (!named.has(searchKey(store))) named.set(searchKey(store), store);
  return [...named.values()].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}

/**
 * When which container stood in a store. One that came or was carried off on a day whose hour is not known stood there
 * for all of that day: nobody knows that it did not.
 */
export function staysIn(tx: Reader, store: string): Map<string, Stay[]> {
  const rows = tx.all<Row>(
    'SELECT substr(subject, 11) AS container, at, local, zone, store FROM stood ORDER BY subject, at, seq',
  );
  const key = searchKey(store);
  const stays = new Map<string, Stay[]>();
  rows.forEach((row, i) => {
    if (row.store === null || searchKey(row.store) !== key) return;
    const next = rows[i + 1];
    const until = next?.container === row.container ? endOf(next) : undefined;
    const own = stays.get(row.container) ?? [];
    own.push({ from: row.at, until });
    stays.set(row.container, own);
  });
  return stays;
}

/** The instant by which it had surely been carried off. */
function endOf({ at, local, zone }: Row): string {
  return local.length === 10 ? instantOf(local, zone, 'end') : at;
}

/** When it first stood there in a span of time, both ends taken with it; nothing when it did not. */
export function stoodBetween(stays: readonly Stay[], since: string, until: string): string | undefined {
  const stay = stays.find((one) => one.from <= until && (one.until === undefined || one.until >= since));
  return stay === undefined ? undefined : stay.from > since ? stay.from : since;
}
