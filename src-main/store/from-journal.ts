import { existsSync, rmSync } from 'node:fs';
import { basename } from 'node:path';
import { Refusal } from '../../src-shared/refusal.ts';
import { bookPath, moveIntoPlace, needFolder, shapeNewBook } from './book-file.ts';
import { checkCodeOf, FIRST_PREVIOUS } from './check-code.ts';
import { chainHash, JOURNAL_COLUMNS, parseLine, withGenericKinds } from './journal.ts';
import { hashOfBytes } from './kept.ts';
import { type ReplayParts, replay } from './replay.ts';
import { openNew, plainError } from './sqlite.ts';
import type { StoreParts } from './store.ts';

export type FromJournal = { entries: number; hash: string; checkCode: string; kept: number };

/**
 * Makes a new book from the lines of a journal as a pack holds them, and from what was kept beside it. Every line is
 * checked, its hash worked out anew, and everything folded; the zone of this computer has no say in it. A file that is
 * there already is never replaced.
 * @throws Refusal `file-exists`, `journal-broken` naming the line, `folder-missing`, `disk-full`
 */
export function bookFromJournal(
  path: string,
  lines: Iterable<string>,
  keptBytes: readonly Uint8Array[],
  parts: StoreParts,
  now: string,
): FromJournal {
  const book = bookPath(path);
  if (existsSync(book)) {
    throw new Refusal('file-exists', `There is already a file called ${basename(book)}.`, {
      field: 'book',
      next: 'Choose another name for the new book.',
    });
  }
  needFolder(book, 'book');
  const part = `${book}.part`;
  rmSync(part, { force: true });
  try {
    const db = openNew(part);
    let made: FromJournal;
    try {
      shapeNewBook(db);
      db.exec('BEGIN');
      const insert = db.prepare(`INSERT INTO journal (${JOURNAL_COLUMNS}) VALUES (?, ?, ?, ?, ?)`);
      let hash = FIRST_PREVIOUS;
      let seq = 0;
      for (const line of lines) {
        seq += 1;
        const { request, n } = entryOf(line, seq);
        hash = chainHash(hash, line);
        insert.run(seq, request, n, line, hash);
      }
      const keep = db.prepare(
        'INSERT INTO kept_attachment (hash, bytes, kept_at) VALUES (?, ?, ?) ON CONFLICT (hash) DO NOTHING',
      );
      for (const bytes of keptBytes) keep.run(hashOfBytes(bytes), bytes, now);
      const all: ReplayParts = { ...parts, kinds: withGenericKinds(parts.kinds) };
      const { trouble } = replay(db, db, all, { strict: true });
      if (trouble) throw broken(trouble.seq, trouble.message);
      db.exec('COMMIT');
      made = { entries: seq, hash, checkCode: checkCodeOf(seq, hash), kept: keptBytes.length };
    } finally {
      db.close();
    }
    moveIntoPlace(part, book);
    return made;
  } catch (thrown) {
    rmSync(part, { force: true });
    throw plainError(thrown);
  }
}

function broken(line: number, why: string): Refusal {
  return new Refusal('journal-broken', `Line ${line} of the journal cannot be taken: ${why}.`, {
    field: 'journal',
    next: 'Fetch the pack again from where it was made.',
  });
}

function entryOf(line: string, seq: number): { request: string; n: number } {
  try {
    const { request, n } = parseLine(line);
    if (typeof request === 'string' && typeof n === 'number') return { request, n };
  } catch (thrown) {
    if (!(thrown instanceof SyntaxError)) throw thrown;
  }
  throw broken(seq, 'it is no entry of a journal');
}
