import { type Difference, isWasted } from '../../../src-shared/stock/differences.ts';
import type { Reader } from '../../store/store.ts';

/** One count as it stands: by how many base units it differed from the book, and why. */
export type CountRow = {
  container: string;
  label: string;
  medicine: string;
  revision: string;
  kind: 'volume' | 'mass' | 'pieces';
  local: string;
  at: string;
  seq: number;
  /** What was found less what the book had. */
  units: number;
  /** What the book had just before. */
  book: number;
  note: string | null;
  difference: Difference | null;
  isWasted: boolean;
};

/** Every count that stands, in the order they were made; of one medicine, or all. */
export function countsOf(tx: Reader, medicine?: string): CountRow[] {
  const one = medicine === undefined ? '' : 'AND c.medicine = ?';
  return tx
    .all<Omit<CountRow, 'isWasted'>>(
      `SELECT c.id AS container, c.label, c.medicine, c.revision, c.kind, m.local, m.at, m.seq, m.units, m.note,
         m.difference,
         (SELECT coalesce(sum(b.units), 0) FROM movement AS b
           WHERE b.subject = m.subject AND (b.at < m.at OR (b.at = m.at AND (b.seq < m.seq OR (b.seq = m.seq AND b.i < m.i))))) AS book
       FROM movement AS m JOIN container AS c ON c.subject = m.subject
       WHERE m.cause = 'counted' ${one} ORDER BY m.at, m.seq`,
      ...(medicine === undefined ? [] : [medicine]),
    )
    .map((row) => ({ ...row, isWasted: isWasted(row.difference ?? undefined) }));
}
