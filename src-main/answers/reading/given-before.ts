import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { GivenBefore } from '../../../src-shared/label/not-if-facts.ts';
import { substancesOf } from '../../../src-shared/label/not-if-substance.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { KIN } from './holds.ts';
import { termsReader } from './labels.ts';
import { possibleOf } from './possible-hold.ts';

type Source = DataOf<'administered'>['source'];
type Row = {
  subject: string;
  id: string;
  at: string;
  local: string;
  product: string;
  medicine: string;
  source: string;
  course: string | null;
  open: string | null;
};

/** One treatment before, with what a question about repeats needs. */
export type Before = GivenBefore & {
  at: string;
  /** Nothing for one that has no record of its own. */
  administration?: string;
  medicine?: string;
  /** The course it belongs to, while that is open. */
  openCourse?: string;
};

/**
 * What each subject had in a span of time, whatever the product: its own treatments and those of the lots it came out
 * of, and the medicines of a session it went through without a record. In the order in which they happened.
 * @param span instants, both ends included
 */
export function givenTo(
  tx: Reader,
  subjects: readonly string[],
  span: { from: string; to: string },
  zone: string,
): Map<string, Before[]> {
  const termsOf = termsReader(tx);
  const found = new Map<string, Before[]>();
  const rows = tx.all<Row>(
    `WITH RECURSIVE wanted(s) AS (SELECT value FROM json_each(?)), ${KIN}
     SELECT kin.subject, a.id, a.at, a.local, a.product, a.medicine, a.data -> '$.source' AS source,
       a.data ->> '$.course.course' AS course, c.data ->> '$.state' AS open
     FROM kin_once AS kin JOIN administration AS a ON a.subject = kin.ancestor AND a.at <= kin.cut
     LEFT JOIN record AS c ON c.what = 'course' AND c.id = a.data ->> '$.course.course'
     WHERE a.at BETWEEN ? AND ? ORDER BY a.at, a.seq`,
    JSON.stringify(subjects),
    span.from,
    span.to,
  );
  for (const row of rows) {
    const revisions = revisionsIn(JSON.parse(row.source) as Source);
    const substances = revisions.flatMap((revision) => {
      const terms = termsOf(revision);
      return terms ? substancesOf(terms) : [];
    });
    push(found, row.subject, {
      name: row.product,
      substances: [...new Set(substances)],
      on: row.local.slice(0, 10) as Day,
      how: 'given',
      at: row.at,
      administration: row.id,
      medicine: row.medicine,
      ...(row.course !== null && row.open === 'open' ? { openCourse: row.course } : {}),
    });
  }
  for (const each of possiblyGiven(tx, subjects, span, zone)) push(found, each.subject, each.before);
  for (const list of found.values()) list.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
  return found;
}

function push<T>(lists: Map<string, T[]>, key: string, item: T): void {
  const list = lists.get(key);
  if (list) list.push(item);
  else lists.set(key, [item]);
}

function revisionsIn(source: Source): string[] {
  return source.kind === 'ours' ? source.draws.map((draw) => draw.revision) : [source.revision];
}

/** Who went through a session without a record counts as treated with everything that was planned, until resolved. */
export function possiblyGiven(
  tx: Reader,
  subjects: readonly string[],
  span: { from: string; to: string },
  zone: string,
): { subject: string; before: Before }[] {
  const termsOf = termsReader(tx);
  const rows = tx.all<{
    subject: string;
    ancestor: string;
    at: string;
    data: string;
    possible: string | null;
  }>(
    `WITH RECURSIVE wanted(s) AS (SELECT value FROM json_each(?)), ${KIN}
     SELECT DISTINCT kin.subject, kin.ancestor, session.at, session.data, hold.possible
     FROM kin_once AS kin JOIN hold ON hold.subject = kin.ancestor AND hold.from_at <= kin.cut
     JOIN session ON session.id = hold.possible ->> '$.session'
     WHERE hold.cause = 'possibly-treated' AND hold.state <> 'none' AND hold.from_at BETWEEN ? AND ?`,
    JSON.stringify(subjects),
    span.from,
    span.to,
  );
  return rows.flatMap(({ subject, ancestor, at, data, possible }) => {
    const { lines } = possibleOf({ possible });
    const plan = JSON.parse(data) as DataOf<'session-opened'>;
    const planned = plan.subjects.find((item) => item.subject === ancestor);
    return plan.lines.flatMap((line, i) => {
      const isPlanned = planned?.doses[i] != null || planned?.toWeigh?.includes(i) === true;
      if (!(lines?.includes(line.line) ?? isPlanned)) return [];
      const terms = termsOf(line.revision);
      if (!terms) return [];
      const on = dayOf(at as Instant, zone);
      const before: Before = {
        name: terms.name,
        substances: substancesOf(terms),
        on,
        how: 'possibly',
        at,
        medicine: line.medicine,
      };
      return [{ subject, before }];
    });
  });
}

/** Since when the book has each subject, or the first of the lots it came out of: earlier treatments are not in it. */
export function knownSince(tx: Reader, subjects: readonly string[], zone: string): Map<string, Day> {
  const rows = tx.all<{ subject: string; at: string | null }>(
    `WITH RECURSIVE wanted(s) AS (SELECT value FROM json_each(?)), ${KIN}
     SELECT kin.subject, min(e.at) AS at FROM kin_once AS kin
     LEFT JOIN animal ON animal.id = substr(kin.ancestor, 8) AND kin.ancestor LIKE 'animal:%'
     LEFT JOIN lot ON lot.id = substr(kin.ancestor, 5) AND kin.ancestor LIKE 'lot:%'
     JOIN subject_entry AS e ON e.subject = kin.ancestor AND e.seq = coalesce(animal.seq, lot.seq)
     GROUP BY kin.subject`,
    JSON.stringify(subjects),
  );
  return new Map(
    rows.flatMap(({ subject, at }) => (at === null ? [] : [[subject, dayOf(at as Instant, zone)]])),
  );
}
