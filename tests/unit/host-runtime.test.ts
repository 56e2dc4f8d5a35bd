import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import {
  fetchRuntime,
  findRuntime,
  hasDisplay,
  meaningOfEnd,
  runToEnd,
} from '../../src-main/electron-runtime.ts';
import { chooseOpener } from '../../src-main/open-browser.ts';

let folder: string;
let packageFolder: string;
let notes: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'runtime-'));
  packageFolder = path.join(folder, 'package');
  notes = path.join(folder, 'notes');
  mkdirSync(packageFolder);
  writeFileSync(path.join(packageFolder, 'package.json'), '{"version":"1.0.0"}');
});
afterEach(() => rmSync(folder, { recursive: true }));

function putRuntime(where: string): string {
  mkdirSync(where, { recursive: true });
  const runtime = path.join(where, 'electron');
  writeFileSync(runtime, '');
  return runtime;
}

/** An installer that notes each time it was run, then does what `script` says. */
function putInstaller(script: string): () => number {
  const tally = path.join(folder, 'tally');
  writeFileSync(path.join(packageFolder, 'package.json'), '{"version":"1.0.0","type":"commonjs"}');
  writeFileSync(
    path.join(packageFolder, 'install.js'),
    `const fs = require('node:fs'); const path = require('node:path');\n` +
      `fs.appendFileSync(${JSON.stringify(tally)}, 'x');\n${script}`,
  );
  return () => (existsSync(tally) ? readFileSync(tally, 'utf8').length : 0);
}

describe('finding the window runtime', () => {
  test('needs both the note of a finished download and the file it names', () => {
    expect(findRuntime(packageFolder)).toBeUndefined();
    writeFileSync(path.join(packageFolder, 'path.txt'), 'electron');
    expect(findRuntime(packageFolder)).toBeUndefined();
    const runtime = putRuntime(path.join(packageFolder, 'dist'));
    expect(findRuntime(packageFolder)).toBe(runtime);
    rmSync(path.join(packageFolder, 'path.txt'));
    expect(findRuntime(packageFolder)).toBeUndefined();
  });

  test('a runtime kept elsewhere is used instead of the one in the package', () => {
    writeFileSync(path.join(packageFolder, 'path.txt'), 'electron');
    putRuntime(path.join(packageFolder, 'dist'));
    const elsewhere = path.join(folder, 'elsewhere');
    expect(findRuntime(packageFolder, elsewhere)).toBeUndefined();
    const runtime = putRuntime(elsewhere);
    expect(findRuntime(packageFolder, elsewhere)).toBe(runtime);
  });
});

describe('fetching the window runtime', () => {
  const said: string[] = [];
  const fetchAt = (nowMs: number, more: { mayFetch?: boolean; limitMs?: number } = {}) =>
    fetchRuntime({
      packageFolder,
      notes,
      nowMs,
      mayFetch: true,
      say: (line) => said.push(line),
      ...more,
    });
  const dayMs = 24 * 60 * 60 * 1000;
  const startMs = Date.parse('2031-03-01T08:00:00Z');

  test('runs the installer once and says so', async () => {
    const runs = putInstaller(
      `fs.mkdirSync(path.join(__dirname, 'dist')); fs.writeFileSync(path.join(__dirname, 'dist', 'electron'), '');\n` +
        `fs.writeFileSync(path.join(__dirname, 'path.txt'), 'electron');`,
    );
    said.length = 0;
    expect(await fetchAt(startMs)).toEqual({
      kind: 'there',
      runtime: path.join(packageFolder, 'dist', 'electron'),
    });
    expect((await fetchAt(startMs)).kind).toBe('there');
    expect(runs()).toBe(1);
    expect(said).toEqual([expect.stringContaining('fetches its window runtime')]);
  });

  test('remembers a failure for a day, and not longer', async () => {
    const runs = putInstaller('process.exit(1);');
    expect((await fetchAt(startMs)).kind).toBe('failed');
    expect((await fetchAt(startMs + dayMs - 1)).kind).toBe('failed-before');
    expect(runs()).toBe(1);
    expect((await fetchAt(startMs + dayMs)).kind).toBe('failed');
    expect(runs()).toBe(2);
  });

  test('a failure of another version, from the future or in a spoilt note does not count', async () => {
    const runs = putInstaller('process.exit(1);');
    await fetchAt(startMs);
    expect((await fetchAt(startMs - 1)).kind).toBe('failed');
    writeFileSync(path.join(notes, 'window-runtime.json'), '{');
    expect((await fetchAt(startMs)).kind).toBe('failed');
    writeFileSync(path.join(packageFolder, 'package.json'), '{"version":"1.0.1"}');
    expect((await fetchAt(startMs)).kind).toBe('failed');
    expect(runs()).toBe(4);
  });

  test('an installer that hangs is ended at the limit', async () => {
    putInstaller('setInterval(() => {}, 1000);');
    expect((await fetchAt(startMs, { limitMs: 300 })).kind).toBe('failed');
  });

  test('an installer that ends well but brings nothing has failed', async () => {
    putInstaller('');
    expect((await fetchAt(startMs)).kind).toBe('failed');
  });

  test('never runs when it may not', async () => {
    const runs = putInstaller('');
    expect((await fetchAt(startMs, { mayFetch: false })).kind).toBe('not-allowed');
    expect(runs()).toBe(0);
    expect(existsSync(notes)).toBe(false);
  });
});

describe('whether a window can be shown', () => {
  test('Linux needs a display, the others have one', () => {
    expect(hasDisplay('linux', {})).toBe(false);
    expect(hasDisplay('linux', { DISPLAY: '' })).toBe(false);
    expect(hasDisplay('linux', { DISPLAY: ':0' })).toBe(true);
    expect(hasDisplay('linux', { WAYLAND_DISPLAY: 'wayland-0' })).toBe(true);
    expect(hasDisplay('darwin', {})).toBe(true);
    expect(hasDisplay('win32', {})).toBe(true);
  });

  test('an early end with an error means that a browser has to do', () => {
    expect(meaningOfEnd({ code: 1, ranMs: 4_999 })).toBe('cannot-run');
    expect(meaningOfEnd({ code: undefined, ranMs: 10 })).toBe('cannot-run');
    expect(meaningOfEnd({ code: 1, ranMs: 5_000 })).toBe('broke');
    expect(meaningOfEnd({ code: 0, ranMs: 10 })).toBe('closed');
    expect(meaningOfEnd({ code: 3, ranMs: 10 })).toBe('refused');
  });

  test('a program that is not there ends without a code and does not throw', async () => {
    const ended = await runToEnd(path.join(folder, 'nothing'), []);
    expect(ended.code).toBeUndefined();
  });

  test('a program is ended when asked', async () => {
    const stop = new AbortController();
    const ending = runToEnd(process.execPath, ['-e', 'setInterval(() => {}, 1000)'], { signal: stop.signal });
    stop.abort();
    expect((await ending).code).toBeUndefined();
  });
});

describe('showing an address', () => {
  const address = 'http://127.0.0.1:4000/#key=abc';
  const linux = { platform: 'linux' as const, env: { PATH: '/usr/bin:bin:/opt/bin' }, home: '/home/ewe' };

  test('an installed browser shows it in a window of its own', () => {
    expect(chooseOpener(address, linux, (file) => file === '/opt/bin/chromium')).toEqual({
      program: '/opt/bin/chromium',
      words: [`--app=${address}`],
      ownWindow: true,
    });
  });

  test('a program in a folder that depends on where one stands is never started', () => {
    expect(chooseOpener(address, linux, (file) => !file.startsWith('/'))).toBeUndefined();
  });

  test('otherwise the platform opens it, or nothing does', () => {
    expect(chooseOpener(address, linux, (file) => file === '/usr/bin/xdg-open')).toEqual({
      program: '/usr/bin/xdg-open',
      words: [address],
      ownWindow: false,
    });
    expect(chooseOpener(address, linux, () => false)).toBeUndefined();
    const mac = { platform: 'darwin' as const, env: {}, home: '/Users/ewe' };
    expect(chooseOpener(address, mac, () => false)?.program).toBe('/usr/bin/open');
    const windows = { platform: 'win32' as const, env: { ProgramFiles: 'C:\\P' }, home: 'C:\\' };
    expect(chooseOpener(address, windows, () => false)?.words).toContain(address);
    expect(chooseOpener(address, windows, () => true)?.program).toBe(
      'C:\\P\\Microsoft\\Edge\\Application\\msedge.exe',
    );
  });
});
