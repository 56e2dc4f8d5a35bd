import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  readSync,
  realpathSync,
  renameSync,
  rmSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { Refusal } from '../../src-shared/refusal.ts';
import { BOOK_VERSION, MIGRATIONS, type Migration } from './migrations/all.ts';
import { type Db, openBare, openNew, plainError } from './sqlite.ts';

/** "FoBd": tells a book from every other program's database. */
export const APPLICATION_ID = 0x466f4264;

const MAGIC = 'SQLite format 3\0';
const HEADER_BYTES = 100;
const USER_VERSION_AT = 60;
const APPLICATION_ID_AT = 68;

/** The path a book goes by, so that two ways of naming one file meet in one lock. */
export function bookPath(path: string): string {
  const full = resolve(path);
  if (existsSync(full)) return realpathSync(full);
  const folder = dirname(full);
  return existsSync(folder) ? join(realpathSync(folder), basename(full)) : full;
}

/** @throws Refusal `folder-missing` when the folder that a file is to lie in is not there */
export function needFolder(path: string, field?: string): void {
  const folder = dirname(path);
  if (existsSync(folder)) return;
  throw new Refusal('folder-missing', `The folder ${folder} does not exist.`, {
    ...(field === undefined ? {} : { field }),
    next: 'Make the folder first, or choose another.',
  });
}

/**
 * Looks at a file's first bytes before the database does, so that a file that is not ours stays as it is.
 * @returns whether there is a book at all
 * @throws Refusal `not-a-book`, `book-from-the-future`
 */
export function identify(path: string): 'missing' | 'book' {
  if (!existsSync(path)) return 'missing';
  const header = firstBytes(path);
  const notOurs = (what: string) =>
    new Refusal('not-a-book', `${basename(path)} is not a Foldbook book: ${what}. It was left as it is.`, {
      next: 'Choose a book, or a new name for a new one.',
    });
  if (header.length === 0) throw notOurs('the file is empty');
  if (header.length < HEADER_BYTES || header.toString('latin1', 0, MAGIC.length) !== MAGIC) {
    throw notOurs('it is another kind of file');
  }
  if (header.readUInt32BE(APPLICATION_ID_AT) !== APPLICATION_ID)
    throw notOurs("it is another program's data");
  refuseFuture(path, header.readUInt32BE(USER_VERSION_AT));
  if (!hasJournal(path)) throw notOurs('it has no journal');
  return 'book';
}

/** @throws Refusal `book-from-the-future` with both numbers */
export function refuseFuture(path: string, version: number, known: number = BOOK_VERSION): void {
  if (version <= known) return;
  throw new Refusal(
    'book-from-the-future',
    `${basename(path)} was written by a newer Foldbook: it is of version ${version}, this one knows version ${known}.`,
    { next: 'Install the newer Foldbook, then open the book again.' },
  );
}

function firstBytes(path: string): Buffer {
  let file: number;
  try {
    file = openSync(path, 'r');
  } catch (thrown) {
    throw new Refusal('book-unreadable', `${basename(path)} cannot be read: ${reason(thrown)}.`, {
      next: 'Check that it is a file and that you may read it.',
    });
  }
  try {
    const buffer = Buffer.alloc(HEADER_BYTES);
    const read = readSync(file, buffer, 0, HEADER_BYTES, 0);
    return buffer.subarray(0, read);
  } catch (thrown) {
    throw new Refusal('book-unreadable', `${basename(path)} cannot be read: ${reason(thrown)}.`, {
      next: 'Check that it is a file and that you may read it.',
    });
  } finally {
    closeSync(file);
  }
}

function reason(thrown: unknown): string {
  return thrown instanceof Error ? thrown.message : String(thrown);
}

/**
 * Whether the file has a journal. A look through the database leaves two empty helper files beside a file in
 * WAL mode; beside a file that turns out not to be ours, those that were not there before are cleared away.
 */
function hasJournal(path: string): boolean {
  const appear = [`${path}-wal`, `${path}-shm`].filter((name) => !existsSync(name));
  try {
    const db = openBare(path, { readonly: true, fileMustExist: true });
    let found = false;
    try {
      const sql = "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = 'journal'";
      found = db.prepare(sql).get() !== undefined;
    } finally {
      db.close();
      if (!found) for (const name of appear) rmSync(name, { force: true });
    }
    return found;
  } catch (thrown) {
    throw plainError(thrown);
  }
}

/**
 * Makes an empty book in a file that must not exist: journal and kept tables, no projections yet. A half-made
 * file goes by another name until it is whole.
 */
export function createBookFile(path: string): void {
  const part = `${path}.part`;
  rmSync(part, { force: true });
  const db = openNew(part);
  try {
    shapeNewBook(db);
  } finally {
    db.close();
  }
  moveIntoPlace(part, path);
}

/** Gives an empty database the shape of a book. */
export function shapeNewBook(db: Db, migrations: readonly Migration[] = MIGRATIONS): void {
  db.exec('BEGIN EXCLUSIVE');
  db.pragma(`application_id = ${APPLICATION_ID}`);
  for (const migration of migrations) applyMigration(db, migration);
  db.exec('COMMIT');
}

/** Runs one step and notes its number; the caller holds the transaction. */
export function applyMigration(db: Db, migration: Migration): void {
  db.exec(migration.sql);
  db.pragma(`user_version = ${migration.to}`);
}

/** Flushes a whole file to the disk and gives it its real name, replacing what had it. */
export function moveIntoPlace(part: string, path: string): void {
  flush(part);
  renameSync(part, path);
  flushFolder(dirname(path));
}

/** Waits until a file is on the disk. */
export function flush(path: string): void {
  const file = openSync(path, 'r+');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

function flushFolder(folder: string): void {
  // Windows has no way to flush a folder, and needs none: its renames are journalled.
  if (process.platform === 'win32') return;
  const file = openSync(folder, 'r');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/**
 * Keeps the book under another name as well, `<book>.<why>-<n>`, before something else takes its place. The
 * book itself is never without a file, even if the power fails between the two steps.
 * @returns the path of what was set aside
 */
export function setAside(path: string, why: string): string {
  const aside = freeName(path, why);
  try {
    linkSync(path, aside);
  } catch {
    // A disk that knows no second names (a memory stick) gets a copy.
    copyFileSync(path, aside);
    flush(aside);
  }
  for (const tail of ['-wal', '-shm']) {
    if (existsSync(path + tail)) renameSync(path + tail, aside + tail);
  }
  return aside;
}

/** The first of `<path>.<why>-1`, `-2`, … that is free. */
export function freeName(path: string, why: string): string {
  for (let n = 1; ; n += 1) {
    const name = `${path}.${why}-${n}`;
    if (!existsSync(name)) return name;
  }
}
