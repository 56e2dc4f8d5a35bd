import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { DraftRun } from '../../src-renderer/hooks/draft-run.ts';

/** A place for drafts whose answers come when the test lets them. */
function slowPlace(kept: unknown) {
  let held = kept;
  const done: string[] = [];
  const waiting: (() => void)[] = [];
  const later = <R>(work: () => R) =>
    new Promise<R>((resolve) => {
      waiting.push(() => resolve(work()));
    });
  return {
    done,
    held: () => held,
    /** Lets the oldest thing that was asked for happen. */
    async next(): Promise<void> {
      await vi.waitFor(() => expect(waiting.length).toBeGreaterThan(0));
      waiting.shift()?.();
      await vi.advanceTimersByTimeAsync(0);
    },
    waits: () => waiting.length,
    place: {
      read: () =>
        later(() => {
          done.push('read');
          return held;
        }),
      keep: (value: unknown) =>
        later(() => {
          done.push(value === null ? 'forget' : 'keep');
          held = value;
        }),
    },
  };
}

type Words = { to: string; name: string };
const blank: Words = { to: '', name: '' };
const settleMs = 500;
let form = 0;

function run(around: ReturnType<typeof slowPlace>): DraftRun<Words> {
  const restore = (kept: unknown) => ({
    values: { ...blank, ...(kept as Partial<Words> | null) },
    isRestored: kept !== null,
  });
  return new DraftRun(`form ${form}`, blank, restore, around.place, settleMs);
}

beforeEach(() => {
  form += 1;
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

test('what is typed while the kept form is fetched goes over it, and the rest of it is put back', async () => {
  const around = slowPlace({ to: 'kept place', name: 'kept name' });
  const draft = run(around);
  const opened = draft.open();
  draft.change((before) => ({ ...before, to: 'typed' }));
  expect(draft.state).toEqual({ value: { to: 'typed', name: '' }, isReady: false, isRestored: false });
  await around.next();
  await opened;
  expect(draft.state).toEqual({
    value: { to: 'typed', name: 'kept name' },
    isReady: true,
    isRestored: true,
  });
  await vi.advanceTimersByTimeAsync(settleMs);
  await around.next();
  expect(around.held()).toEqual({ to: 'typed', name: 'kept name' });
});

test('left before it was known what was kept, what was typed is kept over it', async () => {
  const around = slowPlace({ to: 'kept place', name: 'kept name' });
  const draft = run(around);
  void draft.open();
  draft.change((before) => ({ ...before, name: 'typed' }));
  await draft.save();
  await around.next();
  await vi.advanceTimersByTimeAsync(settleMs);
  await around.next();
  expect(around.held()).toEqual({ to: 'kept place', name: 'typed' });
});

test('two changes that come together both count', async () => {
  const around = slowPlace(null);
  const draft = run(around);
  void draft.open();
  await around.next();
  draft.change((before) => ({ ...before, to: 'there' }));
  draft.change((before) => ({ ...before, name: 'somebody' }));
  expect(draft.state.value).toEqual({ to: 'there', name: 'somebody' });
  await vi.advanceTimersByTimeAsync(settleMs);
  await around.next();
  expect(around.done).toEqual(['read', 'keep']);
});

test('what was written is not brought back by a save that was still under way', async () => {
  const around = slowPlace(null);
  const draft = run(around);
  void draft.open();
  await around.next();
  draft.change((before) => ({ ...before, to: 'there' }));
  await vi.advanceTimersByTimeAsync(settleMs);
  const dropped = draft.drop();
  expect(draft.state.value).toEqual(blank);
  await vi.advanceTimersByTimeAsync(0);
  // The forgetting waits for the save: only one of them is on its way.
  expect(around.waits()).toBe(1);
  await around.next();
  await around.next();
  await dropped;
  expect(around.done).toEqual(['read', 'keep', 'forget']);
  expect(around.held()).toBeNull();
});

test('who comes straight back finds the last key that was typed', async () => {
  const around = slowPlace(null);
  const first = run(around);
  void first.open();
  await around.next();
  first.change((before) => ({ ...before, name: 'half a na' }));
  void first.save();
  const second = run(around);
  const opened = second.open();
  await around.next();
  await around.next();
  await opened;
  expect(second.state).toEqual({ value: { to: '', name: 'half a na' }, isReady: true, isRestored: true });
});

test('when the page goes, the save waits for nothing', async () => {
  const around = slowPlace(null);
  const draft = run(around);
  void draft.open();
  await around.next();
  draft.change((before) => ({ ...before, to: 'one' }));
  void draft.save();
  draft.change((before) => ({ ...before, to: 'two' }));
  void draft.save(true);
  await vi.advanceTimersByTimeAsync(0);
  expect(around.waits()).toBe(2);
});

test('a save that fails lets the next one through', async () => {
  const around = slowPlace(null);
  const place = {
    ...around.place,
    keep: vi.fn(around.place.keep).mockRejectedValueOnce(new Error('no line')),
  };
  const draft = new DraftRun(
    `form ${form}`,
    blank,
    (kept) => ({ values: blank, isRestored: kept !== null }),
    place,
    settleMs,
  );
  void draft.open();
  await around.next();
  draft.change((before) => ({ ...before, to: 'one' }));
  await expect(draft.save()).rejects.toThrow('no line');
  draft.change((before) => ({ ...before, to: 'two' }));
  void draft.save();
  await around.next();
  expect(around.held()).toEqual({ to: 'two', name: '' });
});
