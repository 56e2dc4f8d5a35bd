import type { Entry, Subject } from '../../src-shared/entries/kind.ts';
import type { Replaced } from '../../src-shared/entries/replaced.ts';
import type { EntryName, Voided } from '../../src-shared/entries/voided.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { type Effective, type EntrySource, effectiveEntries, isCorrection } from './effective.ts';
import { foldRows } from './fold-rows.ts';
import { type Kinds, kindFor, upgraded, upgradedData } from './journal.ts';
import type { Projection } from './projection.ts';
import { type Db, statements } from './sqlite.ts';

/**
 * Turns entries into rows, the same way for one new entry, for a late one and for a whole journal:
 * an entry that comes last in its subject's order is folded at once; a late or correcting one makes its
 * subjects stale, and `finish` empties every stale subject and folds it again from its first entry.
 */
export type Folding = {
  /** Takes one entry, in order of seq. Corrections are checked against their target here. */
  take(entry: Entry): void;
  /** Folds the stale subjects again. Until then their rows are not to be read. */
  finish(progress?: (done: number, total: number) => void): void;
};

export type FoldEngine = { begin(): Folding };

/**
 * The engine over projection tables in `db`, reading entries back from `source`. The caller holds the
 * transaction.
 */
export function foldEngine(
  db: Db,
  source: EntrySource,
  kinds: Kinds,
  projections: readonly Projection[],
): FoldEngine {
  const prepare = statements(db);
  const { effective } = effectiveEntries(db, source, kinds);
  const rows = foldRows(db, projections);
  const insertSubject = prepare(
    'INSERT INTO subject_entry (subject, at, seq, correction) VALUES (?, ?, ?, ?)',
  );
  const removeSubject = prepare('DELETE FROM subject_entry WHERE subject = ? AND at = ? AND seq = ?');
  const insertCorrection = prepare('INSERT INTO correction (target, seq, what, reason) VALUES (?, ?, ?, ?)');
  const laterOnSubject = prepare(
    'SELECT 1 FROM subject_entry WHERE subject = ? AND (at, seq) > (?, ?) AND correction = 0 LIMIT 1',
  );
  const orderOfSubject = prepare(
    'SELECT seq FROM subject_entry WHERE subject = ? AND correction = 0 ORDER BY at, seq',
  ).pluck();
  function foldOne(entry: Entry, subject: Subject): void {
    const kind = kindFor(kinds, entry.kind, entry.v, entry.seq);
    for (const op of kind.fold(entry, subject, rows.readOf(subject))) rows.apply(op, subject, entry);
  }

  function subjectsOf(entry: Entry): Subject[] {
    return distinct(kindFor(kinds, entry.kind, entry.v, entry.seq).subjects(entry.data));
  }

  function begin(): Folding {
    const stale = new Set<Subject>();

    function index(entry: Entry, subjects: readonly Subject[], correction: boolean): void {
      for (const subject of subjects) {
        insertSubject.run(subject, entry.happened.at, entry.seq, correction ? 1 : 0);
      }
    }

    function takeCorrection(entry: Entry): void {
      const data = entry.data as Voided | Replaced;
      const target = correctable(data.target, source, effective);
      const old = subjectsOf(target.entry);
      let all = old;
      if (entry.kind === 'replaced') {
        const content = entry.data as Replaced;
        if (content.kind !== target.entry.kind) {
          throw new Refusal(
            'correction-other-kind',
            'A correction cannot turn a record into another kind of record.',
            {
              field: 'kind',
              next: 'Strike the record out and write a new one.',
            },
          );
        }
        const kind = kindFor(kinds, content.kind, content.v, entry.seq);
        const fresh = distinct(kind.subjects(upgradedData(kind, content.v, content.data)));
        all = distinct([...old, ...fresh]);
        for (const subject of old) removeSubject.run(subject, target.entry.happened.at, target.entry.seq);
        for (const subject of fresh) insertSubject.run(subject, content.happened.at, target.entry.seq, 0);
      }
      insertCorrection.run(target.entry.seq, entry.seq, entry.kind, data.reason);
      index(entry, all, true);
      for (const subject of all) stale.add(subject);
    }

    return {
      take(written) {
        const entry = upgraded(kinds, written);
        if (isCorrection(entry)) return takeCorrection(entry);
        const subjects = subjectsOf(entry);
        index(entry, subjects, false);
        for (const subject of subjects) {
          if (stale.has(subject)) continue;
          if (laterOnSubject.get(subject, entry.happened.at, entry.seq)) stale.add(subject);
        }
        for (const subject of subjects) if (!stale.has(subject)) foldOne(entry, subject);
      },
      finish(progress) {
        for (const subject of stale) rows.empty(subject);
        let done = 0;
        for (const subject of stale) {
          for (const seq of orderOfSubject.all(subject) as number[]) {
            const found = effective(seq);
            if (!found) throw new Error(`entry ${seq} is missing`);
            if (found.state !== 'voided') foldOne(found.entry, subject);
          }
          done += 1;
          progress?.(done, stale.size);
        }
        stale.clear();
      },
    };
  }

  return { begin };
}

/** The entry a correction names. @throws Refusal when it is missing, a correction itself, or struck out */
function correctable(
  name: EntryName,
  source: EntrySource,
  effective: (seq: number) => Effective | undefined,
): Effective {
  const written = source.byName(name);
  const found = written && effective(written.seq);
  if (!found) {
    throw new Refusal('correction-no-target', 'The record to be corrected is not in this book.', {
      field: 'target',
      next: 'Open the record again from the book, then correct it.',
    });
  }
  if (isCorrection(found.entry)) {
    throw new Refusal('correction-of-correction', 'A correction cannot itself be corrected.', {
      field: 'target',
      next: 'Correct the record it belongs to, or write a new one.',
    });
  }
  if (found.state === 'voided') {
    throw new Refusal('correction-of-voided', 'This record is already struck out.', {
      field: 'target',
      next: 'Write a new record.',
    });
  }
  return found;
}

function distinct(subjects: readonly Subject[]): Subject[] {
  return [...new Set(subjects)].sort();
}
