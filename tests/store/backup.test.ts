import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { backupBook } from '../../src-main/store/backup.ts';
import { restoreBook } from '../../src-main/store/restore.ts';
import { openBare, openReading } from '../../src-main/store/sqlite.ts';
import { openStore, type Store } from '../../src-main/store/store.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { addedDraft, dump, folder, replaceDraft, steppingClock, toyParts } from './toys.ts';

let place: ReturnType<typeof folder>;
const open: Store[] = [];
beforeEach(() => {
  place = folder();
});
afterEach(() => {
  for (const store of open.splice(0)) store.close();
  place.clear();
});

function book(name: string, entries: number): Store {
  const store = openStore(place.path(name), toyParts, steppingClock(), { create: true });
  open.push(store);
  for (let i = store.head().seq; i < entries; i += 1) {
    store.write(`r${i}`, i, () => ({ entries: [addedDraft(['a', `s${i % 3}`], i, 100 - i)], reply: i }));
  }
  return store;
}
const refusal = (code: string) => expect.objectContaining({ name: 'Refusal', code });
const hash = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex');
const names = () => readdirSync(place.path('.')).sort();

describe('a backup', () => {
  test('of an open book is that book at one moment, whole and by itself', () => {
    const store = book('a.foldbook', 12);
    const before = store.head();
    const made = backupBook(store.path, place.path('b.foldbook'));
    expect(made).toEqual({ path: place.path('b.foldbook'), entries: 12, checkCode: before.checkCode });
    store.write('later', 1, () => ({ entries: [addedDraft(['a'], 1)], reply: null }));
    expect(names()).not.toContain('b.foldbook-wal');
    expect(names().filter((name) => name.endsWith('.part'))).toEqual([]);
    expect(verifyBook(made.path, toyParts, { head: made.checkCode })).toMatchObject({
      ok: true,
      entries: 12,
    });
    expect(verifyBook(made.path, toyParts, { head: store.head().checkCode }).problems).toMatchObject([
      { code: 'tail-missing' },
    ]);
  });

  test('takes in what has not reached the main file yet', () => {
    const store = book('a.foldbook', 3);
    // Everything since the book was made lies in the write-ahead file: a plain copy would lose it.
    expect(existsSync(`${store.path}-wal`)).toBe(true);
    writeFileSync(place.path('plain.foldbook'), readFileSync(store.path));
    backupBook(store.path, place.path('b.foldbook'));
    const count = (name: string) => {
      const db = openReading(place.path(name));
      const found = db.prepare('SELECT count(*) FROM journal').pluck().get();
      db.close();
      return found;
    };
    expect(count('plain.foldbook')).toBe(0);
    expect(count('b.foldbook')).toBe(3);
  });

  test('never replaces a file, and is not made of what is no book', () => {
    const store = book('a.foldbook', 1);
    writeFileSync(place.path('b.foldbook'), 'precious');
    expect(() => backupBook(store.path, place.path('b.foldbook'))).toThrowError(refusal('file-exists'));
    expect(readFileSync(place.path('b.foldbook'), 'utf8')).toBe('precious');
    expect(() => backupBook(place.path('b.foldbook'), place.path('c'))).toThrowError(refusal('not-a-book'));
    expect(() => backupBook(place.path('none'), place.path('c'))).toThrowError(refusal('book-missing'));
    expect(existsSync(place.path('c'))).toBe(false);
    expect(() => backupBook(store.path, place.path('no/where'))).toThrowError(refusal('folder-missing'));
    expect(() => restoreBook(store.path, place.path('no/where'), toyParts)).toThrowError(
      refusal('folder-missing'),
    );
  });

  test('of a book whose numbers have a hole is not made', () => {
    const store = book('a.foldbook', 4);
    store.close();
    const db = openBare(store.path);
    db.exec('DROP TRIGGER journal_no_delete; DELETE FROM journal WHERE seq = 2');
    db.close();
    expect(() => backupBook(store.path, place.path('b.foldbook'))).toThrowError(refusal('backup-failed'));
    expect(names().filter((name) => name.startsWith('b.'))).toEqual([]);
  });
});

describe('a restore, from end to end', () => {
  test('brings back a book, with what was kept, and keeps the one that was there', () => {
    const store = book('a.foldbook', 9);
    store.write('x', 1, () => ({
      entries: [replaceDraft('r2', 1, addedDraft(['q'], 5))],
      reply: 'kept',
      keep: (kept) => kept.attachments.put(Buffer.from('paper')),
    }));
    const expected = dump(store.read);
    const head = store.head();
    backupBook(store.path, place.path('backup.foldbook'));
    store.write('mistake', 1, () => ({ entries: [addedDraft(['a'], 999)], reply: null }));
    const lost = store.head();
    expect(() => restoreBook(place.path('backup.foldbook'), store.path, toyParts)).toThrowError(
      refusal('book-in-use'),
    );
    store.close();

    const restored = restoreBook(place.path('backup.foldbook'), store.path, toyParts, {
      head: head.checkCode,
    });
    expect(restored).toMatchObject({ entries: 10, checkCode: head.checkCode });
    const again = book('a.foldbook', 0);
    expect(again.head()).toEqual(head);
    expect(dump(again.read)).toEqual(expected);
    expect(again.kept.attachments.get(createHash('sha256').update('paper').digest('hex'))).toBeDefined();
    expect(again.write('x', 1, () => ({ entries: [], reply: 'anew' }))).toBe('kept');
    again.write('after', 1, () => ({ entries: [addedDraft(['a'], 1)], reply: null }));
    again.close();
    expect(verifyBook(store.path, toyParts, { head: head.checkCode }).ok).toBe(true);
    // The mistake is still to be had, and the backup is what it was.
    expect(verifyBook(String(restored.before), toyParts, { head: lost.checkCode }).ok).toBe(true);
    expect(verifyBook(place.path('backup.foldbook'), toyParts, { head: head.checkCode })).toMatchObject({
      ok: true,
      entries: 10,
    });
  });

  test('of another version of the projections, and to where there is no book', () => {
    const store = book('a.foldbook', 5);
    backupBook(store.path, place.path('backup.foldbook'));
    const newer = { ...toyParts, projectionVersion: 2 };
    const restored = restoreBook(place.path('backup.foldbook'), place.path('new.foldbook'), newer);
    expect(restored.before).toBeUndefined();
    const again = openStore(place.path('new.foldbook'), newer, steppingClock());
    open.push(again);
    expect(dump(again.read)).toEqual(dump(store.read));
  });

  test('of a damaged backup changes nothing', () => {
    const store = book('a.foldbook', 5);
    backupBook(store.path, place.path('backup.foldbook'));
    store.close();
    const db = openBare(place.path('backup.foldbook'));
    db.exec(
      "DROP TRIGGER journal_no_update; UPDATE journal SET line = replace(line, 'Ida', 'Ada') WHERE seq = 3",
    );
    db.close();
    const before = hash(store.path);
    expect(() => restoreBook(place.path('backup.foldbook'), store.path, toyParts)).toThrowError(
      refusal('backup-damaged'),
    );
    expect(hash(store.path)).toBe(before);
    expect(names()).toEqual(['a.foldbook', 'a.foldbook.lock', 'backup.foldbook']);
  });

  test('of the wrong backup is seen by the check code of a paper', () => {
    const store = book('a.foldbook', 5);
    backupBook(store.path, place.path('old.foldbook'));
    const later = book('a2.foldbook', 1);
    store.write('more', 1, () => ({ entries: [addedDraft(['a'], 1)], reply: null }));
    const head = store.head().checkCode;
    store.close();
    later.close();
    expect(() => restoreBook(place.path('old.foldbook'), store.path, toyParts, { head })).toThrowError(
      refusal('backup-damaged'),
    );
  });

  test('over a book that can no longer be read sets it aside as it is', () => {
    const store = book('a.foldbook', 5);
    backupBook(store.path, place.path('backup.foldbook'));
    store.close();
    const rubbish = Buffer.alloc(5000, 'rubbish');
    writeFileSync(store.path, rubbish);
    writeFileSync(`${store.path}-wal`, 'old frames');
    const restored = restoreBook(place.path('backup.foldbook'), store.path, toyParts);
    expect(readFileSync(String(restored.before)).equals(rubbish)).toBe(true);
    expect(readFileSync(`${restored.before}-wal`, 'utf8')).toBe('old frames');
    expect(book('a.foldbook', 5).head().seq).toBe(5);
  });
});
