import { randomUUID } from 'node:crypto';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openDesk } from '../../src-main/answers/desk.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import { workBoard } from '../../src-main/work/board.ts';
import type { Ask, CallName, Reply } from '../../src-shared/calls/all.ts';
import { DRENCH, FARM } from './farm-desk.ts';

const WORKER = new URL('../../src-main/work/worker.ts', import.meta.url);
const NOW = '2026-05-01T09:00:00.000Z';
/** Enough entries that going through them can be seen. */
const HEADS = 1500;

let folder: string;
let desk: Desk;
let holding: string;

async function ask<N extends CallName>(name: N, request: Ask<N>): Promise<Reply<N>> {
  const answer = await desk.call(name, request);
  if (!answer.ok) throw new Error(`${name}: ${answer.error.code}: ${answer.error.message}`);
  // The desk checked its reply against the schema of this call.
  return answer.value as Reply<N>;
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'foldbook-work-'));
  desk = openDesk({ book: join(folder, 'hill.foldbook'), clock: () => NOW, worker: WORKER });
  const started = await ask('start-book', { ...FARM, request: randomUUID(), by: 'nobody' });
  holding = started.holding;
  const by = started.person;
  const lines = Array.from({ length: HEADS }, (_, n) => `E${n + 1},ewe`);
  const base64 = Buffer.from(['Own number,Class', ...lines].join('\n')).toString('base64');
  const { totals } = await ask('import-animals', {
    request: randomUUID(),
    by,
    holding,
    standing: 'none-running',
    file: { name: 'flock.csv', base64 },
  });
  expect(totals.taken).toBe(HEADS);
  const { medicine } = await ask('set-label', { request: randomUUID(), by, act: 'first', terms: DRENCH });
  await ask('receive-batch', {
    request: randomUUID(),
    by,
    medicine,
    number: 'B1',
    expiry: '2027-05',
    packs: [{ count: 1, size: '500 mL' }],
    supplier: 'Glenside Supplies',
  });
  const { animals } = await ask('animals', { limit: 5 });
  for (const { subject } of animals) {
    await ask('treat', {
      request: randomUUID(),
      by,
      subject,
      weight: '60 kg',
      single: { medicine, reason: 'Worms' },
    });
  }
});
afterAll(async () => {
  await desk?.close();
  rmSync(folder, { recursive: true });
});

const REQUESTS = {
  verify: {},
  recheck: {},
  'make-backup': {},
  'book-paper': { from: '2026-01-01', to: '2026-12-31' },
} as const;

describe('long work with an id', () => {
  for (const name of ['verify', 'recheck', 'make-backup', 'book-paper'] as const) {
    const request = () => (name === 'book-paper' ? { ...REQUESTS[name], holding } : { ...REQUESTS[name] });

    test(`${name} is ended by its id, is refused as cancelled, and leaves nothing`, async () => {
      const work = randomUUID();
      const before = readdirSync(folder).toSorted();
      const ending = desk.call(name, { ...request(), work });
      expect(await ask('work-progress', { work })).toMatchObject({ isRunning: true });
      expect(await ask('cancel-work', { work })).toEqual({ wasRunning: true });
      expect(await ending).toMatchObject({ ok: false, error: { code: 'cancelled' } });
      expect(await ask('work-progress', { work })).toEqual({ isRunning: false, done: 0, total: 0 });
      expect(await ask('cancel-work', { work })).toEqual({ wasRunning: false });
      expect(readdirSync(folder).toSorted()).toEqual(before);
      // The same is done when it is asked for again.
      expect(await desk.call(name, { ...request(), work })).toMatchObject({ ok: true });
    });
  }

  test('checking says how far it is', async () => {
    const work = randomUUID();
    let isDone = false;
    const checked = ask('verify', { work }).then((value) => {
      isDone = true;
      return value;
    });
    const seen: number[] = [];
    while (!isDone) {
      const { done, total } = await ask('work-progress', { work });
      if (total > 0) seen.push(done / total);
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    expect(await checked).toMatchObject({ ok: true });
    expect(seen.length).toBeGreaterThan(0);
    expect(seen).toEqual(seen.toSorted((a, b) => a - b));
    expect(seen.at(-1)).toBeLessThanOrEqual(1);
  });

  test('an id that is in use is refused', async () => {
    const work = randomUUID();
    const first = desk.call('verify', { work });
    expect(await desk.call('recheck', { work })).toMatchObject({
      ok: false,
      error: { code: 'work-under-way', field: 'work' },
    });
    expect(await first).toMatchObject({ ok: true });
  });
});

test('the end of the desk ends work with and without an id', async () => {
  const closing = new AbortController();
  const board = workBoard(closing.signal);
  const untilEnded = ({ signal }: { signal: AbortSignal }) =>
    new Promise<string>((resolve) => {
      signal.addEventListener('abort', () => resolve('ended'));
    });
  const all = Promise.all([board.run(undefined, untilEnded), board.run('one', untilEnded)]);
  closing.abort();
  expect(await all).toEqual(['ended', 'ended']);
  expect(board.progress('one')).toBeUndefined();
});
