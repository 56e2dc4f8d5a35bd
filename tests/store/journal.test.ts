import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { parseCheckCode } from '../../src-main/store/check-code.ts';
import { openBare, openWriting } from '../../src-main/store/sqlite.ts';
import { clockState, kindsOf, openStore, type Store, type StoreParts } from '../../src-main/store/store.ts';
import { entryKind } from '../../src-shared/entries/kind.ts';
import {
  added,
  addedDraft,
  counted,
  folder,
  minute,
  named,
  namedDraft,
  steppingClock,
  toyParts,
} from './toys.ts';

let place: ReturnType<typeof folder>;
let store: Store;
const clock = steppingClock();
const refusal = (code: string) => expect.objectContaining({ name: 'Refusal', code });

beforeEach(() => {
  place = folder();
  clock.set('2026-03-01T08:00:00.000Z');
  store = openStore(place.path('a.foldbook'), toyParts, clock, { create: true });
});
afterEach(() => {
  store.close();
  place.clear();
});

function put(
  request: string,
  ...entries: { kind: string; happened: ReturnType<typeof minute>; by: string; data: unknown }[]
) {
  store.write(request, request, () => ({ entries, reply: null }));
}

describe('the chain', () => {
  test('is SHA-256 over the previous hash, a line feed and the canonical line, from 64 zeros', () => {
    put('r1', addedDraft(['ä', 'a'], 3), namedDraft('a', 'Zoë \u0000 "quoted" €'));
    let previous = '0'.repeat(64);
    for (const seq of [1, 2]) {
      const row = store.written(seq);
      const expected = createHash('sha256').update(`${previous}\n${row?.line}`, 'utf8').digest('hex');
      expect(row?.hash).toBe(expected);
      previous = expected;
    }
    expect(store.head()).toEqual({
      seq: 2,
      hash: previous,
      recorded: '2026-03-01T08:00:00.000Z',
      checkCode: `2-${previous.slice(0, 4)}-${previous.slice(4, 8)}-${previous.slice(8, 12)}`,
    });
    // Keys sorted, no blanks, nothing escaped that need not be: RFC 8785.
    expect(store.written(1)?.line).toBe(
      `{"asked":"${createHash('sha256').update('"r1"').digest('hex')}","by":"Ida Test","clock":"believed","data":{"by":3,"to":["ä","a"]},"happened":{"at":"2026-01-01T00:00:00.000Z","local":"2026-01-01T00:00","zone":"UTC"},"kind":"toy-added","n":1,"recorded":"2026-03-01T08:00:00.000Z","request":"r1","seq":1,"v":1}`,
    );
  });

  test('cannot hold half a character', () => {
    expect(() => put('r1', namedDraft('a', '\ud800'))).toThrowError(refusal('cannot-be-written'));
    expect(store.head().seq).toBe(0);
  });

  test('a check code is read as people type it', () => {
    expect(parseCheckCode(' 12 AB12 cd34-EF56 ')).toEqual({ seq: 12, start: 'ab12cd34ef56' });
    for (const bad of ['', '12', '12-ab12', 'x-ab12-cd34-ef56', '12-ab12-cd34-ef5g']) {
      expect(() => parseCheckCode(bad)).toThrowError(refusal('check-code'));
    }
  });
});

describe('append-only', () => {
  const attempts = [
    ['update', "UPDATE journal SET line = '{}' WHERE seq = 1"],
    ['update of the number', 'UPDATE journal SET seq = 3 WHERE seq = 2'],
    ['delete', 'DELETE FROM journal WHERE seq = 2'],
    ['delete all', 'DELETE FROM journal'],
    ['replace by number', `INSERT OR REPLACE INTO journal VALUES (2, 'x', 1, '{}', '${'0'.repeat(64)}')`],
    ['replace by name', `INSERT OR REPLACE INTO journal VALUES (3, 'r1', 1, '{}', '${'0'.repeat(64)}')`],
    ['ignore by name', `INSERT OR IGNORE INTO journal VALUES (3, 'r1', 1, '{}', '${'0'.repeat(64)}')`],
    ['a gap', `INSERT INTO journal VALUES (4, 'x', 1, '{}', '${'0'.repeat(64)}')`],
    ['before the first', `INSERT INTO journal VALUES (-1, 'x', 1, '{}', '${'0'.repeat(64)}')`],
    ['no number', `INSERT INTO journal (request, n, line, hash) VALUES ('r1', 2, '{}', '${'0'.repeat(64)}')`],
    [
      'upsert',
      `INSERT INTO journal VALUES (2, 'r2', 1, '{}', '${'0'.repeat(64)}') ON CONFLICT (seq) DO UPDATE SET line = 'x'`,
    ],
  ] as const;
  test.each(attempts)('%s is aborted', (_name, sql) => {
    put('r1', addedDraft(['a'], 1), addedDraft(['a'], 2));
    const path = store.path;
    store.close();
    // With recursive triggers off, as any other program would open it, a replacing delete fires no trigger.
    for (const open of [openWriting, openBare]) {
      const db = open(path);
      const all = () => JSON.stringify(db.prepare('SELECT * FROM journal').all());
      const before = all();
      expect(() => db.exec(sql)).toThrowError(/append-only/);
      expect(all()).toBe(before);
      db.close();
    }
  });
});

describe('what a fold may write', () => {
  function partsWith(ops: Parameters<typeof entryKind>[0]['fold']): StoreParts {
    const odd = entryKind<{ of: string }>({
      kind: 'toy-odd',
      version: 1,
      schema: z.strictObject({ of: z.string() }),
      subjects: (data) => [data.of],
      fold: (entry, subject, read) => ops(entry, subject, read),
      line: () => '',
    });
    return { ...toyParts, kinds: kindsOf([added, named, counted, odd]) };
  }
  const odd = { kind: 'toy-odd', happened: minute(0), by: 'Ida Test', data: { of: 'a' } };
  const row = { seq: 1, before: 0, note: null };
  const never = { op: 'remove' as const, table: 'toy_log', key: {} };
  const wrong: readonly (readonly [string, Parameters<typeof entryKind>[0]['fold'], RegExp])[] = [
    [
      'undefined',
      () => [{ op: 'put', table: 'toy_log', row: { seq: 1, before: JSON.parse('{}').none } }],
      /undefined/,
    ],
    ['NaN', () => [{ op: 'put', table: 'toy_log', row: { ...row, before: Number.NaN } }], /NaN/],
    ['Infinity', () => [{ op: 'put', table: 'toy_log', row: { ...row, before: 1 / 0 } }], /Infinity/],
    [
      'an unsafe integer',
      () => [{ op: 'put', table: 'toy_log', row: { ...row, before: 2 ** 53 } }],
      /cannot be stored/,
    ],
    [
      'half an integer',
      () => [{ op: 'put', table: 'toy_log', row: { ...row, before: 0.5 } }],
      /cannot store REAL/,
    ],
    ['an unknown table', () => [{ op: 'put', table: 'journal', row }], /not a projection/],
    [
      'an unknown column',
      () => [{ op: 'put', table: 'toy_log', row: { ...row, more: 1 } }],
      /no column more/,
    ],
    [
      'an empty key',
      () => [{ op: 'put', table: 'toy_log', row: { before: 1, note: null } }],
      /key seq is empty/,
    ],
    [
      'another subject',
      () => [{ op: 'put', table: 'toy_log', row: { ...row, subject: 'b' } }],
      /a fold for a/,
    ],
    [
      'a key set anew',
      () => [{ op: 'change', table: 'toy_log', key: {}, set: { seq: 2 } }],
      /part of the key/,
    ],
    [
      'a wrong condition',
      (_e, _s, read) => [...read.rows('toy_log', { x: 1 })].map(() => never),
      /no column x/,
    ],
  ];
  test.each(wrong)('%s is refused and nothing is written', (_name, fold, message) => {
    store.close();
    store = openStore(place.path('b.foldbook'), partsWith(fold), clock, { create: true });
    expect(() => put('r1', odd)).toThrowError(message);
    expect(store.head().seq).toBe(0);
  });

  test('a row that is another subject’s is not taken over', () => {
    const table = {
      table: 'toy_only',
      sql: `CREATE TABLE toy_only (name TEXT NOT NULL PRIMARY KEY, subject TEXT NOT NULL) STRICT;
        CREATE INDEX toy_only_subject ON toy_only (subject)`,
    };
    const parts = partsWith(() => [{ op: 'put', table: 'toy_only', row: { name: 'same' } }]);
    store.close();
    store = openStore(
      place.path('b.foldbook'),
      { ...parts, projections: [...parts.projections, table] },
      clock,
      { create: true },
    );
    put('r1', odd);
    put('r2', odd);
    expect(() => put('r3', { ...odd, data: { of: 'b' } })).toThrowError(refusal('row-of-another-subject'));
    expect(store.read.all('SELECT * FROM toy_only')).toEqual([{ name: 'same', subject: 'a' }]);
  });

  test('it sees only its own subject, and reading refuses to write', () => {
    let seen: unknown;
    store.close();
    const parts = partsWith((_entry, _subject, read) => {
      seen = read.rows('toy_count');
      return [];
    });
    store = openStore(place.path('b.foldbook'), parts, clock, { create: true });
    put('r1', addedDraft(['a', 'b', 'c'], 1));
    put('r2', odd);
    expect(seen).toEqual([{ subject: 'a', total: 1 }]);
    expect(() => store.read.all('DELETE FROM toy_count RETURNING *')).toThrowError(/not a reading statement/);
    store.write('r3', 1, (tx) => {
      expect(() => tx.all('DELETE FROM toy_count RETURNING *')).toThrowError(/not a reading statement/);
      expect(() => tx.get('SELECT 1 WHERE 1 = ?', Number.NaN)).toThrowError(/NaN/);
      return { entries: [], reply: null };
    });
  });
});

describe('the clock', () => {
  const believed = { state: 'believed' };
  test('of an empty book is believed; 14 days are, and not a millisecond more', () => {
    expect(clockState(store, '1999-01-01T00:00:00.000Z')).toEqual(believed);
    put('r1', addedDraft(['a'], 1));
    expect(clockState(store, '2026-03-01T08:00:00.000Z')).toEqual(believed);
    expect(clockState(store, '2026-03-01T07:59:59.999Z')).toEqual({
      state: 'doubted',
      why: 'before-last-entry',
    });
    expect(clockState(store, '2026-03-15T08:00:00.000Z')).toEqual(believed);
    expect(clockState(store, '2026-03-15T08:00:00.001Z')).toEqual({
      state: 'doubted',
      why: 'long-after-last-entry',
    });
  });

  test('stays in doubt until a person confirms the date', () => {
    put('r1', addedDraft(['a'], 1));
    clock.set('2027-01-10T08:00:00.000Z');
    put('r2', addedDraft(['a'], 1));
    put('r3', addedDraft(['a'], 1));
    expect([1, 2, 3].map((seq) => store.entry(seq)?.clock)).toEqual(['believed', 'doubted', 'doubted']);
    const confirm = (day: string) => ({
      kind: 'date-confirmed',
      happened: { ...minute(0), zone: 'Pacific/Auckland' },
      by: 'Ida Test',
      data: { day },
    });
    // In the holding's own zone it is evening there already.
    clock.set('2027-01-10T11:30:00.000Z');
    expect(() => put('r4', confirm('2027-01-10'))).toThrowError(refusal('date-differs'));
    put('r4', confirm('2027-01-11'), addedDraft(['a'], 1));
    put('r5', addedDraft(['a'], 1));
    expect([4, 5, 6].map((seq) => store.entry(seq)?.clock)).toEqual(['doubted', 'believed', 'believed']);
    clock.set('2026-03-02T08:00:00.000Z');
    put('r6', addedDraft(['a'], 1));
    expect(store.entry(7)?.clock).toBe('doubted');
    store.close();
    store = openStore(place.path('a.foldbook'), toyParts, clock);
    expect(store.clockReference()).toBe(store.entry(6)?.recorded);
  });

  test('that does not answer UTC with milliseconds is an error', () => {
    store.close();
    store = openStore(place.path('a.foldbook'), toyParts, { now: () => '2026-03-01' });
    expect(() => put('r1', addedDraft(['a'], 1))).toThrowError(/not UTC with milliseconds/);
  });
});

describe('kept things', () => {
  test('attachments go by their hash, forms and preferences by name', () => {
    const bytes = new TextEncoder().encode('a paper');
    const hash = store.kept.attachments.put(bytes);
    expect(hash).toBe(createHash('sha256').update(bytes).digest('hex'));
    expect(store.kept.attachments.put(bytes)).toBe(hash);
    expect(Buffer.from(store.kept.attachments.get(hash) ?? []).toString()).toBe('a paper');
    expect(store.kept.attachments.get('none')).toBeUndefined();
    store.kept.forms.put('treat', '1', { tag: 'x' });
    store.kept.forms.put('treat', '1', { tag: 'y' });
    expect(store.kept.forms.get('treat', '1')).toEqual({ tag: 'y' });
    expect(store.kept.forms.list('treat')).toMatchObject([{ key: '1', value: { tag: 'y' } }]);
    store.kept.forms.delete('treat', '1');
    expect(store.kept.forms.get('treat', '1')).toBeUndefined();
    store.kept.preferences.put('theme', 'dark');
    expect(store.kept.preferences.get('theme')).toBe('dark');
  });

  test('stand or fall with the call that keeps them', () => {
    expect(() =>
      store.write('r1', 1, () => ({
        entries: [addedDraft(['a'], 1)],
        reply: null,
        keep: (kept) => {
          kept.preferences.put('a', 1);
          throw new Error('no');
        },
      })),
    ).toThrowError('no');
    expect(store.kept.preferences.get('a')).toBeUndefined();
    expect(store.head().seq).toBe(0);
  });
});

test('a call is neither nested nor asynchronous, and its id is proper', () => {
  expect(() =>
    store.write('r1', 1, () =>
      store.write('r2', 1, () => ({ entries: [], reply: { entries: [], reply: null } })),
    ),
  ).toThrowError(/inside another/);
  const late = () => Promise.resolve({ entries: [], reply: null });
  // @ts-expect-error a promise is what a careless caller would hand in
  expect(() => store.write('r1', 1, late)).toThrowError(/asynchronous/);
  expect(() => store.write('a b', 1, () => ({ entries: [], reply: null }))).toThrowError(
    refusal('request-id'),
  );
  expect(store.write('r1', 1, () => ({ entries: [], reply: undefined }))).toBeUndefined();
});
