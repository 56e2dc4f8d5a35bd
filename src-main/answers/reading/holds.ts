import type { Reader } from '../../store/store.ts';
import { heldAtFoot } from './at-foot.ts';
import { type HoldRow, KIN, PRESENT } from './kin.ts';
import { awoken, withEvents } from './settled.ts';

export { type HoldRow, KIN, PRESENT } from './kin.ts';

/** The columns of a hold row, of the table `hold` and of whom it bears on. */
const HOLD_COLUMNS = `hold.subject AS on_subject, source, cause, produce, market, clock, state, until, event, period,
      from_at, hold.data, hold.seq, possible,
      -- Looked up by its key: the other way round every hold would read every administration. The index keeps the
      -- names apart from the long rows.
      (SELECT product FROM administration INDEXED BY administration_3
        WHERE source LIKE 'administration:%' AND administration.id = substr(source, 16)) AS product`;

/**
 * Every hold that bears on the subjects, inherited ones included, in the order in which they began.
 *
 * What is put on a subject itself is read by its key; only who came out of a lot is walked back through the lineage.
 * Most animals of a farm never were in a lot, and the walk is what takes the time.
 * @param subjects the subjects, or 'present' for every animal and lot that is there
 * @param produce only holds of this produce
 */
export function holdsOn(tx: Reader, subjects: readonly string[] | 'present', produce?: string): HoldRow[] {
  const rows = ownHoldsOn(tx, subjects, produce);
  const atFoot = heldAtFoot(tx, subjects, produce, ownHoldsOn);
  if (atFoot.length === 0) return rows;
  return [...rows, ...atFoot].sort((a, b) =>
    a.from_at < b.from_at ? -1 : a.from_at > b.from_at ? 1 : (a.seq ?? 0) - (b.seq ?? 0),
  );
}

/** The same without what its dam was treated with. */
function ownHoldsOn(tx: Reader, subjects: readonly string[] | 'present', produce?: string): HoldRow[] {
  return awoken(tx, withEvents(tx, rawHoldsOn(tx, subjects, produce)));
}

/** The same as it was decided: what waits for an event waits, whether that has come or not, and nothing of a dam. */
export function rawHoldsOn(tx: Reader, subjects: readonly string[] | 'present', produce?: string): HoldRow[] {
  const wanted = subjects === 'present' ? PRESENT : 'SELECT DISTINCT value AS s FROM json_each(?)';
  const only = produce === undefined ? '' : 'AND produce = ?';
  const sql = `WITH RECURSIVE present(s) AS MATERIALIZED (${wanted}),
    wanted(s) AS (SELECT s FROM present WHERE s IN (SELECT subject FROM lineage)), ${KIN}
    SELECT present.s AS subject, ${HOLD_COLUMNS} FROM present CROSS JOIN hold ON hold.subject = present.s ${only}
    UNION ALL
    SELECT kin.subject, ${HOLD_COLUMNS}
    FROM kin_once AS kin CROSS JOIN hold ON hold.subject = kin.ancestor AND hold.from_at <= kin.cut ${only}
    WHERE kin.ancestor <> kin.subject
    ORDER BY from_at, seq`;
  const asked = subjects === 'present' ? [] : [JSON.stringify(subjects)];
  return tx.all<HoldRow>(sql, ...asked, ...(produce === undefined ? [] : [produce, produce]));
}

/** Every treatment that bears on the subjects, inherited ones included, in the order in which they happened. */
export function treatmentsOn(
  tx: Reader,
  subjects: readonly string[],
): {
  subject: string;
  id: string;
  local: string;
  at: string;
  product: string;
  data: string;
}[] {
  return tx.all(
    `WITH RECURSIVE wanted(s) AS (SELECT value FROM json_each(?)), ${KIN}
     SELECT kin.subject, a.id, a.local, a.at, a.product, a.data
     FROM kin_once AS kin JOIN administration AS a ON a.subject = kin.ancestor AND a.at <= kin.cut
     ORDER BY a.at, a.seq`,
    JSON.stringify(subjects),
  );
}

/** The lots that a subject's heads have been in, itself first. */
export function kinOf(tx: Reader, subject: string): { ancestor: string; cut: string }[] {
  return tx.all(
    `WITH RECURSIVE wanted(s) AS (SELECT ?), ${KIN} SELECT ancestor, cut FROM kin_once WHERE subject = ?`,
    subject,
    subject,
  );
}
