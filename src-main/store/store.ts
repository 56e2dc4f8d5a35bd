import type { EntryKind } from '../../src-shared/entries/kind.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { bookPath, createBookFile, identify, needFolder } from './book-file.ts';
import { bookReading } from './book-reading.ts';
import { checkCodeOf, FIRST_PREVIOUS } from './check-code.ts';
import type { Clock } from './clock.ts';
import { withGenericKinds } from './journal.ts';
import { keptReplies, keptTables } from './kept.ts';
import { takeLock } from './lock.ts';
import { checkBookVersion, migrate } from './migrate.ts';
import type { Projection } from './projection.ts';
import { projectionDigest, storedProjections } from './projection-tables.ts';
import { type Progress, type ReplayParts, replay } from './replay.ts';
import { type Db, openReading, openWriting, plainError, readerOf } from './sqlite.ts';
import type { Head, Store } from './store-type.ts';
import { writingCalls } from './write.ts';

export type { BookEntry } from './book-reading.ts';
export type { Clock, ClockState } from './clock.ts';
export { clockState } from './clock.ts';
export { kindsOf } from './journal.ts';
export type { Kept, KeptWriter } from './kept.ts';
export type { Projection } from './projection.ts';
export type { Param, Reader } from './sqlite.ts';
export type { Head, Store, Written } from './store-type.ts';

export type StoreParts = {
  kinds: ReadonlyMap<string, EntryKind>;
  projections: readonly Projection[];
  /** Raised whenever a fold changes what it writes; the projections are then folded anew on opening. */
  projectionVersion: number;
};

export type OpenOptions = {
  /** Make the book when there is none. Default: false. */
  create?: boolean;
  /** Take no lock and write nothing. Default: false. */
  readonly?: boolean;
  /** Told while the projections are folded anew, which takes about a second for 25,000 entries. */
  progress?: Progress;
};

/**
 * Opens a book. One program at a time may write to it; any number may read.
 * A file that is not a book is left as it is. Projections of another version are folded anew in one
 * transaction: until it commits the old ones stand, and a failure leaves them standing.
 * @throws Refusal `book-missing`, `not-a-book`, `book-in-use`, `book-from-the-future`, `book-damaged`,
 *   `book-needs-opening` (read only, and it must be migrated or folded first), `node-too-old`
 */
export function openStore(path: string, parts: StoreParts, clock: Clock, options: OpenOptions = {}): Store {
  const book = bookPath(path);
  const all: ReplayParts = { ...parts, kinds: withGenericKinds(parts.kinds) };
  const found = identify(book);
  if (found === 'missing' && (options.readonly === true || options.create !== true)) {
    throw new Refusal('book-missing', `There is no book at ${book}.`, {
      next: 'Check the name, or start a new book.',
    });
  }
  needFolder(book);
  return options.readonly === true ? openReadOnly(book, all, clock) : openToWrite(book, all, clock, options);
}

function openReadOnly(book: string, parts: ReplayParts, clock: Clock): Store {
  const db = guarded(() => openReading(book));
  try {
    checkBookVersion(db, book);
    if (!projectionsCurrent(db, parts)) {
      throw new Refusal('book-needs-opening', 'This book has not been opened with this Foldbook yet.', {
        next: 'Open it once for writing, then read it again.',
      });
    }
    const refuse = (): never => {
      throw new Refusal('book-read-only', 'The book is open for reading only.', {
        next: 'Open it for writing, then do it again.',
      });
    };
    return assemble({
      book,
      parts,
      clock,
      readonly: true,
      db,
      reading: db,
      write: refuse,
      release: () => {},
    });
  } catch (thrown) {
    db.close();
    throw plainError(thrown);
  }
}

function openToWrite(book: string, parts: ReplayParts, clock: Clock, options: OpenOptions): Store {
  const lock = takeLock(book);
  const open: Db[] = [];
  try {
    // Another program may have made the book since we looked; the lock is ours now.
    if (identify(book) === 'missing') createBookFile(book);
    const db = openWriting(book);
    open.push(db);
    migrate(db, book);
    if (!projectionsCurrent(db, parts)) refold(db, parts, options.progress);
    const reading = openReading(book);
    open.push(reading);
    const kept = keptTables(db, clock);
    const reader = bookReading(db, parts.kinds);
    reader.checkTail();
    const write = writingCalls({
      db,
      parts,
      clock,
      kept,
      replies: keptReplies(db, clock),
      head: () => headOf(reader),
      clockReference: reader.clockReference,
    });
    return assemble({ book, parts, clock, readonly: false, db, reading, write, release: lock.release });
  } catch (thrown) {
    for (const db of open) db.close();
    lock.release();
    throw plainError(thrown);
  }
}

type Assembly = {
  book: string;
  parts: ReplayParts;
  clock: Clock;
  readonly: boolean;
  db: Db;
  reading: Db;
  write: Store['write'];
  release: () => void;
};

function assemble({ book, parts, clock, readonly, db, reading, write, release }: Assembly): Store {
  const reader = bookReading(reading, parts.kinds);
  let closed = false;
  return {
    path: book,
    readonly,
    read: readerOf(reading),
    head: () => headOf(reader),
    write: (request, asked, compute) => guarded(() => write(request, asked, compute)),
    entriesOf: reader.entriesOf,
    entry: reader.entry,
    entryNamed: reader.entryNamed,
    entriesBetween: reader.entriesBetween,
    written: reader.written,
    kept: keptTables(db, clock),
    clockReference: reader.clockReference,
    close() {
      if (closed) return;
      closed = true;
      // The reader first: the last connection to close clears away the files beside the book.
      if (reading !== db) reading.close();
      db.close();
      release();
    },
  };
}

function headOf(reader: { last(): { seq: number; hash: string; recorded: string } | undefined }): Head {
  const last = reader.last();
  if (!last)
    return { seq: 0, hash: FIRST_PREVIOUS, recorded: null, checkCode: checkCodeOf(0, FIRST_PREVIOUS) };
  return { ...last, checkCode: checkCodeOf(last.seq, last.hash) };
}

function projectionsCurrent(db: Db, parts: ReplayParts): boolean {
  const stored = storedProjections(db);
  return stored?.version === parts.projectionVersion && stored.digest === projectionDigest(parts.projections);
}

/** Folds everything anew in place. Tables and rows change in one transaction, so there is no half-way. */
function refold(db: Db, parts: ReplayParts, progress: Progress | undefined): void {
  db.exec('BEGIN IMMEDIATE');
  try {
    const { trouble } = replay(db, db, parts, { progress });
    if (trouble) {
      throw new Refusal('book-damaged', `The book is damaged: ${trouble.message}.`, {
        next: 'Open the recovery screen: it rescues what can be read, or puts a backup in place.',
      });
    }
    db.exec('COMMIT');
  } catch (thrown) {
    if (db.inTransaction) db.exec('ROLLBACK');
    throw thrown;
  }
}

function guarded<T>(work: () => T): T {
  try {
    return work();
  } catch (thrown) {
    throw plainError(thrown);
  }
}
