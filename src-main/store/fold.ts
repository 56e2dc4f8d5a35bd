import type { Cell, Entry, FoldRead, Row, RowOp, Subject } from '../../src-shared/entries/kind.ts';
import type { Replaced } from '../../src-shared/entries/replaced.ts';
import type { EntryName, Voided } from '../../src-shared/entries/voided.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { type Effective, type EntrySource, effectiveEntries, isCorrection } from './effective.ts';
import { type Kinds, kindFor, upgraded, upgradedData } from './journal.ts';
import type { Projection } from './projection.ts';
import { quoted, type TableShape, tableShape } from './projection-tables.ts';
import { checkedParam, type Db, statements } from './sqlite.ts';

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
  const shapes = new Map(projections.map(({ table }) => [table, tableShape(db, table)] as const));
  const insertSubject = prepare(
    'INSERT INTO subject_entry (subject, at, seq, correction) VALUES (?, ?, ?, ?)',
  );
  const removeSubjects = prepare('DELETE FROM subject_entry WHERE seq = ?');
  const subjectsOfSeq = prepare('SELECT subject FROM subject_entry WHERE seq = ? ORDER BY subject').pluck();
  const insertCorrection = prepare('INSERT INTO correction (target, seq, what, reason) VALUES (?, ?, ?, ?)');
  const laterOnSubject = prepare(
    'SELECT 1 FROM subject_entry WHERE subject = ? AND (at, seq) > (?, ?) AND correction = 0 LIMIT 1',
  );
  const orderOfSubject = prepare(
    'SELECT seq FROM subject_entry WHERE subject = ? AND correction = 0 ORDER BY at, seq',
  ).pluck();
  const emptyTable = [...shapes.keys()].map((table) =>
    prepare(`DELETE FROM ${quoted(table)} WHERE subject = ?`),
  );

  function foldOne(entry: Entry, subject: Subject): void {
    const kind = kindFor(kinds, entry.kind, entry.v, entry.seq);
    for (const op of kind.fold(entry, subject, readOf(subject))) apply(op, subject, entry);
  }

  function readOf(subject: Subject): FoldRead {
    return {
      rows(table, where = {}) {
        const shape = shapeOf(table);
        const names = Object.keys(where);
        const conditions = names.map((name) => ` AND ${column(shape, name)} IS ?`).join('');
        const order = shape.key.map(quoted).join(', ');
        const sql = `SELECT * FROM ${quoted(table)} WHERE subject = ?${conditions} ORDER BY ${order}`;
        const values = names.map((name) => checkedParam(where[name], `${table}.${name}`));
        return prepare(sql).all(subject, ...values) as Row[];
      },
    };
  }

  function shapeOf(table: string): TableShape {
    const shape = shapes.get(table);
    if (!shape) throw new Error(`a fold names the table ${table}, which is not a projection`);
    return shape;
  }

  function apply(op: RowOp, subject: Subject, entry: Entry): void {
    const shape = shapeOf(op.table);
    if (op.op === 'put') put(shape, op.row, subject, entry);
    else if (op.op === 'change') change(shape, op.key, op.set, subject);
    else {
      const [condition, values] = matching(shape, op.key);
      prepare(`DELETE FROM ${quoted(op.table)} WHERE subject = ?${condition}`).run(subject, ...values);
    }
  }

  function put(shape: TableShape, given: Row, subject: Subject, entry: Entry): void {
    const row: Row = { ...given, subject: ownSubject(given, subject, shape.table) };
    const names = Object.keys(row);
    const values = names.map((name) => checkedParam(row[name], `${shape.table}.${name}`));
    for (const name of shape.key) {
      if (row[name] === null || row[name] === undefined)
        throw new Error(`${shape.table}: the key ${name} is empty`);
    }
    const columns = names.map((name) => column(shape, name)).join(', ');
    const rest = names.filter((name) => !shape.key.includes(name));
    const key = shape.key.map(quoted).join(', ');
    const set = rest.map((name) => `${quoted(name)} = excluded.${quoted(name)}`).join(', ');
    // A row of another subject is never taken over: which one won would depend on the order of folding.
    const update = set === '' ? 'subject = excluded.subject' : set;
    const sql = `INSERT INTO ${quoted(shape.table)} (${columns}) VALUES (${names.map(() => '?').join(', ')})
      ON CONFLICT (${key}) DO UPDATE SET ${update} WHERE ${quoted(shape.table)}.subject = excluded.subject`;
    const done = prepare(sql).run(...values);
    if (done.changes !== 1) {
      const named = shape.key.map((name) => String(row[name])).join(', ');
      throw new Refusal(
        'row-of-another-subject',
        `Entry ${entry.seq} cannot be taken: "${named}" already belongs to something else in the book.`,
        {
          next: 'Choose another name or number for it.',
        },
      );
    }
  }

  function change(shape: TableShape, key: Row, set: Row, subject: Subject): void {
    const [condition, keyValues] = matching(shape, key);
    const names = Object.keys(set);
    if (names.length === 0) return;
    for (const name of names) {
      if (name === 'subject' || shape.key.includes(name)) {
        throw new Error(`${shape.table}: ${name} is part of the key and cannot be changed`);
      }
    }
    const values = names.map((name) => checkedParam(set[name], `${shape.table}.${name}`));
    const sets = names.map((name) => `${column(shape, name)} = ?`).join(', ');
    // No row to change is no error: entries come in the order things happened, and a late one may stand first.
    prepare(`UPDATE ${quoted(shape.table)} SET ${sets} WHERE subject = ?${condition}`).run(
      ...values,
      subject,
      ...keyValues,
    );
  }

  function matching(shape: TableShape, key: Row): [condition: string, values: Cell[]] {
    const names = Object.keys(key);
    const condition = names.map((name) => ` AND ${column(shape, name)} IS ?`).join('');
    return [condition, names.map((name) => checkedParam(key[name], `${shape.table}.${name}`))];
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
      const old = subjectsOfSeq.all(target.entry.seq) as Subject[];
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
        removeSubjects.run(target.entry.seq);
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
        const kind = kindFor(kinds, entry.kind, entry.v, entry.seq);
        const subjects = distinct(kind.subjects(entry.data));
        index(entry, subjects, false);
        for (const subject of subjects) {
          if (stale.has(subject)) continue;
          if (laterOnSubject.get(subject, entry.happened.at, entry.seq)) stale.add(subject);
        }
        for (const subject of subjects) if (!stale.has(subject)) foldOne(entry, subject);
      },
      finish(progress) {
        for (const subject of stale) for (const empty of emptyTable) empty.run(subject);
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

function ownSubject(row: Row, subject: Subject, table: string): Subject {
  const given = row.subject;
  if (given === undefined || given === subject) return subject;
  throw new Error(`a fold for ${subject} puts a row of ${String(given)} into ${table}`);
}

function column(shape: TableShape, name: string): string {
  if (!shape.columns.has(name)) throw new Error(`${shape.table} has no column ${name}`);
  return quoted(name);
}
