import { Refusal } from '../../src-shared/refusal.ts';
import { endOf, hashAt } from './backup.ts';
import { bookPath, identify, shapeNewBook } from './book-file.ts';
import { checkCodeOf, FIRST_PREVIOUS, matchesCheckCode, parseCheckCode } from './check-code.ts';
import { compareProjections, compareSchema } from './compare.ts';
import { checkedRow, withGenericKinds } from './journal.ts';
import { hashOfBytes } from './kept.ts';
import { checkBookVersion } from './migrate.ts';
import { projectionDigest, storedProjections } from './projection-tables.ts';
import { journalRows, type Progress, type ReplayParts, replay } from './replay.ts';
import { type Db, openReading, openTemporary, plainError, sqliteCode } from './sqlite.ts';
import type { StoreParts } from './store.ts';

export type Problem = {
  code:
    | 'file-damaged'
    | 'unreadable'
    | 'schema-changed'
    | 'chain-broken'
    | 'tail-missing'
    | 'other-history'
    | 'replay-failed'
    | 'projection-differs'
    | 'attachment-changed'
    | 'attachment-missing';
  message: string;
  seq?: number;
  table?: string;
};

export type Verified = {
  ok: boolean;
  entries: number;
  head: { seq: number; hash: string; checkCode: string };
  problems: Problem[];
  /** What was not, or could not be, checked. Printed with the result. */
  notes: string[];
};

const MOST_PROBLEMS = 100;

/**
 * Checks a book from end to end, without writing to it: the file's own structure, its schema, every column of
 * every journal row against the chain, every projection against a replay into a fresh database, and every
 * attachment against its hash and the journal's word that it is there. Unfinished forms, preferences, replies and the time at which something was kept
 * are conveniences and no evidence, so a change of those is not looked for.
 *
 * Without a check code a journal whose last entries were cut off, together with their projections, looks
 * whole: nothing in the file says how long it once was. A check code from any paper proves the journal up to
 * the entry it names, and no further.
 * @param options.head a check code as printed on a paper
 * @throws Refusal `book-missing`, `not-a-book`, `book-from-the-future`, `check-code`
 */
export function verifyBook(
  path: string,
  parts: StoreParts,
  options: { head?: string; progress?: Progress } = {},
): Verified {
  const book = bookPath(path);
  const code = options.head === undefined ? undefined : parseCheckCode(options.head);
  if (identify(book) === 'missing') {
    throw new Refusal('book-missing', `There is no book at ${book}.`, { next: 'Check the name.' });
  }
  let db: Db;
  try {
    db = openReading(book);
  } catch (thrown) {
    throw plainError(thrown);
  }
  const notes: string[] = [];
  const problems: Problem[] = [];
  const note = (problem: Problem) => {
    if (problems.length < MOST_PROBLEMS) problems.push(problem);
    else notes[0] = `There are more than ${MOST_PROBLEMS} problems; the rest are not listed.`;
  };
  try {
    checkBookVersion(db, book);
    // One snapshot for everything, though somebody may be writing meanwhile.
    db.exec('BEGIN');
    if (code === undefined) {
      notes.push('No check code was given, so entries cut off at the end would not be seen.');
    } else if (code.seq === 0) {
      notes.push('The check code is of an empty book, so it proves nothing about the entries.');
    }
    const all: ReplayParts = { ...parts, kinds: withGenericKinds(parts.kinds) };
    readable(note, () => checkStructure(db, note));
    readable(note, () => checkJournal(db, all, note, notes, options.progress));
    readable(note, () => checkAttachments(db, note));
    const end = readable(note, () => endOf(db)) ?? { count: 0, seq: 0, hash: FIRST_PREVIOUS };
    if (code) readable(note, () => checkAgainst(db, code, end.seq, note));
    const head = { seq: end.seq, hash: end.hash, checkCode: checkCodeOf(end.seq, end.hash) };
    return { ok: problems.length === 0, entries: end.count, head, problems, notes };
  } finally {
    db.close();
  }
}

/** The result as lines to print. */
export function verifiedLines(result: Verified): string[] {
  const { entries, head, problems, notes } = result;
  const found = problems.map((problem) => `- ${problem.message}`);
  const first = result.ok
    ? `The book is whole: ${entries} entries, check code ${head.checkCode}.`
    : `The book is not whole. ${entries} entries were found, and this is wrong:`;
  return [first, ...found, ...notes];
}

/** Runs a step; a page that cannot be read is a finding, any other error is ours and is thrown on. */
function readable<T>(note: (problem: Problem) => void, step: () => T): T | undefined {
  try {
    return step();
  } catch (thrown) {
    if (sqliteCode(thrown) === undefined) throw thrown;
    note({ code: 'unreadable', message: `The file cannot be read to the end: ${textOf(thrown)}.` });
    return undefined;
  }
}

function textOf(thrown: unknown): string {
  return thrown instanceof Error ? thrown.message : String(thrown);
}

function checkStructure(db: Db, note: (problem: Problem) => void): void {
  const lines = db.pragma('integrity_check(20)') as { integrity_check: string }[];
  for (const { integrity_check } of lines) {
    if (integrity_check === 'ok') continue;
    note({ code: 'file-damaged', message: `The file is damaged: ${integrity_check}.` });
  }
}

function checkJournal(
  db: Db,
  parts: ReplayParts,
  note: (problem: Problem) => void,
  notes: string[],
  progress: Progress | undefined,
): void {
  const fresh = openTemporary();
  try {
    shapeNewBook(fresh);
    fresh.exec('BEGIN');
    const head = replayed(db, fresh, parts, note, progress);
    if (head?.trouble) listBrokenRows(db, note);
    if (!head || head.trouble) return;
    const stored = storedProjections(db);
    const current =
      stored?.version === parts.projectionVersion && stored.digest === projectionDigest(parts.projections);
    compareSchema(db, fresh, current, (table, message) => note({ code: 'schema-changed', table, message }));
    if (!current) {
      notes.push('The tables for reading are of another version; opening the book makes them anew.');
      return;
    }
    compareProjections(db, fresh, parts.projections, (table, message) =>
      note({ code: 'projection-differs', table, message }),
    );
  } finally {
    fresh.close();
  }
}

function replayed(
  db: Db,
  fresh: Db,
  parts: ReplayParts,
  note: (problem: Problem) => void,
  progress: Progress | undefined,
): ReturnType<typeof replay> | undefined {
  try {
    return replay(db, fresh, parts, { progress, strict: true });
  } catch (thrown) {
    if (sqliteCode(thrown)?.startsWith('SQLITE_CORRUPT')) throw thrown;
    note({ code: 'replay-failed', message: `The journal cannot be played again: ${textOf(thrown)}.` });
    return undefined;
  }
}

/** Every row held against the hash stored before it, so that one bad row does not hide the next. */
function listBrokenRows(db: Db, note: (problem: Problem) => void): void {
  let expected = 1;
  let previous = FIRST_PREVIOUS;
  for (const row of journalRows(db)) {
    const { fault } = checkedRow(row, expected, previous, true);
    if (fault !== undefined)
      note({ code: 'chain-broken', seq: expected, message: `The journal is broken: ${fault}.` });
    expected = row.seq + 1;
    previous = row.hash;
  }
}

function checkAttachments(db: Db, note: (problem: Problem) => void): void {
  const rows = db.prepare('SELECT hash, bytes FROM kept_attachment').iterate() as IterableIterator<{
    hash: string;
    bytes: Uint8Array;
  }>;
  for (const { hash, bytes } of rows) {
    if (hashOfBytes(bytes) === hash) continue;
    note({ code: 'attachment-changed', message: `The kept file ${hash.slice(0, 12)} is not what was kept.` });
  }
  // A file whose bytes and hash were both exchanged is whole in itself; the journal knows which one it was.
  const missing = db
    .prepare(
      `SELECT seq, line ->> '$.data.hash' AS hash, line ->> '$.data.name' AS name FROM journal
       WHERE json_valid(line) AND line ->> '$.kind' = 'attached'
         AND NOT EXISTS (SELECT 1 FROM kept_attachment WHERE hash = line ->> '$.data.hash') ORDER BY seq`,
    )
    .iterate() as IterableIterator<{ seq: number; hash: string; name: string }>;
  for (const { seq, hash, name } of missing) {
    note({
      code: 'attachment-missing',
      seq,
      message: `The file ${name} of entry ${seq} (${hash.slice(0, 12)}) is no longer in the book.`,
    });
  }
}

function checkAgainst(
  db: Db,
  code: { seq: number; start: string },
  last: number,
  note: (problem: Problem) => void,
): void {
  if (code.seq > last) {
    note({
      code: 'tail-missing',
      seq: last + 1,
      message: `The paper names entry ${code.seq}, and the book ends at entry ${last}: the end was cut off.`,
    });
    return;
  }
  const hash = code.seq === 0 ? FIRST_PREVIOUS : hashAt(db, code.seq);
  if (hash !== undefined && matchesCheckCode(code, code.seq, hash)) return;
  note({
    code: 'other-history',
    seq: code.seq,
    message: `The paper does not belong to this book: entry ${code.seq} has another check code.`,
  });
}
