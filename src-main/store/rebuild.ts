import { closeSync, fsyncSync, openSync, rmSync, writeSync } from 'node:fs';
import { Refusal } from '../../src-shared/refusal.ts';
import { endOf } from './backup.ts';
import { bookPath, freeName, identify, moveIntoPlace, setAside, shapeNewBook } from './book-file.ts';
import { checkCodeOf } from './check-code.ts';
import { journalSource } from './effective.ts';
import { JOURNAL_COLUMNS, withGenericKinds } from './journal.ts';
import { takeLock } from './lock.ts';
import { checkBookVersion } from './migrate.ts';
import { KEPT_TABLES } from './migrations/all.ts';
import { journalRows, type Progress, type ReplayParts, replay } from './replay.ts';
import { type Db, openNew, openReading, openWriting, plainError, sqliteCode } from './sqlite.ts';
import type { StoreParts } from './store.ts';

export type Rebuilt = {
  entries: number;
  checkCode: string;
  /** Where the book as it was is kept. */
  before: string;
  /** Only after a rescue: what could not be taken, and the file that holds what of it could still be read. */
  left?: { from: number; why: string; read: number; file: string };
  /** Only after a rescue: kept tables that could not be read to the end. */
  keptTrouble: string[];
};

/**
 * Makes a book anew from its own journal in a file beside it, compares, and puts it in place; the book as it
 * was is kept as `<book>.before-rebuild-<n>`. The book must be closed.
 *
 * With `rescue` a journal that is broken somewhere is taken up to the break. What comes after it cannot be
 * proved any more: as far as it can be read it is written to `<book>.not-taken-<n>.jsonl`, and it is for a
 * person to enter it again.
 * @throws Refusal `book-missing`, `book-in-use`, `book-damaged` (without `rescue`), `disk-full`
 */
export function rebuildBook(
  path: string,
  parts: StoreParts,
  options: { rescue?: boolean; progress?: Progress } = {},
): Rebuilt {
  const book = bookPath(path);
  if (identify(book) === 'missing') {
    throw new Refusal('book-missing', `There is no book at ${book}.`, { next: 'Check the name.' });
  }
  const lock = takeLock(book);
  const part = `${book}.part`;
  try {
    rmSync(part, { force: true });
    const all: ReplayParts = { ...parts, kinds: withGenericKinds(parts.kinds) };
    const { left, ...made } = intoPart(book, part, all, options);
    settle(book, options.rescue === true);
    const before = setAside(book, 'before-rebuild');
    moveIntoPlace(part, book);
    return { ...made, before, ...(left ? { left } : {}) };
  } catch (thrown) {
    rmSync(part, { force: true });
    throw plainError(thrown);
  } finally {
    lock.release();
  }
}

type Made = Omit<Rebuilt, 'before'>;

function intoPart(
  book: string,
  part: string,
  parts: ReplayParts,
  { rescue = false, progress }: { rescue?: boolean; progress?: Progress },
): Made {
  const from = openReading(book);
  try {
    checkBookVersion(from, book);
    const to = openNew(part);
    try {
      shapeNewBook(to);
      to.exec('BEGIN');
      const insert = to.prepare(`INSERT INTO journal (${JOURNAL_COLUMNS}) VALUES (?, ?, ?, ?, ?)`);
      const head = replay(from, to, parts, {
        progress,
        rescue,
        // Read back from the copy: an index of a damaged file may point anywhere.
        source: journalSource(to),
        onRow: (row) => insert.run(row.seq, row.request, row.n, row.line, row.hash),
      });
      if (head.trouble && !rescue) {
        throw new Refusal('book-damaged', `The book is damaged: ${head.trouble.message}.`, {
          next: 'Open the recovery screen: it rescues what can be read, or puts a backup in place.',
        });
      }
      const keptTrouble = copyKept(from, to, rescue);
      to.exec('COMMIT');
      compare(to, rescue ? { count: head.seq, ...head } : endOf(from));
      const left = head.trouble ? leftOver(from, book, head.seq, head.trouble.message) : undefined;
      return {
        entries: head.seq,
        checkCode: checkCodeOf(head.seq, head.hash),
        keptTrouble,
        ...(left ? { left } : {}),
      };
    } finally {
      to.close();
    }
  } finally {
    from.close();
  }
}

/** The new file has as many entries and ends in the same hash; its own structure is sound. */
function compare(to: Db, should: { count: number; seq: number; hash: string }): void {
  const made = endOf(to);
  const sound = to.pragma('quick_check', { simple: true });
  if (made.count === should.count && made.seq === should.seq && made.hash === should.hash && sound === 'ok')
    return;
  throw new Refusal('rebuild-failed', 'The new book was not the same as the old one, so the old one stays.', {
    next: 'Make a backup to another disk, and check the disk of this computer.',
  });
}

function copyKept(from: Db, to: Db, rescue: boolean): string[] {
  const trouble: string[] = [];
  for (const table of KEPT_TABLES) {
    const columns = (to.pragma(`table_info(${table})`) as { name: string }[]).map((column) => column.name);
    const marks = columns.map(() => '?').join(', ');
    const insert = to.prepare(`INSERT INTO ${table} (${columns.join(', ')}) VALUES (${marks})`);
    try {
      const rows = from
        .prepare(`SELECT ${columns.join(', ')} FROM ${table}`)
        .raw()
        .iterate();
      for (const row of rows as IterableIterator<unknown[]>) insert.run(...row);
    } catch (thrown) {
      if (!rescue || sqliteCode(thrown) === undefined) throw thrown;
      trouble.push(table);
    }
  }
  return trouble;
}

/** Writes rows after a break to a text file, one JSON object a line, as far as the database gives them. */
function leftOver(from: Db, book: string, taken: number, why: string): NonNullable<Rebuilt['left']> {
  const name = `${freeName(book, 'not-taken')}.jsonl`;
  const file = openSync(name, 'wx');
  let read = 0;
  try {
    for (const row of journalRows(from, taken)) {
      writeSync(file, `${JSON.stringify(row)}\n`);
      read += 1;
    }
  } catch (thrown) {
    if (sqliteCode(thrown) === undefined) throw thrown;
    writeSync(file, `${JSON.stringify({ unreadable: String(thrown) })}\n`);
  } finally {
    fsyncSync(file);
    closeSync(file);
  }
  return { from: taken + 1, why, read, file: name };
}

/**
 * Brings everything into the main file, so that nothing lies beside it when it is set aside. A file too
 * damaged for that keeps what lies beside it, and is set aside together with it.
 */
export function settle(book: string, damaged: boolean): void {
  try {
    openWriting(book).close();
  } catch (thrown) {
    if (!damaged || sqliteCode(thrown) === undefined) throw thrown;
  }
}
