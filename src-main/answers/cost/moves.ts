import { type Difference, isWasted } from '../../../src-shared/stock/differences.ts';
import type { Reader } from '../../store/store.ts';

/** What left a container, in base units; drawn for a treatment it carries who had it. */
export type Move = {
  container: string;
  medicine: string;
  revision: string;
  kind: 'volume' | 'mass' | 'pieces';
  /** The number of its batch, or what stands in its place. */
  batch: string | null;
  batchId: string | null;
  cause: string;
  difference: Difference | null;
  units: number;
  administration: string | null;
  treated: string | null;
  heads: number | null;
  at: string | null;
};

/** Everything that left the bottles on these local days, both counted in, in the order it happened. */
export function movesOf(tx: Reader, from: string, to: string): Move[] {
  return tx.all<Move>(
    `SELECT c.id AS container, c.medicine, c.revision, c.kind, coalesce(b.number, c.batch_text) AS batch, b.id AS "batchId", m.cause,
       m.difference, -m.units AS units, m.administration, a.subject AS treated, a.heads, a.at
     FROM movement AS m JOIN container AS c ON c.subject = m.subject LEFT JOIN batch AS b ON b.id = c.batch
       LEFT JOIN administration AS a ON a.id = m.administration
     WHERE m.cause IN ('drawn', 'lost', 'disposed', 'counted') AND substr(m.local, 1, 10) BETWEEN ? AND ?
     ORDER BY m.at, m.seq, m.i`,
    from,
    to,
  );
}

/** What left the bottle and reached no animal. A count that found more than the book had takes from it again. */
export function isLost({ cause, difference }: Move): boolean {
  if (cause === 'counted') return isWasted(difference ?? undefined);
  return cause === 'lost' || cause === 'disposed';
}
