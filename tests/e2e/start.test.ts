import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { printedAddress, type Started, startProgram } from './started.ts';

let folder: string;
let started: Started | undefined;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'start-'));
});
afterEach(() => {
  started?.kill();
  started = undefined;
  rmSync(folder, { recursive: true });
});

function start(words: string[], env: Record<string, string> = {}): Started {
  started = startProgram(folder, words, env);
  return started;
}

async function exchange(address: string): Promise<{ origin: string; token: string }> {
  const { origin, hash } = new URL(address);
  const reply = await fetch(`${origin}/key`, {
    method: 'POST',
    headers: { origin, 'content-type': 'application/json' },
    body: JSON.stringify({ key: hash.slice('#key='.length) }),
  });
  const said = (await reply.json()) as { value: { token: string } };
  return { origin, token: said.value.token };
}

test('without a display it says so, serves the desk on the usual book, and ends cleanly', async () => {
  const run = start([]);
  const address = await run.hears(printedAddress);
  expect(run.said()).toContain('There is no display for a window here');
  const { origin, token } = await exchange(address);
  const reply = await fetch(`${origin}/call`, {
    method: 'POST',
    headers: { origin, 'content-type': 'application/json', 'x-foldbook-token': token },
    body: JSON.stringify({ name: 'no-such-call', request: {} }),
  });
  expect(await reply.json()).toMatchObject({ ok: false, error: { code: 'unknown-call' } });
  expect((await fetch(origin)).status).toBe(200);
  expect(existsSync(path.join(folder, '.local/share/foldbook/book.foldbook'))).toBe(true);
  run.stop();
  expect(await run.ended).toBe(0);
  await expect(fetch(origin)).rejects.toThrow();
});

test('a window that cannot run here gives way to a browser', async () => {
  const runtime = path.join(folder, 'electron');
  writeFileSync(runtime, '#!/bin/sh\nexit 127\n', { mode: 0o755 });
  const run = start([], { ELECTRON_OVERRIDE_DIST_PATH: folder, DISPLAY: ':99' });
  await run.hears(/Foldbook opens its window on/);
  await run.hears(/The window cannot run on this computer/);
  await run.hears(/http:\/\/127\.0\.0\.1:\d+\/#key=/);
  await run.hears(/No browser was found here/);
  run.stop();
  expect(await run.ended).toBe(0);
});

test('a window that was closed ends it, and one that refused does not fall back', async () => {
  const runtime = path.join(folder, 'electron');
  writeFileSync(runtime, '#!/bin/sh\nexit 0\n', { mode: 0o755 });
  const env = { ELECTRON_OVERRIDE_DIST_PATH: folder, DISPLAY: ':99' };
  const closed = start([], env);
  expect(await closed.ended).toBe(0);
  writeFileSync(runtime, '#!/bin/sh\nexit 3\n', { mode: 0o755 });
  const refused = start([], env);
  expect(await refused.ended).toBe(1);
  expect(closed.said() + refused.said()).not.toContain('127.0.0.1');
});

test('a runtime that is not here is not fetched when it may not be', async () => {
  const run = start([], { ELECTRON_OVERRIDE_DIST_PATH: path.join(folder, 'nothing'), DISPLAY: ':99' });
  await run.hears(/The window runtime \(Electron\) is not here/);
  await run.hears(/http:\/\/127\.0\.0\.1:\d+\/#key=/);
  run.stop();
  expect(await run.ended).toBe(0);
});

test('a wrong option is one plain sentence and leaves no book', async () => {
  const run = start(['--port', '80']);
  expect(await run.ended).toBe(2);
  expect(run.said()).toBe(
    'The port "80" is not a whole number from 1024 to 65535. Leave --port out, or give a number from 1024 to 65535.\n',
  );
  expect(existsSync(path.join(folder, '.local'))).toBe(false);
});
