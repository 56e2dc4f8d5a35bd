import { Refusal } from '../../src-shared/refusal.ts';
import { openBare, plainError, sqliteCode } from './sqlite.ts';

/** Held as long as a book may be written to. The file stays behind when released; it holds nothing. */
export type Lock = { release(): void };

/**
 * Takes the one writer's place on a book: a transaction held open on `<book>.lock`, which the system lets go
 * when the program ends, however it ends.
 * @throws Refusal `book-in-use` when another program, or another window, has it
 */
export function takeLock(bookPath: string): Lock {
  try {
    const db = openBare(`${bookPath}.lock`, { timeout: 0 });
    try {
      db.exec('BEGIN EXCLUSIVE');
    } catch (thrown) {
      db.close();
      throw thrown;
    }
    return { release: () => db.close() };
  } catch (thrown) {
    if (sqliteCode(thrown)?.startsWith('SQLITE_BUSY')) {
      throw new Refusal('book-in-use', 'This book is already open in another Foldbook.', {
        next: 'Go to the window where it is open, or close it there first.',
      });
    }
    throw plainError(thrown);
  }
}
