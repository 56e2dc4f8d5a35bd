import type { HoldDecision } from '../../../src-shared/entries/parts.ts';

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
  /** Number of the entry that decided it; absent for what is only foreseen. */
  seq?: number;
  product: string | null;
  /** Of one possibly treated, what it may have had, as JSON; absent for what is only foreseen. */
  possible?: string | null;
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
