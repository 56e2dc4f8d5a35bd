import { createRequire } from 'node:module';
import type SqliteModule from 'better-sqlite3';
import { Refusal } from '../../src-shared/refusal.ts';

/** A connection of better-sqlite3. Only files of this folder hold one that can write. */
export type Db = SqliteModule.Database;
export type Statement = SqliteModule.Statement;

/** What can be bound to a statement: anything else would arrive as NULL without a word. */
export type Param = string | number | null;

/** Reading, and nothing else. Prepared statements are kept by their text. */
export type Reader = {
  all<T>(sql: string, ...params: Param[]): T[];
  get<T>(sql: string, ...params: Param[]): T | undefined;
  /** One row at a time, for lists too long to hold. */
  each<T>(sql: string, ...params: Param[]): IterableIterator<T>;
};

const OLDEST_NODE = 22;

/**
 * Refuses a Node.js too old for the database, in a sentence, before the native module is loaded (which would
 * otherwise fail with a page of loader errors).
 * @throws Refusal `node-too-old`
 */
export function refuseOldNode(version: string = process.versions.node): void {
  const major = Number(version.split('.')[0]);
  if (major >= OLDEST_NODE) return;
  throw new Refusal(
    'node-too-old',
    `Foldbook needs Node.js ${OLDEST_NODE} or newer, and this is Node.js ${version}.`,
    { next: 'Start it with "npm start", which brings the right Node.js along.' },
  );
}

let loaded: typeof SqliteModule | undefined;

/** Loads the native module late: a static import is hoisted above the version check when bundled. */
function sqlite(): typeof SqliteModule {
  if (loaded) return loaded;
  refuseOldNode();
  const found: typeof SqliteModule = createRequire(import.meta.url)('better-sqlite3');
  loaded = found;
  return found;
}

type Pragma = readonly [name: string, set: string, reads: string | number];

/** Set on every connection; WAL falls back to synchronous=NORMAL by itself, so each is read back. */
const ALWAYS: readonly Pragma[] = [
  ['busy_timeout', '5000', 5000],
  ['foreign_keys', 'ON', 1],
  ['trusted_schema', 'OFF', 0],
  ['cell_size_check', 'ON', 1],
  ['mmap_size', '0', 0],
];
const WRITING: readonly Pragma[] = [
  ['journal_mode', 'WAL', 'wal'],
  ['synchronous', 'FULL', 2],
  ['fullfsync', 'ON', 1],
  ['checkpoint_fullfsync', 'ON', 1],
  ['recursive_triggers', 'ON', 1],
  ['secure_delete', 'OFF', 0],
];
const READING: readonly Pragma[] = [['query_only', 'ON', 1]];

/**
 * Sets one pragma and reads it back, because a pragma that is misspelt or cannot take is ignored silently.
 * @throws Refusal `database-setting` when it did not take
 */
export function setPragma(db: Db, [name, set, reads]: Pragma): void {
  db.pragma(`${name} = ${set}`);
  const now = db.pragma(name, { simple: true });
  // A build without memory mapping answers nothing at all, which is as good as 0.
  if (now === reads || (now === undefined && name === 'mmap_size')) return;
  throw new Refusal(
    'database-setting',
    `The book cannot be opened safely: ${name} is ${String(now)}, not ${set}.`,
    {
      next: 'Move the book to a folder on this computer that Foldbook may write to.',
    },
  );
}

/** Opens a connection that may write: WAL, synchronous FULL, foreign keys. */
export function openWriting(path: string): Db {
  return opened(path, { fileMustExist: true, timeout: 5000 }, [...ALWAYS, ...WRITING]);
}

/** Opens a connection that cannot write, whatever is asked of it. */
export function openReading(path: string): Db {
  return opened(path, { fileMustExist: true, readonly: true, timeout: 5000 }, [...ALWAYS, ...READING]);
}

/** A database in a file that must not exist yet, without WAL so that nothing lies beside it. */
export function openNew(path: string): Db {
  return opened(path, { timeout: 5000 }, ALWAYS);
}

/** A database that spills to a nameless temporary file and is gone when closed. */
export function openTemporary(): Db {
  return opened('', {}, [['synchronous', 'OFF', 0], ...ALWAYS]);
}

/** A connection with no settings made, for the lock file and for tests. */
export function openBare(path: string, options: SqliteModule.Options = {}): Db {
  return new (sqlite())(path, options);
}

function opened(path: string, options: SqliteModule.Options, pragmas: readonly Pragma[]): Db {
  const db = openBare(path, options);
  try {
    for (const pragma of pragmas) setPragma(db, pragma);
    return db;
  } catch (thrown) {
    db.close();
    throw thrown;
  }
}

/** Statements of one connection, prepared once each. */
export function statements(db: Db): (sql: string) => Statement {
  const kept = new Map<string, Statement>();
  return (sql) => {
    const found = kept.get(sql);
    if (found) return found;
    const made = db.prepare(sql);
    kept.set(sql, made);
    return made;
  };
}

/** Refuses loudly what the driver would bind as NULL or round: undefined, NaN, Infinity, unsafe integers. */
export function checkedParam(value: unknown, where: string, name?: string): Param {
  if (value === null || typeof value === 'string') return value;
  if (typeof value === 'number' && Number.isFinite(value)) {
    if (!Number.isInteger(value) || Number.isSafeInteger(value)) return value;
  }
  const place = name === undefined ? where : `${where}.${name}`;
  throw new Error(`${place}: ${String(value)} (${typeof value}) cannot be stored`);
}

/** A reader over a connection. Only statements that read and return rows are taken. */
export function readerOf(db: Db): Reader {
  const prepare = statements(db);
  const ready = (sql: string, params: readonly Param[]): Statement => {
    const statement = prepare(sql);
    if (!statement.reader || !statement.readonly) throw new Error(`not a reading statement: ${sql}`);
    for (const param of params) checkedParam(param, sql);
    return statement;
  };
  return {
    all: <T>(sql: string, ...params: Param[]) => ready(sql, params).all(...params) as T[],
    get: <T>(sql: string, ...params: Param[]) => ready(sql, params).get(...params) as T | undefined,
    each: <T>(sql: string, ...params: Param[]) =>
      ready(sql, params).iterate(...params) as IterableIterator<T>,
  };
}

/** The code of an error of the database, for example "SQLITE_BUSY"; nothing for any other error. */
export function sqliteCode(thrown: unknown): string | undefined {
  if (!(thrown instanceof Error) || !('code' in thrown) || typeof thrown.code !== 'string') return undefined;
  return thrown.code.startsWith('SQLITE_') ? thrown.code : undefined;
}

const PLAIN: readonly (readonly [start: string, code: string, message: string, next: string])[] = [
  [
    'SQLITE_BUSY',
    'book-in-use',
    'Another program has this book open.',
    'Close it there, then open the book again.',
  ],
  [
    'SQLITE_FULL',
    'disk-full',
    'The disk is full, so nothing was written.',
    'Make room on the disk, then do it again.',
  ],
  [
    'SQLITE_CORRUPT',
    'book-damaged',
    'The book is damaged and cannot be read to the end.',
    'Open the recovery screen: it rescues what can be read, or puts a backup in place.',
  ],
  [
    'SQLITE_NOTADB',
    'book-damaged',
    'The book is damaged and cannot be read.',
    'Open the recovery screen and put a backup in place.',
  ],
  [
    'SQLITE_READONLY',
    'book-not-writable',
    'The book may be read here but not written.',
    'Move the book to a folder that Foldbook may write to.',
  ],
  [
    'SQLITE_CANTOPEN',
    'book-not-writable',
    'The book cannot be opened in this folder.',
    'Check that the folder is there and that Foldbook may write to it.',
  ],
  [
    'SQLITE_IOERR',
    'disk-trouble',
    'The disk did not read or write as it should.',
    'Check the disk, and keep a backup on another one.',
  ],
];

/** Puts trouble with a file or disk into a plain refusal; every other error is handed back as it is. */
export function plainError(thrown: unknown): unknown {
  const code = sqliteCode(thrown);
  const found = code === undefined ? undefined : PLAIN.find(([start]) => code.startsWith(start));
  if (!found) return thrown;
  const refusal = new Refusal(found[1], found[2], { next: found[3] });
  refusal.cause = thrown;
  return refusal;
}
