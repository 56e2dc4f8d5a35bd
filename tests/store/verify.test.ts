import { copyFileSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canonical, chainHash, parseLine } from '../../src-main/store/journal.ts';
import { MIGRATIONS } from '../../src-main/store/migrations/all.ts';
import { rebuildBook } from '../../src-main/store/rebuild.ts';
import { type Db, openBare, openReading } from '../../src-main/store/sqlite.ts';
import { openStore } from '../../src-main/store/store.ts';
import { verifiedLines, verifyBook } from '../../src-main/store/verify.ts';
import { attempt } from '../../src-shared/refusal.ts';
import {
  addedDraft,
  countedDraft,
  dump,
  folder,
  namedDraft,
  replaceDraft,
  steppingClock,
  toyParts,
  voidDraft,
} from './toys.ts';

const place = folder();
const good = place.path('good.foldbook');
const ENTRIES = 8;
/** Check code of the whole book, and the one printed after each entry. */
let head = '';
const codes: string[] = [];
const COLUMNS = ['seq', 'request', 'n', 'line', 'hash'] as const;

beforeAll(() => {
  const store = openStore(good, toyParts, steppingClock(), { create: true });
  const drafts = [
    addedDraft(['a', 'b'], 3, 1),
    namedDraft('a', 'x', 2),
    countedDraft('b', 9, 3),
    voidDraft('c1', 1, 4),
    addedDraft(['c'], 3, 1),
    replaceDraft('c0', 1, addedDraft(['b'], 4, 1), 1, 5),
    addedDraft(['a'], 1, 7),
    namedDraft('b', 'y', 8),
  ];
  for (const [i, draft] of drafts.entries()) {
    store.write(`c${i}`, i, () => ({
      entries: [draft],
      reply: i,
      keep: (kept) => kept.attachments.put(Buffer.from(`paper ${i}`)),
    }));
    codes.push(store.head().checkCode);
  }
  head = store.head().checkCode;
  store.close();
});
afterAll(() => place.clear());

const TRIGGERS = (MIGRATIONS[0]?.sql ?? '').match(/CREATE TRIGGER[\s\S]*?END;/g) ?? [];

/** Changes a copy of the book behind the program's back, and leaves its schema as it was. */
function tampered(name: string, change: (db: Db) => void): string {
  const path = place.path(`${name}.foldbook`);
  copyFileSync(good, path);
  const db = openBare(path);
  for (const trigger of ['journal_no_update', 'journal_no_delete', 'journal_next_only'])
    db.exec(`DROP TRIGGER ${trigger}`);
  db.pragma('ignore_check_constraints = ON');
  change(db);
  for (const trigger of TRIGGERS) db.exec(trigger);
  db.close();
  return path;
}
const found = (path: string, code?: string) =>
  verifyBook(path, toyParts, code === undefined ? {} : { head: code }).problems.map(
    (problem) => problem.code,
  );

/** The journal, the projections and the attachments: all that verify answers for. */
function contentOf(path: string): unknown {
  const db = openReading(path);
  const tables = ['journal', 'subject_entry', 'correction', 'toy_count', 'toy_log', 'toy_name'];
  const content = tables.map((table) => db.prepare(`SELECT * FROM ${table} ORDER BY 1, 2`).all());
  content.push(db.prepare('SELECT hash, bytes FROM kept_attachment ORDER BY hash').all());
  db.close();
  return content;
}

describe('verify', () => {
  test('finds a good book whole, with every check code it ever printed', () => {
    expect(TRIGGERS).toHaveLength(3);
    for (const code of codes)
      expect(verifyBook(good, toyParts, { head: code })).toMatchObject({
        ok: true,
        problems: [],
        entries: ENTRIES,
      });
    const bare = verifyBook(good, toyParts);
    expect(bare).toMatchObject({ ok: true, head: { checkCode: head } });
    expect(verifiedLines(bare).join('\n')).toMatch(
      /whole: 8 entries.*\n.*No check code was given, so entries cut off at the end would not be seen/,
    );
    // Dropping the triggers and making them again is by itself no change.
    expect(
      found(
        tampered('same', () => {}),
        head,
      ),
    ).toEqual([]);
  });

  test('sees a change of any column of any row', () => {
    let tried = 0;
    for (let seq = 1; seq <= ENTRIES; seq += 1) {
      for (const column of COLUMNS) {
        const path = tampered(`c-${seq}-${column}`, (db) => {
          const value: unknown = db.prepare(`SELECT ${column} FROM journal WHERE seq = ?`).pluck().get(seq);
          const other =
            typeof value === 'number'
              ? value + 100
              : `${String(value).slice(0, -1)}${column === 'request' ? 'x' : String(value).endsWith('0') ? '1' : '0'}`;
          db.prepare(`UPDATE journal SET ${column} = ? WHERE seq = ?`).run(other, seq);
        });
        expect(found(path), `${column} of entry ${seq}`).toContain('chain-broken');
        tried += 1;
      }
    }
    expect(tried).toBe(ENTRIES * COLUMNS.length);
  });

  test('sees any one field of a line changed, even with its own hash made to fit', () => {
    for (let seq = 1; seq < ENTRIES; seq += 1) {
      const path = tampered(`l-${seq}`, (db) => {
        const line = String(db.prepare('SELECT line FROM journal WHERE seq = ?').pluck().get(seq));
        const before = String(
          db
            .prepare('SELECT hash FROM journal WHERE seq = ?')
            .pluck()
            .get(seq - 1) ?? '0'.repeat(64),
        );
        const changed = canonical({ ...parseLine(line), by: 'Somebody Else' });
        db.prepare('UPDATE journal SET line = ?, hash = ? WHERE seq = ?').run(
          changed,
          chainHash(before, changed),
          seq,
        );
      });
      expect(found(path), `entry ${seq}`).toContain('chain-broken');
    }
  });

  test('sees a line that says the same in other bytes, and one with a field too many', () => {
    for (const [name, change] of [
      ['blank', (line: string) => line.replace(',', ', ')],
      ['field', (line: string) => line.replace('{', '{"Z":1,')],
    ] as const) {
      const path = tampered(name, (db) => {
        const { line, hash } = db
          .prepare('SELECT line, (SELECT hash FROM journal WHERE seq = 7) AS hash FROM journal WHERE seq = 8')
          .get() as { line: string; hash: string };
        db.prepare('UPDATE journal SET line = ?, hash = ? WHERE seq = 8').run(
          change(line),
          chainHash(hash, change(line)),
        );
      });
      expect(found(path)).toContain('chain-broken');
    }
  });

  test.each([1, 3, ENTRIES])(
    'with a check code sees the last %i rows cut off, and an older code still proves the rest',
    (cut) => {
      // The thorough thief takes the projections along: what is left is a book that was never longer.
      const path = tampered(`cut-${cut}`, (db) => {
        db.prepare('DELETE FROM journal WHERE seq > ?').run(ENTRIES - cut);
        db.exec('UPDATE projection_state SET version = 0');
      });
      openStore(path, toyParts, steppingClock()).close();
      expect(found(path)).toEqual([]);
      expect(found(path, head)).toEqual(['tail-missing']);
      const older = codes[ENTRIES - cut - 1];
      if (older !== undefined) expect(found(path, older)).toEqual([]);
      else expect(cut).toBe(ENTRIES);
    },
  );

  test('without a check code sees rows cut off when the projections still show them', () => {
    expect(found(tampered('cut', (db) => db.exec('DELETE FROM journal WHERE seq = 8')))).toContain(
      'projection-differs',
    );
  });

  test('sees a history written anew, by the check code only', () => {
    const path = place.path('anew.foldbook');
    const store = openStore(path, toyParts, steppingClock(), { create: true });
    for (let i = 0; i < ENTRIES; i += 1)
      store.write(`c${i}`, i, () => ({ entries: [addedDraft(['a'], i)], reply: null }));
    store.close();
    expect(found(path)).toEqual([]);
    expect(found(path, head)).toEqual(['other-history']);
    expect(found(path, codes[2])).toEqual(['other-history']);
  });

  const changes: readonly (readonly [string, string, string])[] = [
    ['a changed balance', 'UPDATE toy_count SET total = total + 1', 'projection-differs'],
    ['a row too many', "INSERT INTO toy_name VALUES (99, 'z', 'n', NULL)", 'projection-differs'],
    ['a row too few', 'DELETE FROM toy_name', 'projection-differs'],
    ['a lost correction', 'DELETE FROM correction', 'projection-differs'],
    ['an entry taken off its subject', "DELETE FROM subject_entry WHERE subject = 'a'", 'projection-differs'],
    ['a changed attachment', "UPDATE kept_attachment SET bytes = x'00'", 'attachment-changed'],
    [
      'a trigger too many',
      'CREATE TRIGGER t AFTER INSERT ON kept_form BEGIN SELECT 1; END',
      'schema-changed',
    ],
    ['a column too many', 'ALTER TABLE journal ADD COLUMN extra TEXT', 'schema-changed'],
    ['a lost index', 'DROP INDEX toy_name_subject', 'schema-changed'],
  ];
  test.each(changes)('sees %s', (name, sql, code) => {
    expect(
      found(
        tampered(name.replaceAll(' ', '-'), (db) => db.exec(sql)),
        head,
      ),
    ).toContain(code);
  });

  test('sees a lost trigger', () => {
    const path = place.path('trigger.foldbook');
    copyFileSync(good, path);
    const db = openBare(path);
    db.exec('DROP TRIGGER journal_no_delete');
    db.close();
    expect(found(path, head)).toEqual(['schema-changed']);
  });

  test('a name in the schema that is no text any more is said, not stumbled over', () => {
    const path = place.path('blob-name.foldbook');
    copyFileSync(good, path);
    const db = openBare(path);
    db.unsafeMode(true);
    db.pragma('writable_schema = ON');
    db.exec("UPDATE sqlite_schema SET name = CAST(name AS BLOB) WHERE name = 'journal_no_delete'");
    db.close();
    expect(found(path)).toContain('schema-changed');
  });

  test('of any flipped bit either says so, or the book still says the same', () => {
    const seed = Number(process.env.FOLDBOOK_SEED ?? Date.now() % 2 ** 31);
    console.log(`seed ${seed} (FOLDBOOK_SEED=${seed} runs the same again)`);
    const random = fc.sample(fc.record({ at: fc.nat(), bit: fc.nat(7) }), { seed, numRuns: 120 });
    const bytes = readFileSync(good);
    const said = contentOf(good);
    const path = place.path('flip.foldbook');
    const outcome = { seen: 0, harmless: 0 };
    for (const { at, bit } of random) {
      const flipped = Buffer.from(bytes);
      const place = at % bytes.length;
      flipped.writeUInt8(flipped.readUInt8(place) ^ (1 << bit), place);
      for (const tail of ['-wal', '-shm']) rmSync(path + tail, { force: true });
      writeFileSync(path, flipped);
      const problems = attempt(() => verifyBook(path, toyParts, { head }).problems);
      if (!problems.ok || problems.value.length > 0) outcome.seen += 1;
      else {
        expect(contentOf(path), `bit ${bit} of byte ${place}`).toEqual(said);
        outcome.harmless += 1;
      }
    }
    expect(outcome.seen).toBeGreaterThan(0);
    expect(outcome.harmless).toBeGreaterThan(0);
  });

  test('refuses what is no check code or no book', () => {
    expect(() => verifyBook(good, toyParts, { head: 'x' })).toThrowError(
      expect.objectContaining({ code: 'check-code' }),
    );
    expect(() => verifyBook(place.path('none'), toyParts)).toThrowError(
      expect.objectContaining({ code: 'book-missing' }),
    );
  });
});

describe('rebuild', () => {
  test('makes the same book, keeps the old one, and tells how far it is', () => {
    const path = tampered('rebuild', (db) => db.exec('UPDATE toy_count SET total = 77'));
    const kept = openStore(path, toyParts, steppingClock());
    kept.kept.preferences.put('a', 1);
    kept.close();
    const steps: string[] = [];
    const rebuilt = rebuildBook(path, toyParts, {
      progress: (done, total) => steps.push(`${done}/${total}`),
    });
    expect(rebuilt).toMatchObject({ entries: ENTRIES, checkCode: head, keptTrouble: [] });
    expect(steps.at(-1)).toBe('8/8');
    expect(found(path, head)).toEqual([]);
    expect(found(rebuilt.before, head)).toEqual(['projection-differs']);
    const store = openStore(path, toyParts, steppingClock());
    const before = openStore(good, toyParts, steppingClock());
    expect(dump(store.read)).toEqual(dump(before.read));
    expect(store.kept.preferences.get('a')).toBe(1);
    // The replies came along: a call from before is still answered, and not done again.
    expect(store.write('c2', 2, () => ({ entries: [addedDraft(['a'], 1)], reply: 99 }))).toBe(2);
    store.close();
    before.close();
    expect(rebuildBook(path, toyParts).before).toMatch(/before-rebuild-2$/);
    expect(
      readdirSync(place.path('.')).filter(
        (file) => file.startsWith('rebuild.foldbook') && file.endsWith('.part'),
      ),
    ).toEqual([]);
  });

  test('refuses a broken journal, and rescues it up to the break when asked', () => {
    const path = tampered('broken', (db) =>
      db.exec(`UPDATE journal SET line = replace(line, 'Ida', 'Ada') WHERE seq = 6`),
    );
    expect(() => openStore(path, { ...toyParts, projectionVersion: 5 }, steppingClock())).toThrowError(
      expect.objectContaining({ code: 'book-damaged' }),
    );
    const before = readFileSync(path);
    expect(() => rebuildBook(path, toyParts)).toThrowError(expect.objectContaining({ code: 'book-damaged' }));
    expect(readFileSync(path).equals(before)).toBe(true);
    const rescued = rebuildBook(path, toyParts, { rescue: true });
    expect(rescued).toMatchObject({ entries: 5, checkCode: codes[4], left: { from: 6, read: 3 } });
    expect(found(path, codes[4])).toEqual([]);
    const rest = readFileSync(String(rescued.left?.file), 'utf8')
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(rest.map((row) => row.seq)).toEqual([6, 7, 8]);
    expect(found(rescued.before)).toContain('chain-broken');
    const store = openStore(path, toyParts, steppingClock());
    store.write('new', 1, () => ({ entries: [addedDraft(['a'], 1)], reply: null }));
    store.close();
    expect(found(path, codes[4])).toEqual([]);
  });

  test('refuses a broken last entry before anything is added to it', () => {
    const path = tampered('tail', (db) =>
      db.exec(`UPDATE journal SET line = replace(line, 'Ida', 'Ada') WHERE seq = 8`),
    );
    expect(() => openStore(path, toyParts, steppingClock())).toThrowError(
      expect.objectContaining({ code: 'book-damaged' }),
    );
    expect(existsSync(path)).toBe(true);
  });

  test('needs the book closed', () => {
    const store = openStore(good, toyParts, steppingClock());
    expect(() => rebuildBook(good, toyParts)).toThrowError(expect.objectContaining({ code: 'book-in-use' }));
    store.close();
  });
});
