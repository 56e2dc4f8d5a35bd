import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { Reader } from '../../store/store.ts';

/** One hold on one subject, its own or one that came to it from the lot it was in when that lot was treated. */
export type HoldRow = {
  /** The subject asked about. */
  subject: string;
  /** The subject the hold was put on: the same, or an earlier lot. */
  on_subject: string;
  source: string;
  cause: string;
  produce: string;
  market: string;
  clock: string;
  state: HoldDecision['state'];
  until: string | null;
  event: string | null;
  period: string | null;
  from_at: string;
  data: string;
  product: string | null;
};

/**
 * Who a subject was before: itself without end, and each lot that gave it heads, up to the moment it did. What
 * happened to that lot afterwards is not inherited; what happened at the very moment is (the cautious reading).
 */
export const KIN = `
  kin(subject, ancestor, cut) AS (
    SELECT s, s, '9999-12-31T23:59:59.999Z' FROM wanted
    UNION
    SELECT kin.subject, lineage.parent, lineage.at
    FROM kin JOIN lineage ON lineage.subject = kin.ancestor AND lineage.at <= kin.cut
  ),
  kin_once(subject, ancestor, cut) AS (SELECT subject, ancestor, max(cut) FROM kin GROUP BY subject, ancestor)`;

/** Every animal that is there, and every lot that has heads. */
export const PRESENT = `
  SELECT 'animal:' || id AS s FROM animal WHERE present = 1
  UNION ALL SELECT 'lot:' || id FROM lot WHERE heads > 0`;

/**
 * Every hold that bears on the subjects, inherited ones included, in the order in which they began.
 * @param subjects the subjects, or 'present' for every animal and lot that is there
 */
export function holdsOn(tx: Reader, subjects: readonly string[] | 'present'): HoldRow[] {
  const wanted = subjects === 'present' ? PRESENT : 'SELECT value AS s FROM json_each(?)';
  const sql = `WITH RECURSIVE wanted(s) AS (${wanted}), ${KIN}
    SELECT kin.subject, hold.subject AS on_subject, source, cause, produce, market, clock, state, until, event, period,
      from_at, hold.data,
      -- Looked up by its key: the other way round every hold would read every administration.
      (SELECT product FROM administration
        WHERE source LIKE 'administration:%' AND administration.id = substr(source, 16)) AS product
    FROM kin_once AS kin JOIN hold ON hold.subject = kin.ancestor AND hold.from_at <= kin.cut
    ORDER BY from_at, hold.seq`;
  return subjects === 'present' ? tx.all<HoldRow>(sql) : tx.all<HoldRow>(sql, JSON.stringify(subjects));
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
