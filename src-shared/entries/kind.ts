import type { z } from 'zod';

/**
 * The shape every kind of journal entry has. An entry holds what was decided, so that folding it computes no
 * dose, period or warning: a corrected rule or a new time-zone table changes nothing that is written.
 */

/** When something happened: as the person said it (a day or a day and time), where, and the instant it sorts by. */
export type Happened = {
  /** "2026-03-01" or "2026-03-01T08:00". */
  local: string;
  /** IANA zone of the holding. */
  zone: string;
  /** UTC, ISO 8601 with milliseconds. A day without a time sorts at its start, or at its end for moves. */
  at: string;
};

/** What a writing call hands to the store; the store adds seq, request, n, recorded, clock and the hash. */
export type EntryDraft<D = unknown> = { kind: string; happened: Happened; by: string; data: D };

export type Entry<D = unknown> = {
  seq: number;
  /** UUIDv7 made by the caller; with `n` it names the entry for ever. */
  request: string;
  n: number;
  /** SHA-256 of the canonical request, so that the same id under another request is noticed after a rebuild too. */
  asked: string;
  kind: string;
  /** Version of the data's schema. */
  v: number;
  happened: Happened;
  /** When it was written, UTC. */
  recorded: string;
  /** Whether the computer's clock was believed when it was written. */
  clock: 'believed' | 'doubted';
  /** The person who wrote it. */
  by: string;
  data: D;
  /**
   * Not part of the line: when the content is a correction's, the seq of the correcting entry. A later decision
   * about the old content must not overrule the corrected one.
   */
  decidedSeq?: number;
};

/** "animal:ID", "lot:ID", "container:ID" …: every projection row belongs to exactly one subject. */
export type Subject = string;

export type Cell = string | number | null;
export type Row = Readonly<Record<string, Cell>>;
/** Rows a fold wants changed. All belong to the subject being folded; the store fills in `subject`. */
export type RowOp =
  | { op: 'put'; table: string; row: Row }
  | { op: 'change'; table: string; key: Row; set: Row }
  | { op: 'remove'; table: string; key: Row };

/** What a fold may look at: rows of its own subject as they stand so far. */
export type FoldRead = { rows(table: string, where?: Row): readonly Row[] };

export type EntryKind<D = unknown> = {
  kind: string;
  version: number;
  schema: z.ZodType<D>;
  /** From data of version v to version v + 1, for each older v. */
  upgrade?: Readonly<Record<number, (old: unknown) => unknown>>;
  /** Every subject whose rows this entry changes. */
  subjects(data: D): readonly Subject[];
  /** What it does to one of those subjects, given everything that happened to it before. */
  fold(entry: Entry<D>, subject: Subject, read: FoldRead): readonly RowOp[];
  /** One line of plain text for the book. */
  line(data: D): string;
};

/** Helper so that each kind's file infers its data type from its schema. */
export function entryKind<D>(kind: EntryKind<D>): EntryKind<D> {
  return kind;
}

/** Subject name of a thing. */
export function subjectOf(what: string, id: string): Subject {
  return `${what}:${id}`;
}
