import { Refusal } from '../../../src-shared/refusal.ts';
import { compareForUse, type StockRow, usable } from '../../../src-shared/stock/draw.ts';
import type { Reader } from '../../store/store.ts';

export type { StockRow } from '../../../src-shared/stock/draw.ts';

const STOCK = `SELECT c.id, c.label, c.medicine, c.revision, c.batch, coalesce(b.number, c.batch_text, '') AS number, c.kind, c.received,
  c.left_units, c.state, c.opened, c.unusable_from, c.unopened_until, c.store, c.strength, c.counted, m.at AS since_at, m.local AS since_local
  FROM container AS c LEFT JOIN batch AS b ON b.id = c.batch
  LEFT JOIN movement AS m ON m.subject = c.subject AND m.cause IN ('received', 'made-up')`;

/** Every container, or those of one medicine, in no promised order. */
export function stockRows(tx: Reader, medicine?: string): StockRow[] {
  if (medicine === undefined) return tx.all<StockRow>(STOCK);
  return tx.all<StockRow>(`${STOCK} WHERE c.medicine = ?`, medicine);
}

/** What may be planned with at a local time, in order of use: earliest use-by first, opened before sealed. */
export function usableContainers(tx: Reader, medicine: string, nowLocal: string): StockRow[] {
  return stockRows(tx, medicine)
    .filter((row) => usable(row, nowLocal))
    .sort(compareForUse);
}

/** One container. Refuses (`no-such-container`). */
export function stockRow(tx: Reader, container: string, field = 'container'): StockRow {
  const row = tx.get<StockRow>(`${STOCK} WHERE c.id = ?`, container);
  if (!row) {
    throw new Refusal('no-such-container', 'This container is not in the cabinet.', {
      field,
      next: 'Look for it under Cabinet.',
    });
  }
  return row;
}
