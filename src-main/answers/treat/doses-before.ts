import type { Reader } from '../../store/store.ts';

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
  },
): DoseBefore[] {
  return tx.all<DoseBefore>(
    `WITH RECURSIVE kin(ancestor, cut) AS (
       SELECT value, ? FROM json_each(?)
       UNION
       SELECT lineage.parent, min(lineage.at, kin.cut)
       FROM kin JOIN lineage ON lineage.subject = kin.ancestor AND lineage.at <= kin.cut
     )
     SELECT DISTINCT a.local, a.at, a.data ->> '$.course.course' AS course
     FROM kin JOIN administration AS a ON a.subject = kin.ancestor AND a.at <= kin.cut
     WHERE a.medicine = ? AND a.data ->> '$.doseLine' = ? AND a.at < ? AND a.id <> ?
       AND (a.subject LIKE 'animal:%' OR NOT a.subject IN (SELECT value FROM json_each(?))
         OR a.heads + ? > coalesce((SELECT heads FROM lot WHERE id = substr(a.subject, 5)), 0))
     ORDER BY a.at DESC LIMIT 80`,
    of.at,
    JSON.stringify(of.subjects),
    of.medicine,
    of.doseLine,
    of.at,
    of.except,
    JSON.stringify(of.subjects),
    of.heads,
  );
}
