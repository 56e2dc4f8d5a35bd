import type { Entry, FoldRead, Row, RowOp, Subject } from '../../src-shared/entries/kind.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import type { Projection } from './projection.ts';
import { quoted, type TableShape, tableShape } from './projection-tables.ts';
import { checkedParam, type Db, type Param, type Statement, statements } from './sqlite.ts';

/** The rows of projections, as a fold sees and changes them: always those of one subject. */
export type FoldRows = {
  /** What a fold of this subject may look at. Rows come in the order of the primary key. */
  readOf(subject: Subject): FoldRead;
  /** Does what a fold asked for. @throws Error when it asks for what it may not; Refusal `row-of-another-subject` */
  apply(op: RowOp, subject: Subject, entry: Entry): void;
  /** Takes away every row of a subject. */
  empty(subject: Subject): void;
};

/** Rows of the projection tables in `db`. Statements are made once for each set of columns a fold names. */
export function foldRows(db: Db, projections: readonly Projection[]): FoldRows {
  const prepare = statements(db);
  const shapes = new Map(projections.map(({ table }) => [table, tableShape(db, table)] as const));
  const emptyTable = [...shapes.keys()].map((table) =>
    prepare(`DELETE FROM ${quoted(table)} WHERE subject = ?`),
  );
  const made = new Map<string, Statement>();

  function shapeOf(table: string): TableShape {
    const shape = shapes.get(table);
    if (!shape) throw new Error(`a fold names the table ${table}, which is not a projection`);
    return shape;
  }

  function once(name: string, sql: () => string): Statement {
    const found = made.get(name);
    if (found) return found;
    const statement = prepare(sql());
    made.set(name, statement);
    return statement;
  }

  function put(shape: TableShape, given: Row, subject: Subject, entry: Entry): void {
    const row: Row = { ...given, subject: ownSubject(given, subject, shape.table) };
    const names = Object.keys(row);
    const values = valuesOf(shape, row, names);
    for (const name of shape.key) if (row[name] === null || row[name] === undefined) emptyKey(shape, name);
    const statement = once(`put ${shape.table} ${names}`, () => upsertSql(shape, names));
    if (statement.run(...values).changes === 1) return;
    const named = shape.key.map((name) => String(row[name])).join(', ');
    throw new Refusal(
      'row-of-another-subject',
      `Entry ${entry.seq} cannot be taken: "${named}" already belongs to something else in the book.`,
      { next: 'Choose another name or number for it.' },
    );
  }

  function change(shape: TableShape, key: Row, set: Row, subject: Subject): void {
    const keys = Object.keys(key);
    const names = Object.keys(set);
    if (names.length === 0) return;
    const statement = once(`change ${shape.table} ${names} by ${keys}`, () => {
      for (const name of names) {
        if (name !== 'subject' && !shape.key.includes(name)) continue;
        throw new Error(`${shape.table}: ${name} is part of the key and cannot be changed`);
      }
      const sets = names.map((name) => `${column(shape, name)} = ?`).join(', ');
      return `UPDATE ${quoted(shape.table)} SET ${sets} WHERE subject = ?${matching(shape, keys)}`;
    });
    // No row to change is no error: entries come in the order things happened, and a late one may stand first.
    statement.run(...valuesOf(shape, set, names), subject, ...valuesOf(shape, key, keys));
  }

  function remove(shape: TableShape, key: Row, subject: Subject): void {
    const keys = Object.keys(key);
    const statement = once(
      `remove ${shape.table} ${keys}`,
      () => `DELETE FROM ${quoted(shape.table)} WHERE subject = ?${matching(shape, keys)}`,
    );
    statement.run(subject, ...valuesOf(shape, key, keys));
  }

  return {
    readOf: (subject) => ({
      rows(table, where = {}) {
        const shape = shapeOf(table);
        const names = Object.keys(where);
        const statement = once(
          `rows ${table} ${names}`,
          () =>
            `SELECT * FROM ${quoted(table)} WHERE subject = ?${matching(shape, names)} ORDER BY ${shape.keySql}`,
        );
        return statement.all(subject, ...valuesOf(shape, where, names)) as Row[];
      },
    }),
    apply(op, subject, entry) {
      const shape = shapeOf(op.table);
      if (op.op === 'put') put(shape, op.row, subject, entry);
      else if (op.op === 'change') change(shape, op.key, op.set, subject);
      else remove(shape, op.key, subject);
    },
    empty(subject) {
      for (const statement of emptyTable) statement.run(subject);
    },
  };
}

/** A row of another subject is never taken over: which one won would depend on the order of folding. */
function upsertSql(shape: TableShape, names: readonly string[]): string {
  const table = quoted(shape.table);
  const columns = names.map((name) => column(shape, name)).join(', ');
  const marks = names.map(() => '?').join(', ');
  const rest = names.filter((name) => !shape.key.includes(name));
  const set = (rest.length > 0 ? rest : ['subject'])
    .map((name) => `${quoted(name)} = excluded.${quoted(name)}`)
    .join(', ');
  return `INSERT INTO ${table} (${columns}) VALUES (${marks})
    ON CONFLICT (${shape.keySql}) DO UPDATE SET ${set} WHERE ${table}.subject = excluded.subject`;
}

function matching(shape: TableShape, names: readonly string[]): string {
  return names.map((name) => ` AND ${column(shape, name)} IS ?`).join('');
}

function valuesOf(shape: TableShape, row: Row, names: readonly string[]): Param[] {
  return names.map((name) => checkedParam(row[name], shape.table, name));
}

function emptyKey(shape: TableShape, name: string): never {
  throw new Error(`${shape.table}: the key ${name} is empty`);
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
