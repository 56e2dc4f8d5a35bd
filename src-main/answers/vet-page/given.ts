import type { Reply } from '../../../src-shared/calls/all.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { addDays, type Day, daysBetween } from '../../../src-shared/time/day.ts';
import { isOffLabelCode } from '../../../src-shared/withdrawal/off-label-deviations.ts';
import type { Reader } from '../../store/store.ts';
import { subjectsOf } from '../reading/subjects.ts';
import { substancesOf } from '../use/substances.ts';
import { medicineFacts } from '../use/use.ts';

type Page = Reply<'vet-page'>;
/** Local days, both counted in. */
export type Span = { holding: string | undefined; since: Day; to: Day; repeatDays: number };

type Given = {
  id: string;
  subject: string;
  at: string;
  day: Day;
  medicine: string;
  product: string;
  heads: number;
  reason: string;
  course: string | null;
  deviations: string | null;
};

/** So many names stand beside what was otherwise; the others are counted. */
const NAMED = 5;

/** What was given in the span: by medicine and reason, what came again, and what was not as the label says. */
export function givenSince(tx: Reader, span: Span): Pick<Page, 'given' | 'again' | 'otherwise'> {
  const facts = medicineFacts(tx, substancesOf(tx));
  const all = rowsOf(tx, span);
  const inSpan = all.filter(({ day }) => day >= span.since);
  const nameOf = namer(tx, all);
  return {
    given: byReason(inSpan, (medicine) => facts.get(medicine)?.isAntimicrobial ?? false),
    again: repeats(
      all.filter(({ medicine }) => !(facts.get(medicine)?.isVaccine ?? false)),
      { span, nameOf, before: beforeReader(tx) },
    ),
    otherwise: otherwise(inSpan, nameOf),
  };
}

/** Also what came before the span, as far as a repeat may look back. */
function rowsOf(tx: Reader, { holding, since, to, repeatDays }: Span): Given[] {
  return tx.all<Given>(
    `SELECT id, subject, at, substr(local, 1, 10) AS day, medicine, product, heads, data ->> '$.reason' AS reason,
       data ->> '$.course.course' AS course,
       CASE WHEN json_array_length(data, '$.deviations') > 0 THEN data -> '$.deviations' END AS deviations
     FROM administration
     WHERE substr(local, 1, 10) BETWEEN ? AND ? AND (? IS NULL OR holding = ?)
       AND data ->> '$.source.kind' <> 'earlier-keeper'
     ORDER BY at, seq`,
    addDays(since, -repeatDays),
    to,
    holding ?? null,
    holding ?? null,
  );
}

function namer(tx: Reader, rows: readonly Given[]): (subject: string) => string {
  const names = new Map(
    subjectsOf(tx, [...new Set(rows.map(({ subject }) => subject))]).map((row) => [row.subject, row.shown]),
  );
  return (subject) => names.get(subject) ?? subject;
}

function groupBy<T>(rows: readonly T[], keyOf: (row: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const key = keyOf(row);
    const group = groups.get(key);
    if (group) group.push(row);
    else groups.set(key, [row]);
  }
  return [...groups.values()];
}

const headsOf = (rows: readonly { heads: number }[]) => rows.reduce((sum, { heads }) => sum + heads, 0);

function byReason(rows: readonly Given[], isAntimicrobial: (medicine: string) => boolean): Page['given'] {
  return groupBy(rows, ({ medicine, reason }) => JSON.stringify([medicine, searchKey(reason)]))
    .flatMap((group) => {
      const [first, last] = [group[0], group.at(-1)];
      if (first === undefined || last === undefined) return [];
      return [
        {
          medicine: first.medicine,
          name: last.product,
          reason: first.reason,
          treatments: group.length,
          heads: headsOf(group),
          first: first.day,
          last: last.day,
          isAntimicrobial: isAntimicrobial(first.medicine),
        },
      ];
    })
    .toSorted((a, b) => a.name.localeCompare(b.name, 'en') || b.heads - a.heads);
}

type Before = (subject: string, rows: ReadonlyMap<string, readonly Given[]>) => Given[];

/** What the lots that a subject came out of were given while it was still in them. */
function beforeReader(tx: Reader): Before {
  const lines = new Map<string, { seq: number; parent: string; at: string }[]>();
  for (const { subject, ...line } of tx.all<{ subject: string; seq: number; parent: string; at: string }>(
    'SELECT subject, seq, parent, at FROM lineage',
  )) {
    const list = lines.get(subject);
    if (list) list.push(line);
    else lines.set(subject, [line]);
  }
  return (subject, rows) => {
    const found = new Map<string, Given>();
    const seen = new Set<number>();
    const walk = (of: string, cut: string): void => {
      for (const { seq, parent, at } of lines.get(of) ?? []) {
        if (at > cut || seen.has(seq)) continue;
        // Lots can give heads to each other and back.
        seen.add(seq);
        for (const row of rows.get(parent) ?? []) if (row.at <= at) found.set(row.id, row);
        walk(parent, at);
      }
    };
    walk(subject, '9999');
    return [...found.values()];
  };
}

/**
 * The same subject for the same reason on another day, and not as the next dose of the same course, within the days
 * that count as a repeat. A run of them is one line. What a lot was given counts for those who were in it then.
 */
function repeats(
  given: readonly Given[],
  {
    span: { since, repeatDays },
    nameOf,
    before,
  }: { span: Span; nameOf: (subject: string) => string; before: Before },
): Page['again'] {
  const bySubject = new Map(
    groupBy(given, ({ subject }) => subject).map((rows) => [rows[0]?.subject ?? '', rows]),
  );
  return [...bySubject]
    .flatMap(([subject, own]) => {
      const rows = [...before(subject, bySubject), ...own].toSorted((a, b) => (a.at < b.at ? -1 : 1));
      return groupBy(rows, ({ reason }) => searchKey(reason))
        .flatMap((group) => runsOf(group, repeatDays))
        .map((run) => ({ subject, run }));
    })
    .flatMap(({ subject, run }) => {
      const [first, last] = [run[0], run.at(-1)];
      // A run that ends before it came out of its lot is the lot's own.
      if (first === undefined || last === undefined || last.subject !== subject || last.day < since)
        return [];
      return [
        {
          subject,
          shown: nameOf(subject),
          reason: first.reason,
          days: daysBetween(first.day, last.day),
          times: run.map(({ id, day, product }) => ({ administration: id, day, product })),
        },
      ];
    })
    .toSorted((a, b) => b.times.length - a.times.length || a.shown.localeCompare(b.shown, 'en'));
}

/** Runs of at least two attempts, each within the days of the one before. Doses of one course are one attempt. */
function runsOf(rows: readonly Given[], repeatDays: number): Given[][] {
  const runs: Given[][] = [];
  let run: Given[] = [];
  let last: Given | undefined;
  for (const row of rows) {
    const isSame =
      last !== undefined && (row.day === last.day || (row.course !== null && row.course === last.course));
    const isNear = last !== undefined && daysBetween(last.day, row.day) <= repeatDays;
    if (!isSame) {
      if (!isNear) {
        runs.push(run);
        run = [];
      }
      run.push(row);
    }
    last = row;
  }
  return [...runs, run].filter((one) => one.length > 1);
}

function otherwise(given: readonly Given[], nameOf: (subject: string) => string): Page['otherwise'] {
  const each = given.flatMap((row) =>
    (row.deviations === null ? [] : (JSON.parse(row.deviations) as { code: string; text: string }[])).map(
      (deviation) => ({ ...row, ...deviation }),
    ),
  );
  const rows = groupBy(each, ({ medicine, code }) => JSON.stringify([medicine, code])).flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const texts = new Set(group.map(({ text }) => text));
    const names = [...new Set(group.map(({ subject }) => nameOf(subject)))];
    const more = names.length - NAMED;
    return [
      {
        name: first.product,
        code: first.code,
        isOffLabel: isOffLabelCode(first.code),
        text: texts.size === 1 ? first.text : `${first.text} (the first of ${texts.size} different)`,
        treatments: group.length,
        heads: headsOf(group),
        who: `${names.slice(0, NAMED).join(', ')}${more > 0 ? ` and ${more} more` : ''}`,
        administration: first.id,
      },
    ];
  });
  return rows.toSorted((a, b) => Number(b.isOffLabel) - Number(a.isOffLabel));
}
