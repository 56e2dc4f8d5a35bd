import type { z } from 'zod';
import type { groupSet } from '../../../src-shared/entries/group-set.ts';
import type { Entry, Happened } from '../../../src-shared/entries/kind.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Answers, write } from '../context.ts';
import { onlyHolding } from '../reading/holding.ts';
import { subjectsOf } from '../reading/subjects.ts';

/** The request that wrote an import; the import's id is the first id that request made. */
function requestOf(id: string): string {
  return id.slice(0, id.lastIndexOf('.'));
}

type ImportRow = { import: string; what: 'animals' | 'weighings'; recorded: string; rows: number };

/** Imports whose rows still count, newest first. */
function importsIn(tx: Reader): ImportRow[] {
  const animals = tx.all<{ import: string; rows: number; seq: number }>(
    'SELECT import, count(*) AS rows, min(seq) AS seq FROM animal WHERE import IS NOT NULL GROUP BY import',
  );
  // Weighings are grouped by their request first, so that only one line of each has to be read.
  const weighings = tx.all<{ seq: number; rows: number }>(
    `SELECT min(journal.seq) AS seq, count(*) AS rows FROM weighing JOIN journal ON journal.seq = weighing.seq
     WHERE weighing.how = 'crate' GROUP BY journal.request`,
  );
  const line = (seq: number) =>
    tx.get<{ recorded: string; import: string | null }>(
      `SELECT line ->> '$.recorded' AS recorded, line ->> '$.data.import' AS import FROM journal WHERE seq = ?`,
      seq,
    );
  const found: ImportRow[] = [];
  for (const { seq, rows, ...one } of animals) {
    found.push({ import: one.import, what: 'animals', recorded: line(seq)?.recorded ?? '', rows });
  }
  for (const { seq, rows } of weighings) {
    const first = line(seq);
    if (!first?.import) continue;
    found.push({ import: first.import, what: 'weighings', recorded: first.recorded, rows });
  }
  return found.sort((a, b) => (a.recorded < b.recorded ? 1 : -1));
}

type Written = { n: number; seq: number; kind: string; subject: string };

/** The entries of a request that still count, with their subjects, latest first. */
function standingEntries(tx: Reader, request: string): Written[] {
  return tx.all<Written>(
    `SELECT journal.n, journal.seq, journal.line ->> '$.kind' AS kind, subject_entry.subject
     FROM journal JOIN subject_entry ON subject_entry.seq = journal.seq AND subject_entry.correction = 0
     WHERE journal.request = ? AND NOT EXISTS (
       SELECT 1 FROM correction WHERE correction.target = journal.seq AND correction.what = 'voided')
     ORDER BY journal.seq DESC`,
    request,
  );
}

/** Why animals of an import must stay: other entries are about them, or an open session counts on them. */
function reasonsToStay(tx: Reader, request: string, subjects: readonly string[]): Map<string, string> {
  const wanted = JSON.stringify(subjects);
  const later = tx.all<{ subject: string }>(
    `SELECT DISTINCT subject_entry.subject FROM json_each(?) AS wanted
     JOIN subject_entry ON subject_entry.subject = wanted.value AND subject_entry.correction = 0
     JOIN journal ON journal.seq = subject_entry.seq
     WHERE journal.request <> ? AND NOT EXISTS (
       SELECT 1 FROM correction WHERE correction.target = journal.seq AND correction.what = 'voided')`,
    wanted,
    request,
  );
  const planned = tx.all<{ subject: string }>(
    `SELECT DISTINCT planned.value ->> '$.subject' AS subject
     FROM session, json_each(session.data, '$.subjects') AS planned
     WHERE session.state = 'open' AND planned.value ->> '$.subject' IN (SELECT value FROM json_each(?))`,
    wanted,
  );
  return new Map([
    ...planned.map((row) => [row.subject, 'It is planned for a session that is open.'] as const),
    ...later.map((row) => [row.subject, 'There are later entries about it.'] as const),
  ]);
}

/** Takes the import's members out of a group: the whole entry, or all of it but the animals that stay. */
function withdrawMembers(
  act: Act,
  { request, n }: { request: string; n: number },
  stay: ReadonlySet<string>,
  reason: string,
  now: Happened,
): void {
  const row = act.tx.get<{ line: string }>(
    'SELECT line FROM journal WHERE request = ? AND n = ?',
    request,
    n,
  );
  if (!row) throw new Error(`entry ${n} of an import is missing`);
  const entry: Pick<Entry<z.output<typeof groupSet.schema>>, 'v' | 'happened' | 'data'> = JSON.parse(
    row.line,
  );
  const add = entry.data.add.filter((member) => stay.has(member));
  if (add.length === entry.data.add.length) return;
  const target = { request, n };
  const { v, happened, data } = entry;
  if (add.length === 0) act.add('voided', { target, reason }, now);
  else act.add('replaced', { target, kind: 'group-set', v, happened, data: { ...data, add }, reason }, now);
}

export const withdrawAnswers: Answers<'imports' | 'withdraw-import'> = {
  imports(context) {
    const tx = context.store.read;
    const zone = onlyHolding(tx)?.zone ?? 'UTC';
    return {
      imports: importsIn(tx).map(({ recorded, ...one }) => ({
        ...one,
        on: localOf(parseInstant(recorded, 'recorded'), zone),
      })),
    };
  },

  'withdraw-import'(context, asked) {
    return write<'withdraw-import'>(context, asked, (act) => {
      const request = requestOf(asked.import);
      const entries = standingEntries(act.tx, request);
      const brought = entries.filter((entry) => entry.kind === 'animal-set').map((entry) => entry.subject);
      const known = act.tx.get<{ import: string | null }>(
        `SELECT line ->> '$.data.import' AS import FROM journal WHERE request = ? AND n = 1`,
        request,
      );
      if (known?.import !== asked.import || entries.length === 0) {
        throw new Refusal(
          'no-such-import',
          'There is no such import in this book, or it was taken back already.',
          {
            field: 'import',
            next: 'Choose it from the list of imports.',
          },
        );
      }
      const stay = reasonsToStay(act.tx, request, brought);
      const staying = new Set(stay.keys());
      const now = act.happened(onlyHolding(act.tx), undefined);
      for (const { n, kind, subject } of entries) {
        if (kind === 'group-set') withdrawMembers(act, { request, n }, staying, asked.reason, now);
        else if (!staying.has(subject))
          act.add('voided', { target: { request, n }, reason: asked.reason }, now);
      }
      const left = subjectsOf(act.tx, [...staying]).map(({ subject, shown }) => ({
        subject,
        shown,
        why: stay.get(subject) ?? '',
      }));
      const rows = brought.length > 0 ? brought.length - left.length : entries.length;
      return { withdrawn: rows, left };
    });
  },
};
