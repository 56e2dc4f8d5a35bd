import type { Outcome } from '../src-shared/refusal.ts';

/** A paper that was issued and kept by its hash: the very bytes that went out the first time. */
export type IssuedPaper = { name: string; mime: string; bytes: Uint8Array };

/** The computer's clock, handed in so that no answer reads it by itself: ISO instant in UTC. */
export type Clock = () => string;

/** Where a host writes what the person at the desk need not read. */
export type Log = (line: string) => void;

/** What a host gives to open a desk. `worker` is where the long work is started from: built and unbuilt differ. */
export type DeskOptions = {
  book: string;
  clock: Clock;
  log?: Log;
  worker?: URL;
};

/**
 * The desk: what all hosts serve and all screens talk to. A host knows no call by name; it carries JSON to
 * the desk and the reply back.
 */
export type Desk = {
  /** Answers one call. A refusal comes back in the envelope; a throw is a fault in the program. */
  call(name: string, request: unknown): Promise<Outcome<unknown>>;
  /**
   * Takes a file too big for a call (at most 64 MB, bounded by the host) and keeps it in memory for a later
   * call that names the token. The desk decides how many it holds at once. Throws Refusal.
   */
  file(name: string, bytes: Uint8Array): { token: string };
  /** The issued paper with this hash (64 hex digits), if there is one; or, once, the backup that was just made. */
  paper(hash: string): IssuedPaper | undefined | Promise<IssuedPaper | undefined>;
  /** Ends long work, closes the book and lets go of its lock. */
  close(): void | Promise<void>;
};

/** Opens the desk on a book. Throws Refusal when the book cannot be opened. */
export type OpenDesk = (options: DeskOptions) => Desk | Promise<Desk>;
