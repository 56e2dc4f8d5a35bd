import type { Reader } from '../../store/store.ts';
import { changesOfLot } from '../reading/lot-heads.ts';

/** Heads that are only now said to have moved: not in the book yet. */
export type Moved = { subject: string; parent: string; at: string };

/** An earlier dose of one line of a label. */
export type DoseBefore = { local: string; at: string; course: string | null };

/**
 * Earlier doses of one medicine by one line of its label, newest first: the subject's own, and those of the lots it
 * came out of up to the moment it did. Of some of a lot only those that some of these heads must have had as well:
 * ten of a hundred today and ten others tomorrow are no repeat.
 * @param heads how many of a lot get the dose now
 * @param at the instant of the dose they come before
 * @param except an administration that is decided anew, which is no dose before itself
 */
export function dosesBefore(
  tx: Reader,
  of: {
    subjects: readonly string[];
    medicine: string;
    doseLine: string;
    at: string;
    except: string;
    heads: number;
    moved?: readonly Moved[] | undefined;
  },
): DoseBefore[] {
  const rows = tx.all<DoseBefore & { subject: string; heads: number }>(
    `WITH RECURSIVE moved(s, parent, at) AS (
       SELECT value ->> 'subject', value ->> 'parent', value ->> 'at' FROM json_each(?)
     ),
     kin(ancestor, cut) AS (
       SELECT value, ? FROM json_each(?)
       UNION
       SELECT lineage.parent, min(lineage.at, kin.cut)
       FROM kin JOIN lineage ON lineage.subject = kin.ancestor AND lineage.at <= kin.cut
       UNION
       SELECT moved.parent, min(moved.at, kin.cut)
       FROM kin JOIN moved ON moved.s = kin.ancestor AND moved.at <= kin.cut
     )
     SELECT DISTINCT a.subject, a.heads, a.local, a.at, a.data ->> '$.course.course' AS course
     FROM kin JOIN administration AS a ON a.subject = kin.ancestor AND a.at <= kin.cut
     WHERE a.medicine = ? AND a.data ->> '$.doseLine' = ? AND a.at < ? AND a.id <> ?
     ORDER BY a.at DESC LIMIT 80`,
    JSON.stringify(of.moved ?? []),
    of.at,
    JSON.stringify(of.subjects),
    of.medicine,
    of.doseLine,
    of.at,
    of.except,
  );
  return rows.filter((row) => isOfSame(tx, of.subjects, row, of.heads, of.at));
}

/**
 * Doses by the same line that came after one that is written late, oldest first: the subject's own, and those of whoever
 * came out of it. Of two at the same instant, as of a day alone, the one in the book is taken as the later.
 */
export function dosesAfter(
  tx: Reader,
  of: Parameters<typeof dosesBefore>[1],
): (DoseBefore & { data: string })[] {
  const rows = tx.all<DoseBefore & { subject: string; heads: number; data: string }>(
    `WITH RECURSIVE heirs(s, since) AS (
       SELECT value, ? FROM json_each(?)
       UNION
       SELECT lineage.subject, lineage.at
       FROM heirs JOIN lineage ON lineage.parent = heirs.s AND lineage.at >= heirs.since
     )
     SELECT a.subject, a.heads, a.local, a.at, a.data ->> '$.course.course' AS course, a.data
     FROM heirs CROSS JOIN administration AS a ON a.subject = heirs.s AND a.at >= heirs.since
     WHERE a.medicine = ? AND a.data ->> '$.doseLine' = ? AND a.id <> ?
     GROUP BY a.id ORDER BY a.at, a.seq LIMIT 80`,
    of.at,
    JSON.stringify(of.subjects),
    of.medicine,
    of.doseLine,
    of.except,
  );
  return rows.filter((row) => isOfSame(tx, of.subjects, row, of.heads, row.at));
}

/** Whether some of these heads must have had the other dose too: of a lot by the heads it had at the later of the two. */
function isOfSame(
  tx: Reader,
  subjects: readonly string[],
  other: { subject: string; heads: number },
  heads: number,
  at: string,
): boolean {
  if (other.subject.startsWith('animal:') || !subjects.includes(other.subject)) return true;
  const changes = changesOfLot(tx, other.subject);
  // Before it was counted first it had as many as then, for all that is known.
  const then = changes.findLast((change) => change.at <= at) ?? changes.find((change) => change.heads > 0);
  return other.heads + heads > (then?.heads ?? 0);
}
