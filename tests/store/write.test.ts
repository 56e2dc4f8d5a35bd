import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openStore, type Store } from '../../src-main/store/store.ts';
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

let place: ReturnType<typeof folder>;
let store: Store;
const clock = steppingClock();

beforeEach(() => {
  place = folder();
  clock.set('2026-03-01T08:00:00.000Z');
  store = openStore(place.path('a.foldbook'), toyParts, clock, { create: true });
});
afterEach(() => {
  store.close();
  place.clear();
});

function put(request: string, ...entries: ReturnType<typeof addedDraft>[]): void {
  store.write(request, entries, () => ({ entries, reply: null }));
}

describe('a writing call', () => {
  test('appends, folds and answers', () => {
    const reply = store.write('r1', { ask: 1 }, (tx, head) => {
      expect(head).toMatchObject({ seq: 0, recorded: null });
      expect(tx.all('SELECT * FROM toy_count')).toEqual([]);
      return { entries: [addedDraft(['a', 'b'], 3), addedDraft(['a'], 4, 1)], reply: { done: true } };
    });
    expect(reply).toEqual({ done: true });
    expect(store.read.all('SELECT * FROM toy_count ORDER BY subject')).toEqual([
      { subject: 'a', total: 7 },
      { subject: 'b', total: 3 },
    ]);
    expect(store.head().seq).toBe(2);
    expect(store.head().checkCode).toMatch(/^2-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}$/);
    expect(store.entryNamed('r1', 2)).toMatchObject({
      seq: 2,
      data: { by: 4 },
      state: 'stands',
      clock: 'believed',
    });
  });

  test('sent twice is done once and answered twice', () => {
    const ask = () =>
      store.write('r1', { x: 1 }, () => ({ entries: [addedDraft(['a'], 3)], reply: Math.random() }));
    const first = ask();
    expect(ask()).toBe(first);
    expect(store.head().seq).toBe(1);
  });

  test('under a used request id with other content is refused', () => {
    store.write('r1', { x: 1 }, () => ({ entries: [addedDraft(['a'], 3)], reply: null }));
    expect(() => store.write('r1', { x: 2 }, () => ({ entries: [], reply: null }))).toThrowError(
      expect.objectContaining({ code: 'request-id-reused' }),
    );
    expect(store.head().seq).toBe(1);
  });

  test('that fails half-way leaves nothing', () => {
    const before = dump(store.read);
    expect(() =>
      store.write('r1', 1, () => ({
        entries: [addedDraft(['a'], 1), { ...addedDraft(['a'], 1), data: { to: 1 } }],
        reply: 0,
      })),
    ).toThrowError(expect.objectContaining({ code: 'entry-not-valid', field: 'to' }));
    expect(dump(store.read)).toEqual(before);
    expect(store.head().seq).toBe(0);
    put('r1', addedDraft(['a'], 1));
    expect(store.head().seq).toBe(1);
  });
});

describe('order of happening', () => {
  test('a late entry is put in its place', () => {
    put('r1', countedDraft('a', 10, 5));
    put('r2', addedDraft(['a'], 3, 2));
    expect(store.read.get('SELECT total FROM toy_count')).toEqual({ total: 10 });
    put('r3', namedDraft('a', 'late', 9), namedDraft('a', 'early', 1));
    expect(store.read.get('SELECT name FROM toy_name WHERE until IS NULL')).toEqual({ name: 'late' });
  });

  test('void and replace', () => {
    put('r1', countedDraft('a', 10, 1));
    put('r2', addedDraft(['a', 'b'], 3, 2));
    put('r3', replaceDraft('r2', 1, addedDraft(['b', 'c'], 5, 2)));
    expect(store.read.all('SELECT * FROM toy_count ORDER BY subject')).toEqual([
      { subject: 'a', total: 10 },
      { subject: 'b', total: 5 },
      { subject: 'c', total: 5 },
    ]);
    expect(store.entryNamed('r2', 1)).toMatchObject({ state: 'replaced', data: { to: ['b', 'c'], by: 5 } });
    put('r4', voidDraft('r2', 1));
    expect(store.read.all('SELECT * FROM toy_count ORDER BY subject')).toEqual([{ subject: 'a', total: 10 }]);
    expect(store.entryNamed('r2', 1)).toMatchObject({
      state: 'voided',
      correctedBy: { seq: 4, reason: 'wrong' },
    });
    expect(store.entriesOf('b').map((entry) => [entry.seq, entry.state])).toEqual([
      [3, 'stands'],
      [4, 'stands'],
      [2, 'voided'],
    ]);
    for (const [again, code] of [
      [voidDraft('r2', 1), 'correction-of-voided'],
      [voidDraft('r4', 1), 'correction-of-correction'],
      [voidDraft('none', 1), 'correction-no-target'],
      [replaceDraft('r1', 1, addedDraft(['a'], 1)), 'correction-other-kind'],
    ] as const) {
      expect(() => put('r5', again)).toThrowError(expect.objectContaining({ code }));
    }
  });
});
