import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { APPLICATION_ID, createBookFile } from '../../src-main/store/book-file.ts';
import { takeLock } from '../../src-main/store/lock.ts';
import { applyPending, migrate } from '../../src-main/store/migrate.ts';
import { MIGRATIONS } from '../../src-main/store/migrations/all.ts';
import { openBare, openReading, openWriting, refuseOldNode, setPragma } from '../../src-main/store/sqlite.ts';
import { kindsOf, openStore, type Store } from '../../src-main/store/store.ts';
import { entryKind } from '../../src-shared/entries/kind.ts';
import { added, addedDraft, folder, named, namedDraft, steppingClock, toyParts } from './toys.ts';

let place: ReturnType<typeof folder>;
const open: Store[] = [];
const clock = steppingClock();

beforeEach(() => {
  place = folder();
});
afterEach(() => {
  for (const store of open.splice(0)) store.close();
  place.clear();
});

function book(
  name = 'a.foldbook',
  parts = toyParts,
  options: Parameters<typeof openStore>[3] = { create: true },
): Store {
  const store = openStore(place.path(name), parts, clock, options);
  open.push(store);
  return store;
}
const hash = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex');
const refusal = (code: string, text?: RegExp) =>
  expect.objectContaining({
    name: 'Refusal',
    code,
    ...(text ? { message: expect.stringMatching(text) } : {}),
  });

describe('a file that is not a book', () => {
  const cases: readonly (readonly [string, (path: string) => void])[] = [
    ['text', (path) => writeFileSync(path, 'ewe,ram\n1,2\n'.repeat(50))],
    ['empty', (path) => writeFileSync(path, '')],
    ['short', (path) => writeFileSync(path, 'SQLite format 3\0')],
    [
      "another program's database",
      (path) => {
        const db = openBare(path);
        db.exec('CREATE TABLE journal (x)');
        db.close();
      },
    ],
    [
      "another program's database in WAL mode",
      (path) => {
        const db = openBare(path);
        db.pragma('journal_mode = WAL');
        db.pragma('application_id = 77');
        db.exec('CREATE TABLE journal (x)');
        db.close();
      },
    ],
    [
      'our number without a journal',
      (path) => {
        const db = openBare(path);
        db.pragma('journal_mode = WAL');
        db.pragma(`application_id = ${APPLICATION_ID}`);
        db.exec('CREATE TABLE other (x)');
        db.close();
      },
    ],
  ];
  test.each(cases)('%s is refused and left as it was', (_name, make) => {
    const path = place.path('x.foldbook');
    make(path);
    const before = { hash: hash(path), files: readdirSync(place.path('.')), changed: statSync(path).mtimeMs };
    for (const options of [{ create: true }, {}, { readonly: true }]) {
      expect(() => openStore(path, toyParts, clock, options)).toThrowError(
        refusal('not-a-book', /left as it is/),
      );
    }
    expect({
      hash: hash(path),
      files: readdirSync(place.path('.')),
      changed: statSync(path).mtimeMs,
    }).toEqual(before);
  });

  test('a folder is refused', () => {
    expect(() => openStore(place.path('.'), toyParts, clock)).toThrowError(refusal('book-unreadable'));
  });

  test('no file is made unless asked for', () => {
    expect(() => book('none.foldbook', toyParts, {})).toThrowError(refusal('book-missing'));
    expect(() => book('none.foldbook', toyParts, { create: true, readonly: true })).toThrowError(
      refusal('book-missing'),
    );
    expect(() => book('no/where.foldbook')).toThrowError(refusal('folder-missing'));
    expect(readdirSync(place.path('.'))).toEqual([]);
  });
});

describe('a book from the future', () => {
  test('of a newer version is refused with both numbers and left as it was', () => {
    book().close();
    const path = place.path('a.foldbook');
    const db = openBare(path);
    db.pragma('user_version = 9');
    db.close();
    const before = hash(path);
    expect(() => book()).toThrowError(refusal('book-from-the-future', /version 9.*version 1/));
    expect(hash(path)).toBe(before);
  });

  test('with a newer kind or version of an entry is refused with both numbers', () => {
    const one = book();
    one.write('r1', 1, () => ({ entries: [namedDraft('a', 'x')], reply: null }));
    one.close();
    const older = entryKind({ ...named, version: 1, upgrade: {} });
    const unknown = { ...toyParts, kinds: kindsOf([added]), projectionVersion: 2 };
    const old = { ...toyParts, kinds: kindsOf([added, older]), projectionVersion: 2 };
    expect(() => book('a.foldbook', old)).toThrowError(
      refusal('entry-from-the-future', /version 2.*version 1/),
    );
    expect(() => book('a.foldbook', unknown)).toThrowError(
      refusal('entry-from-the-future', /version 2.*version 0/),
    );
    expect(book().read.all('SELECT name FROM toy_name')).toEqual([{ name: 'x' }]);
  });

  test('an older version of an entry is brought up step by step', () => {
    const first = entryKind({
      kind: 'toy-named',
      version: 1,
      schema: z.strictObject({ of: z.string(), title: z.string() }),
      subjects: (data) => [data.of],
      fold: () => [],
      line: () => '',
    });
    const one = book('a.foldbook', { ...toyParts, kinds: kindsOf([added, first]) });
    one.write('r1', 1, () => ({
      entries: [{ ...namedDraft('a', ''), data: { of: 'a', title: 'Bell' } }],
      reply: null,
    }));
    one.close();
    const two = book('a.foldbook', { ...toyParts, projectionVersion: 2 });
    expect(two.read.all('SELECT name FROM toy_name')).toEqual([{ name: 'Bell' }]);
    expect(two.entry(1)).toMatchObject({ v: 2, data: { of: 'a', name: 'Bell' } });
    expect(two.written(1)?.entry).toMatchObject({ v: 1, data: { of: 'a', title: 'Bell' } });
  });
});

describe('one writer', () => {
  test('a second opener is refused, by another name of the file too; a reader is not', () => {
    const one = book();
    one.write('r1', 1, () => ({ entries: [addedDraft(['a'], 3)], reply: null }));
    symlinkSync(place.path('a.foldbook'), place.path('link.foldbook'));
    expect(() => book()).toThrowError(refusal('book-in-use'));
    expect(() => book('link.foldbook')).toThrowError(refusal('book-in-use'));
    const reader = book('a.foldbook', toyParts, { readonly: true });
    expect(reader.read.get('SELECT total FROM toy_count')).toEqual({ total: 3 });
    expect(() => reader.write('r2', 1, () => ({ entries: [], reply: 1 }))).toThrowError(
      refusal('book-read-only'),
    );
    expect(() => reader.kept.preferences.put('a', 1)).toThrowError(/readonly/);
    one.close();
    expect(book().head().seq).toBe(1);
  });

  test('a lock that is let go can be taken again', () => {
    const path = place.path('l.foldbook');
    const lock = takeLock(path);
    expect(() => takeLock(path)).toThrowError(refusal('book-in-use'));
    lock.release();
    takeLock(path).release();
  });

  test('a refused opening lets the lock go', () => {
    const bad = {
      ...toyParts,
      projections: [{ table: 'x', sql: 'CREATE TABLE x (subject TEXT NOT NULL) STRICT' }],
    };
    expect(() => book('a.foldbook', bad)).toThrowError(/no primary key/);
    expect(book().head().seq).toBe(0);
  });
});

describe('projections', () => {
  const wrong: readonly (readonly [string, string, RegExp])[] = [
    ['no subject', 'CREATE TABLE x (a TEXT NOT NULL PRIMARY KEY) STRICT', /no column "subject/],
    ['loose subject', 'CREATE TABLE x (subject TEXT, a INTEGER PRIMARY KEY) STRICT', /no column "subject/],
    ['not strict', 'CREATE TABLE x (subject TEXT NOT NULL PRIMARY KEY)', /not STRICT/],
    ['no index', 'CREATE TABLE x (a TEXT PRIMARY KEY, subject TEXT NOT NULL) STRICT', /no index/],
    ['other name', 'CREATE TABLE y (subject TEXT NOT NULL PRIMARY KEY) STRICT', /does not create/],
  ];
  test.each(wrong)('%s is refused', (_name, sql, message) => {
    const parts = { ...toyParts, projections: [...toyParts.projections, { table: 'x', sql }] };
    expect(() => book('a.foldbook', parts)).toThrowError(message);
  });

  test('changed SQL or version is folded anew; a failure leaves the old ones standing', () => {
    const one = book();
    one.write('r1', 1, () => ({ entries: [addedDraft(['a'], 3)], reply: null }));
    one.close();
    const failing = entryKind({
      ...added,
      fold: () => {
        throw new Error('this fold is broken');
      },
    });
    const broken = { ...toyParts, kinds: kindsOf([failing, named]), projectionVersion: 2 };
    expect(() => book('a.foldbook', broken)).toThrowError('this fold is broken');
    // The old version opens without folding anything, so its tables were not touched.
    const still = book('a.foldbook', { ...toyParts, kinds: kindsOf([failing, named]) });
    expect(still.read.get('SELECT total FROM toy_count')).toEqual({ total: 3 });
    still.close();
    const fewer = { ...toyParts, kinds: kindsOf([named]), projections: [] };
    expect(() => book('a.foldbook', fewer)).toThrowError(refusal('entry-from-the-future'));
    const wider = toyParts.projections.map((each) =>
      each.table === 'toy_log'
        ? { ...each, sql: `${each.sql}; CREATE INDEX toy_log_before ON toy_log (before)` }
        : each,
    );
    const two = book('a.foldbook', { ...toyParts, projections: wider });
    expect(two.read.get("SELECT name FROM sqlite_schema WHERE name = 'toy_log_before'")).toBeDefined();
    expect(two.read.get('SELECT total FROM toy_count')).toEqual({ total: 3 });
    two.close();
    expect(() => book('a.foldbook', toyParts, { readonly: true })).toThrowError(
      refusal('book-needs-opening'),
    );
  });

  test('a list of tables that was altered in the file cannot make it drop the journal', () => {
    book().close();
    const db = openBare(place.path('a.foldbook'));
    db.exec(`UPDATE projection_state SET version = 0, tables = '["journal"]'`);
    db.close();
    expect(() => book()).toThrowError(/not a projection/);
    const after = openReading(place.path('a.foldbook'));
    expect(after.prepare('SELECT count(*) FROM journal').pluck().get()).toBe(0);
    after.close();
  });
});

describe('settings', () => {
  test('are set on the connections, and one that does not take is refused', () => {
    createBookFile(place.path('s.foldbook'));
    const db = openWriting(place.path('s.foldbook'));
    const of = (name: string) => db.pragma(name, { simple: true });
    expect([of('journal_mode'), of('synchronous'), of('foreign_keys'), of('trusted_schema')]).toEqual([
      'wal',
      2,
      1,
      0,
    ]);
    expect([of('busy_timeout'), of('recursive_triggers'), of('cell_size_check')]).toEqual([5000, 1, 1]);
    db.exec("INSERT INTO kept_preference VALUES ('a', '1', 'x')");
    expect(of('synchronous')).toBe(2);
    expect(() => setPragma(db, ['sinchronous', 'FULL', 2])).toThrowError(
      refusal('database-setting', /sinchronous/),
    );
    db.close();
    const reading = openReading(place.path('s.foldbook'));
    expect(reading.pragma('query_only', { simple: true })).toBe(1);
    expect(() => reading.exec('DELETE FROM kept_preference')).toThrowError(/readonly/);
    reading.close();
    const memory = openBare(':memory:');
    expect(() => setPragma(memory, ['journal_mode', 'WAL', 'wal'])).toThrowError(refusal('database-setting'));
    memory.close();
  });

  test('a Node.js that is too old is refused in a sentence', () => {
    expect(() => refuseOldNode('20.20.2')).toThrowError(refusal('node-too-old', /Node\.js 22.*20\.20\.2/));
    expect(() => refuseOldNode('22.0.0')).not.toThrow();
    expect(() => refuseOldNode()).not.toThrow();
  });
});

describe('migrations', () => {
  const next = [...MIGRATIONS, { to: MIGRATIONS.length + 1, sql: 'CREATE TABLE kept_extra (a TEXT) STRICT' }];

  test('are numbered from 1 without a gap', () => {
    expect(MIGRATIONS.map((each) => each.to)).toEqual(MIGRATIONS.map((_each, i) => i + 1));
  });

  test('make a backup first, keep what is there, and are done once', () => {
    const one = book();
    one.write('r1', 1, () => ({ entries: [addedDraft(['a'], 3)], reply: null }));
    one.close();
    const path = place.path('a.foldbook');
    const db = openWriting(path);
    const backup = migrate(db, path, next);
    expect(backup).toBeDefined();
    expect(db.pragma('user_version', { simple: true })).toBe(next.length);
    expect(db.prepare('SELECT count(*) FROM journal').pluck().get()).toBe(1);
    expect(db.prepare('SELECT count(*) FROM kept_extra').pluck().get()).toBe(0);
    expect(migrate(db, path, next)).toBeUndefined();
    db.close();
    expect(() => book()).toThrowError(refusal('book-from-the-future'));
    const old = openStore(String(backup), toyParts, clock);
    open.push(old);
    expect(old.head().seq).toBe(1);
  });

  test('that fail change nothing', () => {
    createBookFile(place.path('m.foldbook'));
    const db = openWriting(place.path('m.foldbook'));
    const bad = [...next, { to: next.length + 1, sql: 'CREATE TABLE kept_extra (b TEXT) STRICT' }];
    expect(() => applyPending(db, 'm', bad)).toThrowError(/already exists/);
    expect(db.pragma('user_version', { simple: true })).toBe(MIGRATIONS.length);
    expect(db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'kept_extra'").get()).toBeUndefined();
    db.close();
  });

  test('a half-made new book is never taken for a book', () => {
    writeFileSync(place.path('h.foldbook.part'), 'half');
    book('h.foldbook').close();
    expect(existsSync(place.path('h.foldbook.part'))).toBe(false);
    expect(book('h.foldbook').head().seq).toBe(0);
  });
});
