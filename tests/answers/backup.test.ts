import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { backupShelf } from '../../src-main/answers/backup.ts';
import { openDesk } from '../../src-main/answers/desk.ts';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import { openStore } from '../../src-main/store/store.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { deskWork } from '../../src-main/work/desk-work.ts';
import { storeJobs } from '../../src-main/work/store-jobs.ts';
import type { Reply } from '../../src-shared/calls/all.ts';
import { FARM } from './farm-desk.ts';

const NOW = '2026-05-01T23:30:00.000Z';
const WORKER = new URL('../../src-main/work/worker.ts', import.meta.url);
const TERMINAL = fileURLToPath(new URL('../../src-main/host-command/desk.ts', import.meta.url));

let folder: string;
let book: string;
let desk: Desk | undefined;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'foldbook-backup-'));
  book = join(folder, 'hill.foldbook');
});
afterEach(() => {
  desk?.close();
  desk = undefined;
  rmSync(folder, { recursive: true });
});

async function ask(from: Desk, name: string, request: unknown): Promise<unknown> {
  const answer = await from.call(name, request);
  if (!answer.ok) throw new Error(`${name}: ${answer.error.code}: ${answer.error.message}`);
  return answer.value;
}

/** A started book of three entries, open. */
async function opened(worker?: URL): Promise<Desk> {
  desk = await openDesk({ book, clock: () => NOW, ...(worker ? { worker } : {}) });
  await ask(desk, 'start-book', { ...FARM, request: '01890000-0000-7000-8000-000000000001', by: 'nobody' });
  return desk;
}
const made = async (from: Desk) => (await ask(from, 'make-backup', {})) as Reply<'make-backup'>;
const farm = async (from: Desk) => (await ask(from, 'farm', {})) as Reply<'farm'>;
const leftOver = () => readdirSync(folder).filter((name) => name.includes('to-save'));

/** Another person in the book: one entry more. */
async function addPerson(from: Desk, n: number): Promise<void> {
  const { people } = await farm(from);
  await ask(from, 'set-person', {
    request: `01890000-0000-7000-8000-0000000001${String(n).padStart(2, '0')}`,
    by: people[0]?.person,
    name: `Helper ${n}`,
    roles: ['shepherd'],
  });
}

describe.each([
  ['in a thread of its own', WORKER],
  ['in the thread of the desk', undefined],
])('a backup made %s', (_where, worker) => {
  test('is the whole book, is fetched once, and leaves nothing beside the book', async () => {
    const from = await opened(worker);
    const { head } = await farm(from);
    const backup = await made(from);
    // Half past midnight of the next day on the farm.
    expect(backup).toMatchObject({
      name: 'backup-hill-2026-05-02-entry-3.foldbook',
      entries: 3,
      checkCode: head.checkCode,
    });
    expect(leftOver()).toEqual(['hill.foldbook.to-save']);

    const taken = await from.paper(backup.file);
    expect(taken).toMatchObject({ name: backup.name, mime: 'application/octet-stream' });
    const bytes = taken?.bytes ?? new Uint8Array();
    expect(bytes.byteLength).toBe(backup.bytes);
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(backup.file);
    expect(leftOver()).toEqual([]);
    expect(await from.paper(backup.file)).toBeUndefined();

    const saved = join(folder, backup.name);
    writeFileSync(saved, bytes);
    expect(verifyBook(saved, storeParts, { head: head.checkCode })).toMatchObject({ ok: true, entries: 3 });
  });

  test('says of a check code from a paper whether the book still holds it', async () => {
    const from = await opened(worker);
    const { head } = await farm(from);
    expect(await ask(from, 'verify', { head: head.checkCode })).toMatchObject({
      ok: true,
      entries: 3,
      checkCode: head.checkCode,
      problems: [],
    });
    const cut = `9${head.checkCode.slice(1)}`;
    expect(await ask(from, 'verify', { head: cut })).toMatchObject({ ok: false });
    expect(await from.call('verify', { head: 'no code' })).toMatchObject({
      ok: false,
      error: { code: 'check-code' },
    });
  });
});

describe('the last backup', () => {
  test('counts when it was handed over, not when it was only made', async () => {
    const from = await opened();
    expect((await farm(from)).backup).toBeUndefined();
    const first = await made(from);
    expect((await farm(from)).backup).toBeUndefined();
    await from.paper(first.file);
    expect((await farm(from)).backup).toEqual({ at: NOW, day: '2026-05-02', entries: 3 });
    await addPerson(from, 1);
    expect(await farm(from)).toMatchObject({ head: { seq: 4 }, backup: { entries: 3 } });
  });

  test('only the newest waits, and of two who ask at once one gets it', async () => {
    const from = await opened();
    const first = await made(from);
    await addPerson(from, 1);
    const second = await made(from);
    expect(await from.paper(first.file)).toBeUndefined();
    const both = await Promise.all([from.paper(second.file), from.paper(second.file)]);
    expect(both.filter((one) => one !== undefined)).toHaveLength(1);
  });

  test('two are not made at once, and the one under way comes through', async () => {
    const from = await opened(WORKER);
    const [first, second] = await Promise.all([from.call('make-backup', {}), from.call('make-backup', {})]);
    expect(first).toMatchObject({ ok: true });
    expect(second).toMatchObject({ ok: false, error: { code: 'backup-under-way' } });
    expect(leftOver()).toEqual(['hill.foldbook.to-save']);
  });
});

describe('nothing stays beside the book', () => {
  test('when the desk closes before the backup was fetched', async () => {
    const from = await opened();
    await made(from);
    from.close();
    expect(leftOver()).toEqual([]);
  });

  test('when the desk closes while one is made', async () => {
    const from = await opened(WORKER);
    const making = from.call('make-backup', {});
    from.close();
    expect(await making).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(leftOver()).toEqual([]);
  });

  test('when an earlier run broke off and left a copy', async () => {
    for (const tail of ['', '.part']) writeFileSync(`${book}.to-save${tail}`, 'half a copy');
    await opened();
    expect(leftOver()).toEqual([]);
  });

  test('when the book is too large for a window, which is said', async () => {
    const store = openStore(book, storeParts, { now: () => NOW }, { create: true });
    const size = statSync(book).size;
    const shelf = backupShelf(store, () => NOW, Math.floor(size / 2));
    const work = deskWork(storeJobs(storeParts));
    await expect(
      shelf.make(work, { signal: new AbortController().signal, onProgress: () => {} }),
    ).rejects.toMatchObject({ code: 'backup-too-big' });
    expect(leftOver()).toEqual([]);
    store.close();
  });
});

describe('from a terminal', () => {
  function run(...words: string[]): { code: number | null; said: Record<string, unknown> } {
    const ended = spawnSync(process.execPath, [TERMINAL, '--book', book, ...words], {
      encoding: 'utf8',
      // What the first process compiled serves the others.
      env: { ...process.env, NODE_COMPILE_CACHE: join(folder, 'compiled') },
    });
    const said = JSON.parse(ended.status === 0 ? ended.stdout : ended.stderr) as Record<string, unknown>;
    return { code: ended.status, said };
  }

  test('a saved backup becomes the book again; what was written since is set aside and kept', async () => {
    const from = await opened();
    const backup = await made(from);
    const taken = await from.paper(backup.file);
    const saved = join(folder, 'stick.foldbook');
    writeFileSync(saved, taken?.bytes ?? '');
    await addPerson(from, 1);
    // The book is open here, so nobody may put another in its place.
    expect(run('restore', saved)).toMatchObject({ code: 2, said: { error: { code: 'book-in-use' } } });
    from.close();

    const restored = run('restore', saved, '--head', backup.checkCode);
    expect(restored).toMatchObject({
      code: 0,
      said: { book, entries: 3, checkCode: backup.checkCode, before: `${book}.before-restore-1` },
    });
    expect(verifyBook(book, storeParts, { head: backup.checkCode })).toMatchObject({ ok: true, entries: 3 });
    expect(verifyBook(`${book}.before-restore-1`, storeParts)).toMatchObject({ ok: true, entries: 4 });
    // The backup itself is left as it was, and the restored book opens and is written to.
    expect(createHash('sha256').update(readFileSync(saved)).digest('hex')).toBe(backup.file);
    const again = openDesk({ book, clock: () => NOW });
    desk = await again;
    expect((await farm(desk)).people.map((one) => one.name)).toEqual(['Isla Thorn']);
    await addPerson(desk, 2);
    expect((await farm(desk)).head.seq).toBe(4);
  });

  test('a backup that is not whole, or not the one that was meant, changes nothing', async () => {
    const from = await opened();
    const early = await made(from);
    const saved = join(folder, 'early.foldbook');
    writeFileSync(saved, (await from.paper(early.file))?.bytes ?? '');
    await addPerson(from, 1);
    const { head } = await farm(from);
    from.close();
    const before = readFileSync(book);

    expect(run('restore', saved, '--head', head.checkCode).said).toMatchObject({
      error: { code: 'backup-damaged' },
    });
    writeFileSync(join(folder, 'note.txt'), 'no book at all');
    expect(run('restore', join(folder, 'note.txt')).said).toMatchObject({ error: { code: 'not-a-book' } });
    expect(run('restore', join(folder, 'none')).said).toMatchObject({ error: { code: 'book-missing' } });
    expect(run('restore')).toMatchObject({ code: 2, said: { error: { code: 'file-not-named' } } });
    expect(readFileSync(book)).toEqual(before);
    expect(existsSync(`${book}.before-restore-1`)).toBe(false);
  });

  test('a backup is made beside an open book, and never over a file', async () => {
    await opened();
    const to = join(folder, 'copy.foldbook');
    expect(run('backup', to)).toMatchObject({ code: 0, said: { book, path: to, entries: 3 } });
    expect(verifyBook(to, storeParts)).toMatchObject({ ok: true, entries: 3 });
    expect(run('backup', to)).toMatchObject({ code: 2, said: { error: { code: 'file-exists' } } });
  });
});
