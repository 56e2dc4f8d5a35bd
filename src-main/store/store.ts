import type { Entry, EntryDraft, EntryKind, Subject } from '../../src-shared/entries/kind.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { bookPath, createBookFile, identify, needFolder } from './book-file.ts';
import { type BookEntry, bookReading } from './book-reading.ts';
import { checkCodeOf, FIRST_PREVIOUS } from './check-code.ts';
import type { Clock } from './clock.ts';
import { withGenericKinds } from './journal.ts';
import { type Kept, type KeptWriter, keptReplies, keptTables } from './kept.ts';
import { takeLock } from './lock.ts';
import { checkBookVersion, migrate } from './migrate.ts';
import type { Projection } from './projection.ts';
import { projectionDigest, storedProjections } from './projection-tables.ts';
import { type Progress, type ReplayParts, replay } from './replay.ts';
import { type Db, openReading, openWriting, plainError, type Reader, readerOf } from './sqlite.ts';
import { writingCalls } from './write.ts';

export type { BookEntry } from './book-reading.ts';
export type { Clock, ClockState } from './clock.ts';
export { clockState } from './clock.ts';
export { kindsOf } from './journal.ts';
export type { Kept, KeptWriter } from './kept.ts';
export type { Projection } from './projection.ts';
export type { Param, Reader } from './sqlite.ts';

export type StoreParts = {
  kinds: ReadonlyMap<string, EntryKind>;
  projections: readonly Projection[];
  /** Raised whenever a fold changes what it writes; the projections are then folded anew on opening. */
  projectionVersion: number;
};

export type Head = {
  /** Number of the last entry; 0 in an empty book. */
  seq: number;
  /** 64 hex digits; 64 zeros in an empty book. */
  hash: string;
  /** When the last entry was written, UTC. */
  recorded: string | null;
  /** Short form of the above for papers: "1234-ab12-cd34-ef56". */
  checkCode: string;
};

export type Written<T> = {
  entries: readonly EntryDraft[];
  /** Plain JSON. A repeat of the call gets the same again. */
  reply: T;
  /** Changes to kept tables that stand or fall with the entries. */
  keep?: (kept: KeptWriter) => void;
};

export type Store = {
  readonly path: string;
  readonly readonly: boolean;
  /** Reading what is committed. */
  readonly read: Reader;
  head(): Head;
  /**
   * One writing call, in one transaction that is on the disk when this returns. The same request id with the
   * same `asked` gets the first reply and writes nothing. `compute` is synchronous, sees the book as it is
   * with no other writer, and may throw a Refusal, which leaves the book as it was.
   * The entries are named (request, 1), (request, 2), … in the order given.
   * @throws Refusal `request-id-reused`, `entry-not-valid`, `correction-…`, `disk-full` and others
   */
  write<T>(request: string, asked: unknown, compute: (tx: Reader, head: Head) => Written<T>): T;
  /** Everything on a subject in the order it happened, struck-out entries and corrections included. */
  entriesOf(subject: Subject): BookEntry[];
  entry(seq: number): BookEntry | undefined;
  entryNamed(request: string, n: number): BookEntry | undefined;
  /** Entries by number, both ends included; at most `limit` of them (default 1000), from the lower end. */
  entriesBetween(first: number, last: number, limit?: number): BookEntry[];
  /** The entry exactly as it was first written, and its line and hash, for export and for showing a correction. */
  written(seq: number): { entry: Entry; line: string; hash: string } | undefined;
  readonly kept: Kept;
  /** The last time that was believed, which the clock is measured against; nothing in an empty book. */
  clockReference(): string | undefined;
  close(): void;
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
