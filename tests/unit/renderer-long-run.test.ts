import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { askMs, LongRun } from '../../src-renderer/hooks/long-run.ts';
import type { Outcome } from '../../src-shared/refusal.ts';

/** A desk whose work ends when the test says so. */
function deskAtWork() {
  let finish: (outcome: Outcome<string>) => void = () => {};
  const far = { isRunning: true, done: 0, total: 0 };
  const ended: string[] = [];
  const asked: string[] = [];
  let made = 0;
  const run = new LongRun<{ head: string }, string>(
    {
      begin: (request, work) => {
        asked.push(`${request.head} as ${work}`);
        return new Promise((resolve) => {
          finish = resolve;
        });
      },
      progress: (work) => {
        asked.push(`how far is ${work}`);
        return Promise.resolve({ ok: true, value: { ...far } });
      },
      end: (work) => Promise.resolve(ended.push(work)),
    },
    () => `work ${++made}`,
  );
  return { run, far, ended, asked, finish: (outcome: Outcome<string>) => finish(outcome) };
}

const cancelled = { ok: false, error: { code: 'cancelled', message: 'This was cancelled.' } } as const;

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

test('how far it is is asked a few times a second, and what is not known is not said', async () => {
  const { run, far, asked, finish } = deskAtWork();
  const done = run.start({ head: 'code' });
  expect(run.state).toEqual({ state: 'busy', isLong: false, isEnding: false });
  await vi.advanceTimersByTimeAsync(askMs);
  expect(run.state).toEqual({ state: 'busy', isLong: true, isEnding: false });
  Object.assign(far, { done: 30, total: 120 });
  await vi.advanceTimersByTimeAsync(askMs);
  expect(run.state).toEqual({ state: 'busy', isLong: true, isEnding: false, share: 0.25 });
  await vi.advanceTimersByTimeAsync(1000 - 2 * askMs);
  expect(asked.filter((one) => one === 'how far is work 1').length).toBeLessThanOrEqual(10);
  finish({ ok: true, value: 'whole' });
  expect(await done).toBe('whole');
  expect(run.state).toEqual({ state: 'done', value: 'whole' });
  const before = asked.length;
  await vi.advanceTimersByTimeAsync(10 * askMs);
  expect(asked.length).toBe(before);
});

test('begun twice it is done once', async () => {
  const { run, asked, finish } = deskAtWork();
  void run.start({ head: 'one' });
  expect(await run.start({ head: 'two' })).toBeUndefined();
  expect(asked).toEqual(['one as work 1']);
  finish({ ok: true, value: 'whole' });
});

test('ended, it is stopped only when the desk says so, and may be begun again under another id', async () => {
  const { run, ended, asked, finish } = deskAtWork();
  const done = run.start({ head: 'one' });
  run.cancel();
  expect(ended).toEqual(['work 1']);
  expect(run.state).toMatchObject({ state: 'busy', isEnding: true });
  finish(cancelled);
  expect(await done).toBeUndefined();
  expect(run.state).toEqual({ state: 'stopped' });
  run.cancel();
  expect(ended).toEqual(['work 1']);
  void run.start({ head: 'two' });
  expect(asked.at(-1)).toBe('two as work 2');
  finish({ ok: true, value: 'whole' });
});

test('what finished before it could be ended is shown as done', async () => {
  const { run, finish } = deskAtWork();
  const done = run.start({ head: 'one' });
  run.cancel();
  finish({ ok: true, value: 'whole' });
  await done;
  expect(run.state).toEqual({ state: 'done', value: 'whole' });
});

test('a refusal is a refusal', async () => {
  const { run, finish } = deskAtWork();
  const error = { code: 'check-code-not-valid', message: 'No code.', field: 'head' };
  const done = run.start({ head: 'one' });
  finish({ ok: false, error });
  expect(await done).toBeUndefined();
  expect(run.state).toEqual({ state: 'failed', fault: error });
});
