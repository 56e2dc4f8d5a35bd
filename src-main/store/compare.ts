import type { Projection } from './projection.ts';
import { INDEX_TABLES, quoted } from './projection-tables.ts';
import type { Db } from './sqlite.ts';

type Note = (table: string, message: string) => void;
type SchemaRow = { type: string; name: string; tbl_name: string; sql: string | null };
/** The same as a damaged file may hold it: one flipped bit makes a name a blob. */
type AnyRow = { [Name in keyof SchemaRow]: unknown };

const STATE = 'projection_state';

function schemaOf(db: Db): Map<string, SchemaRow> {
  const any = db.prepare('SELECT type, name, tbl_name, sql FROM sqlite_schema').all() as AnyRow[];
  const rows = any.map(({ type, name, tbl_name, sql }) => ({
    type: textOf(type),
    name: textOf(name),
    tbl_name: textOf(tbl_name),
    sql: sql === null ? null : textOf(sql),
  }));
  // Statistics that SQLite may keep for its planner say nothing about the book.
  const ours = rows.filter((row) => !row.name.startsWith('sqlite_stat'));
  return new Map(ours.map((row) => [`${row.type} ${row.name}`, row] as const));
}

/** What is no text there is damage, and is no name of ours whatever its bytes say. */
function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '(not text)';
}

/**
 * Holds the tables, indexes and triggers of a book against those of a fresh one: a trigger that was taken
 * away, or a view that stands where a table should, would let the journal be changed unseen.
 * @param projections whether the projections are of the same version and so are compared too
 */
export function compareSchema(book: Db, fresh: Db, projections: boolean, note: Note): void {
  const there = schemaOf(book);
  const should = schemaOf(fresh);
  const counts = (row: SchemaRow) => projections || /^(journal|kept_)/.test(row.tbl_name);
  for (const [name, row] of should) {
    if (!counts(row)) continue;
    const found = there.get(name);
    if (!found) note(row.tbl_name, `The ${name} is missing from the file.`);
    else if (found.sql !== row.sql) note(row.tbl_name, `The ${name} was changed in the file.`);
  }
  for (const [name, row] of there) {
    if (counts(row) && !should.has(name)) note(row.tbl_name, `The ${name} does not belong in the file.`);
  }
}

/** Holds every row of every projection in a book against those of a replay. */
export function compareProjections(
  book: Db,
  fresh: Db,
  projections: readonly Projection[],
  note: Note,
): void {
  for (const { table } of [...INDEX_TABLES, ...projections, { table: STATE }]) {
    const key = (fresh.pragma(`table_info(${quoted(table)})`) as { name: string; pk: number }[]).filter(
      (column) => column.pk > 0,
    );
    const order = key.sort((a, b) => a.pk - b.pk).map((column) => quoted(column.name));
    const sql = `SELECT * FROM ${quoted(table)} ORDER BY ${order.join(', ')}`;
    const message = firstDifference(rowsOf(book, sql), rowsOf(fresh, sql));
    if (message !== undefined) note(table, `The table ${table} is not what the journal says: ${message}.`);
  }
}

function rowsOf(db: Db, sql: string): Iterator<unknown> {
  return db.prepare(sql).raw().iterate();
}

function firstDifference(there: Iterator<unknown>, should: Iterator<unknown>): string | undefined {
  try {
    for (let count = 1; ; count += 1) {
      const one = there.next();
      const other = should.next();
      if (one.done && other.done) return undefined;
      if (one.done) return `row ${count} and what follows are missing`;
      if (other.done) return `row ${count} and what follows are too many`;
      if (JSON.stringify(one.value) !== JSON.stringify(other.value)) return `row ${count} differs`;
    }
  } finally {
    there.return?.();
    should.return?.();
  }
}
