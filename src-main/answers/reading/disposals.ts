import type { DataOf } from '../../../src-shared/entries/all.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import type { Store } from '../../store/store.ts';
import { personName } from './holding.ts';
import { medicineName, printLocal, termsReader } from './labels.ts';
import type { StockRow } from './stock.ts';

/** One container, or part of it, that left the farm without going into an animal. */
export type Disposal = {
  container: string;
  label: string;
  medicine: string;
  name: string;
  batch: string;
  cause: 'disposed' | 'returned';
  /** The instant it sorts by, and the local time in words. */
  at: string;
  local: string;
  amount: string;
  why: string;
  how: string;
  where: string;
  by: string;
};

type Row = Pick<StockRow, 'label' | 'medicine' | 'revision' | 'kind'> & {
  container: string;
  batch: string;
  cause: Disposal['cause'];
  at: string;
  local: string;
  units: number;
  seq: number;
  by: string;
};

/**
 * What was disposed of or returned in a period, how, to whom or where, the newest first. As it was corrected last;
 * what was struck out is not in it.
 * @param range instants, the first included and the last not; absent: ever
 */
export function disposalsOf(
  store: Pick<Store, 'read' | 'entry'>,
  range: { from?: string | undefined; to?: string | undefined } = {},
): Disposal[] {
  const tx = store.read;
  const terms = termsReader(tx);
  const rows = tx.all<Row>(
    `SELECT c.id AS container, c.label, c.medicine, c.revision, c.kind, coalesce(b.number, c.batch_text, '') AS batch,
       m.cause, m.at, m.local, m.units, m.seq, m.by
     FROM movement AS m JOIN container AS c ON c.subject = m.subject LEFT JOIN batch AS b ON b.id = c.batch
     WHERE m.cause IN ('disposed', 'returned') AND m.at >= ? AND m.at < ? ORDER BY m.at DESC, m.seq DESC, m.i`,
    range.from ?? '',
    range.to ?? '9999',
  );
  return rows.map((row) => {
    const {
      why = '',
      how = '',
      where = '',
    } = (store.entry(row.seq)?.data ?? {}) as Partial<DataOf<'stock-moved'>>;
    return {
      container: row.container,
      label: row.label,
      medicine: row.medicine,
      name: medicineName(tx, row.medicine),
      batch: row.batch,
      cause: row.cause,
      at: row.at,
      local: printLocal(row.local),
      amount: printAmount(amountOf(row.kind, Math.abs(row.units)), terms(row.revision)?.piece),
      why,
      how,
      where,
      by: personName(tx, row.by),
    };
  });
}
