import type { Entry } from '../../src-shared/entries/kind.ts';
import { bookReading } from './book-reading.ts';
import { checkCodeOf, FIRST_PREVIOUS } from './check-code.ts';
import { clockBelief } from './clock.ts';
import { type JournalRow, type Kinds, withGenericKinds } from './journal.ts';
import { journalRows } from './replay.ts';
import { openReading, plainError, type Reader, readerOf } from './sqlite.ts';

/** One moment of a book, read by a connection of its own: what is written meanwhile is not in it. */
export type Snapshot = {
  read: Reader;
  head: { seq: number; hash: string; checkCode: string };
  /** Whether the computer's clock is doubted at this instant, by what the book says. */
  isDoubted(now: string): boolean;
  /** Every row of the journal in order. */
  journal(): Generator<JournalRow>;
  entry(seq: number): Entry | undefined;
  /** Bytes kept by their hash. */
  kept(hash: string): Uint8Array | undefined;
};

/**
 * Looks at a book from a connection that cannot write, for long work beside the desk that has it open.
 * @throws Refusal as opening a book does
 */
export async function readSnapshot<T>(
  path: string,
  kinds: Kinds,
  look: (book: Snapshot) => T | Promise<T>,
): Promise<T> {
  const db = (() => {
    try {
      return openReading(path);
    } catch (thrown) {
      throw plainError(thrown);
    }
  })();
  try {
    // The first read fixes the moment; everything after it is of the same.
    db.exec('BEGIN');
    const reader = bookReading(db, withGenericKinds(kinds));
    const last = reader.last();
    const { seq, hash } = last ?? { seq: 0, hash: FIRST_PREVIOUS };
    const bytes = db.prepare('SELECT bytes FROM kept_attachment WHERE hash = ?').pluck();
    return await look({
      read: readerOf(db),
      head: { seq, hash, checkCode: checkCodeOf(seq, hash) },
      isDoubted: (now) => clockBelief(reader.clockReference(), now).state === 'doubted',
      journal: () => journalRows(db),
      entry: reader.entry,
      kept(name) {
        const found = bytes.get(name);
        return found instanceof Uint8Array ? found : undefined;
      },
    });
  } catch (thrown) {
    throw plainError(thrown);
  } finally {
    db.close();
  }
}
