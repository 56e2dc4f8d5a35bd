import { existsSync, rmSync } from 'node:fs';
import { basename } from 'node:path';
import { Refusal } from '../../src-shared/refusal.ts';
import { APPLICATION_ID, bookPath, identify, moveIntoPlace, needFolder } from './book-file.ts';
import { checkCodeOf, FIRST_PREVIOUS } from './check-code.ts';
import { type Db, openReading, plainError } from './sqlite.ts';

export type Backup = { path: string; entries: number; checkCode: string };

type End = { count: number; seq: number; hash: string };

/**
 * Copies a book, open or not, to another file and proves the copy before it gets its name. Writing may go on
 * meanwhile: the copy is the book as it was at one moment. A file that is already there is never replaced.
 * @throws Refusal `file-exists`, `not-a-book`, `book-missing`, `folder-missing`, `disk-full`,
 *   `backup-failed`
 */
export function backupBook(from: string, to: string): Backup {
  const book = bookPath(from);
  if (identify(book) === 'missing') {
    throw new Refusal('book-missing', `There is no book at ${book}.`, { next: 'Check the name.' });
  }
  return backupFile(book, to);
}

/** The same without looking first whether the file is a book. */
export function backupFile(from: string, to: string): Backup {
  if (existsSync(to)) {
    throw new Refusal('file-exists', `There is already a file called ${basename(to)}.`, {
      field: 'to',
      next: 'Choose another name: a backup never replaces a file.',
    });
  }
  needFolder(to, 'to');
  const part = `${to}.part`;
  rmSync(part, { force: true });
  try {
    const db = openReading(from);
    try {
      const before = endOf(db);
      // The connection cannot write to the book in any case; query_only would forbid the copy as well.
      db.pragma('query_only = OFF');
      db.prepare('VACUUM INTO ?').run(part);
      const copied = checkedCopy(part);
      // The book may have grown while it was copied, so the copy is held against the book up to its own end.
      const there = copied.seq === 0 ? FIRST_PREVIOUS : hashAt(db, copied.seq);
      if (copied.count < before.count || copied.hash !== there)
        throw failed('it is not the same as the book');
      moveIntoPlace(part, to);
      return { path: to, entries: copied.count, checkCode: checkCodeOf(copied.seq, copied.hash) };
    } finally {
      db.close();
    }
  } catch (thrown) {
    rmSync(part, { force: true });
    throw plainError(thrown);
  }
}

function checkedCopy(part: string): End {
  const db = openReading(part);
  try {
    const check = db.pragma('quick_check', { simple: true });
    if (check !== 'ok') throw failed(String(check));
    if (db.pragma('application_id', { simple: true }) !== APPLICATION_ID) throw failed('it is not a book');
    const end = endOf(db);
    if (end.count !== end.seq) throw failed(`it has ${end.count} entries and the last is number ${end.seq}`);
    return end;
  } finally {
    db.close();
  }
}

function failed(why: string): Refusal {
  return new Refusal('backup-failed', `The backup was not made: ${why}.`, {
    next: 'Check the book under Farm, and try another disk.',
  });
}

/** How many entries there are and where the journal ends. */
export function endOf(db: Db): End {
  const count = db.prepare('SELECT count(*) FROM journal').pluck().get() as number;
  const last = db.prepare('SELECT seq, hash FROM journal ORDER BY seq DESC LIMIT 1').get() as
    | { seq: number; hash: string }
    | undefined;
  return { count, seq: last?.seq ?? 0, hash: last?.hash ?? FIRST_PREVIOUS };
}

/** The hash of one entry, if it is there. */
export function hashAt(db: Db, seq: number): string | undefined {
  return db.prepare('SELECT hash FROM journal WHERE seq = ?').pluck().get(seq) as string | undefined;
}
