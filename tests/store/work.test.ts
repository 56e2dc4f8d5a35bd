import { existsSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openStore } from '../../src-main/store/store.ts';
import type { Verified } from '../../src-main/store/verify.ts';
import { runJob } from '../../src-main/work/run.ts';
import { tenASecond } from '../../src-main/work/serve.ts';
import { addedDraft, folder, steppingClock, toyParts } from './toys.ts';

const toyWorker = new URL('./toy-worker.ts', import.meta.url);
const realWorker = new URL('../../src-main/work/worker.ts', import.meta.url);
let place: ReturnType<typeof folder>;
beforeEach(() => {
  place = folder();
});
afterEach(() => place.clear());

describe('a job in its own thread', () => {
  test('reads beside an open book: verify, backup', async () => {
    const store = openStore(place.path('a.foldbook'), toyParts, steppingClock(), { create: true });
    const entries = Array.from({ length: 2500 }, (_, i) => addedDraft([`s${i % 50}`], i, i));
    store.write('many', 1, () => ({ entries, reply: null }));
    const steps: number[] = [];
    const { checkCode } = store.head();
    const job = runJob<Verified>(
      'verify',
      { book: store.path, head: checkCode },
      {
        workerUrl: toyWorker,
        onProgress: (done, total) => steps.push(done / total),
      },
    );
    store.write('meanwhile', 1, () => ({ entries: [addedDraft(['a'], 1)], reply: null }));
    const verified = await job;
    expect(verified).toMatchObject({ ok: true, problems: [] });
    expect(verified.entries).toBeGreaterThanOrEqual(2500);
    expect(steps.at(-1)).toBe(1);
    const to = place.path('b.foldbook');
    const backup = await runJob<{ entries: number }>(
      'backup',
      { book: store.path, to },
      { workerUrl: toyWorker },
    );
    expect(backup.entries).toBe(2501);
    store.close();
    const restored = await runJob(
      'restore',
      { backup: to, book: store.path, head: checkCode },
      { workerUrl: toyWorker },
    );
    expect(restored).toMatchObject({ entries: 2501 });
    expect(await runJob('rebuild', { book: store.path }, { workerUrl: toyWorker })).toMatchObject({
      entries: 2501,
    });
  });

  test('hands back a refusal as it was, and a fault as a fault', async () => {
    await expect(runJob('refuse', {}, { workerUrl: toyWorker })).rejects.toMatchObject({
      name: 'Refusal',
      code: 'toy-no',
      message: 'The toy says no.',
      field: 'toy',
      next: 'Ask again.',
    });
    await expect(runJob('fail', {}, { workerUrl: toyWorker })).rejects.toThrowError('a fault of ours');
    await expect(runJob('leave', {}, { workerUrl: toyWorker })).rejects.toThrowError(/exit code 3/);
    await expect(runJob('none', {}, { workerUrl: toyWorker })).rejects.toThrowError(/no job called none/);
    await expect(runJob('late', { a: 1 }, { workerUrl: toyWorker })).resolves.toEqual({ a: 1 });
  });

  test('is ended by cancelling, even in the middle of its work', async () => {
    const control = new AbortController();
    let told = 0;
    const job = runJob(
      'endless',
      {},
      {
        workerUrl: toyWorker,
        signal: control.signal,
        onProgress: () => {
          told += 1;
          control.abort();
        },
      },
    );
    await expect(job).rejects.toMatchObject({ code: 'cancelled' });
    expect(told).toBe(1);
    await expect(
      runJob('endless', {}, { workerUrl: toyWorker, signal: control.signal }),
    ).rejects.toMatchObject({ code: 'cancelled' });
  });

  test('of the program itself starts unbuilt and knows the program’s kinds', async () => {
    const missing = place.path('none.foldbook');
    await expect(runJob('verify', { book: missing }, { workerUrl: realWorker })).rejects.toMatchObject({
      code: 'book-missing',
    });
    expect(existsSync(missing)).toBe(false);
  });

  test('tells how far it is at most ten times a second, and always the end', () => {
    const sent: string[] = [];
    let now = 0;
    const tell = tenASecond(
      (done, total) => sent.push(`${done}/${total}@${now}`),
      () => now,
    );
    for (; now <= 1000; now += 1) tell(now, 2000);
    expect(sent).toHaveLength(11);
    tell(2000, 2000);
    expect(sent.at(-1)).toBe('2000/2000@1001');
  });

  test('tells at once when another step begins, and no oftener than else of one that has no end', () => {
    const sent: string[] = [];
    let now = 0;
    const tell = tenASecond(
      (_done, _total, step) => sent.push(`${step}@${now}`),
      () => now,
    );
    for (; now < 150; now += 10) tell(0, 0, now < 50 ? 'measuring' : 'placing');
    expect(sent).toEqual(['measuring@0', 'placing@50']);
  });
});
