import { sha256 } from './journal.ts';
import type { Projection } from './projection.ts';
import type { Db } from './sqlite.ts';

/** Which subject each entry belongs to, in the order things happened; and which entry corrects which. */
export const INDEX_TABLES: readonly Projection[] = [
  {
    table: 'subject_entry',
    sql: `
CREATE TABLE subject_entry (
  subject TEXT NOT NULL,
  at TEXT NOT NULL,
  seq INTEGER NOT NULL,
  -- 1 for a void or a replacement: listed with its subject, and never folded.
  correction INTEGER NOT NULL CHECK (correction IN (0, 1)),
  PRIMARY KEY (subject, at, seq)
) STRICT, WITHOUT ROWID;`,
  },
  {
    table: 'correction',
    sql: `
CREATE TABLE correction (
  target INTEGER NOT NULL,
  seq INTEGER NOT NULL,
  what TEXT NOT NULL CHECK (what IN ('voided', 'replaced')),
  reason TEXT NOT NULL,
  PRIMARY KEY (target, seq)
) STRICT, WITHOUT ROWID;`,
  },
];

const STATE_TABLE = `
CREATE TABLE projection_state (
  one INTEGER NOT NULL PRIMARY KEY CHECK (one = 1),
  version INTEGER NOT NULL,
  digest TEXT NOT NULL,
  tables TEXT NOT NULL
) STRICT;`;

/** Raised when the tables above, or the engine that fills them, change their meaning. */
const ENGINE_VERSION = 1;

/** A hash of everything that shapes the projections apart from the code of the folds. */
export function projectionDigest(projections: readonly Projection[]): string {
  const all = [...INDEX_TABLES, ...projections].map(({ table, sql }) => ({ table, sql }));
  return sha256(JSON.stringify([ENGINE_VERSION, all]));
}

export type TableShape = {
  table: string;
  columns: ReadonlySet<string>;
  key: readonly string[];
  /** The key's columns as SQL wants them, with commas between. */
  keySql: string;
};

/**
 * The columns and primary key of a projection as they are in the file.
 * @throws Error when the table is not one a fold may write
 */
export function tableShape(db: Db, table: string): TableShape {
  const info = db.pragma(`table_info(${JSON.stringify(table)})`) as {
    name: string;
    type: string;
    notnull: number;
    pk: number;
  }[];
  if (info.length === 0) throw new Error(`projection ${table}: its SQL does not create it`);
  const key = info.filter((column) => column.pk > 0).sort((a, b) => a.pk - b.pk);
  if (key.length === 0) throw new Error(`projection ${table} has no primary key`);
  const subject = info.find((column) => column.name === 'subject');
  if (subject?.type !== 'TEXT' || subject.notnull !== 1) {
    throw new Error(`projection ${table} has no column "subject TEXT NOT NULL"`);
  }
  const strict = db.prepare('SELECT strict FROM pragma_table_list WHERE name = ?').pluck().get(table);
  if (strict !== 1) throw new Error(`projection ${table} is not STRICT`);
  if (key[0]?.name !== 'subject' && !startsAnIndex(db, table)) {
    throw new Error(`projection ${table} has no index that starts with subject`);
  }
  return {
    table,
    columns: new Set(info.map((column) => column.name)),
    key: key.map((column) => column.name),
    keySql: key.map((column) => quoted(column.name)).join(', '),
  };
}

function startsAnIndex(db: Db, table: string): boolean {
  const found = db
    .prepare(
      `SELECT 1 FROM pragma_index_list(?) AS list, pragma_index_info(list.name) AS info
       WHERE info.seqno = 0 AND info.name = 'subject' AND list.partial = 0 LIMIT 1`,
    )
    .get(table);
  return found !== undefined;
}

/** Makes all projection tables, empty, and notes what they were made from. The caller holds a transaction. */
export function createProjections(db: Db, projections: readonly Projection[], version: number): void {
  db.exec(STATE_TABLE);
  const tables: string[] = [];
  for (const { table, sql } of [...INDEX_TABLES, ...projections]) {
    db.exec(sql);
    tableExists(db, table);
    tables.push(table);
  }
  for (const { table } of projections) tableShape(db, table);
  db.prepare('INSERT INTO projection_state (one, version, digest, tables) VALUES (1, ?, ?, ?)').run(
    version,
    projectionDigest(projections),
    JSON.stringify(tables),
  );
}

function tableExists(db: Db, table: string): void {
  const found = db.prepare("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?").get(table);
  if (!found) throw new Error(`projection ${table}: its SQL does not create it`);
}

/** Drops every projection table that was ever made here. The caller holds a transaction. */
export function dropProjections(db: Db): void {
  const state = storedProjections(db);
  for (const table of state?.tables ?? []) {
    // The list is read from the file, and a file can be altered: nothing that cannot be rebuilt is ever dropped.
    if (/^(journal|kept_|sqlite_)/i.test(table)) throw new Error(`${table} is not a projection`);
    db.exec(`DROP TABLE IF EXISTS ${quoted(table)}`);
  }
  db.exec('DROP TABLE IF EXISTS projection_state');
}

/** What the projections in the file were made from; nothing in a book that has none yet. */
export function storedProjections(
  db: Db,
): { version: number; digest: string; tables: readonly string[] } | undefined {
  const made = db
    .prepare("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = 'projection_state'")
    .get();
  if (!made) return undefined;
  const row = db.prepare('SELECT version, digest, tables FROM projection_state').get() as
    | { version: number; digest: string; tables: string }
    | undefined;
  if (!row) return undefined;
  const tables: string[] = JSON.parse(row.tables);
  return { version: row.version, digest: row.digest, tables };
}

/** A name as SQL wants it. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
