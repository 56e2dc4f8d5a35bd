import type { Entry, EntryDraft, Subject } from '../../src-shared/entries/kind.ts';
import type { BookEntry } from './book-reading.ts';
import type { Kept, KeptWriter } from './kept.ts';
import type { Reader } from './sqlite.ts';

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
