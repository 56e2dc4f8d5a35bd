import { existsSync, rmSync } from 'node:fs';
import { Refusal } from '../../src-shared/refusal.ts';
import { backupBook } from './backup.ts';
import { bookPath, identify, moveIntoPlace, needFolder, setAside } from './book-file.ts';
import { takeLock } from './lock.ts';
import { applyPending } from './migrate.ts';
import { settle } from './rebuild.ts';
import type { Progress } from './replay.ts';
import { openNew, plainError } from './sqlite.ts';
import type { StoreParts } from './store.ts';
import { verifyBook } from './verify.ts';

export type Restored = {
  entries: number;
  checkCode: string;
  /** Where the book that was there is kept; nothing when there was none. */
  before?: string;
};

/**
 * Puts a backup in the place of a book. The backup is copied beside the book and the copy is checked from end
 * to end before anything else is touched. The book that was there is kept as `<book>.before-restore-<n>`,
 * whatever state it is in, and is never deleted. The book must be closed.
 * @param options.head a check code from a paper, to be sure it is the backup that was meant
 * @throws Refusal `backup-damaged`, `not-a-book`, `book-in-use`, `book-missing`, `disk-full`
 */
export function restoreBook(
  backup: string,
  path: string,
  parts: StoreParts,
  options: { head?: string; progress?: Progress } = {},
): Restored {
  const book = bookPath(path);
  needFolder(book, 'book');
  const lock = takeLock(book);
  const part = `${book}.restoring`;
  try {
    rmSync(part, { force: true });
    backupBook(backup, part);
    const copy = openNew(part);
    try {
      applyPending(copy, part);
    } finally {
      copy.close();
    }
    const checked = verifyBook(part, parts, options);
    const problem = checked.problems[0];
    if (problem) {
      throw new Refusal('backup-damaged', `This backup cannot be used. ${problem.message}`, {
        next: 'Choose another backup. The book you have was not touched.',
      });
    }
    const before = existsSync(book) ? aside(book) : undefined;
    moveIntoPlace(part, book);
    const { entries, head } = checked;
    return { entries, checkCode: head.checkCode, ...(before ? { before } : {}) };
  } catch (thrown) {
    for (const tail of ['', '-wal', '-shm', '-journal']) rmSync(part + tail, { force: true });
    throw plainError(thrown);
  } finally {
    lock.release();
  }
}

function aside(book: string): string {
  if (isBook(book)) settle(book, true);
  return setAside(book, 'before-restore');
}

/** Whatever else lies there is moved as it is: opening it for writing would change it. */
function isBook(path: string): boolean {
  try {
    return identify(path) === 'book';
  } catch (thrown) {
    if (thrown instanceof Refusal) return false;
    throw thrown;
  }
}
