import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { FIRST_LOAD_MOST_BYTES, firstLoad } from './first-load.ts';
import { prepareScreens } from './setup.ts';

test('what comes before the first screen is under 200 kB compressed', async () => {
  const { files, gzipBytes } = firstLoad(await prepareScreens());
  const names = files.map((file) => file.name);
  expect(names[0]).toBe('index.html');
  // A page whose script, library or styles were not found would look small.
  expect(names.filter((name) => /react-dom.*\.js$/.test(name))).toHaveLength(1);
  expect(names.filter((name) => name.endsWith('.css')).length).toBeGreaterThan(0);
  expect(gzipBytes).toBeGreaterThan(60_000);
  expect(gzipBytes).toBeLessThan(FIRST_LOAD_MOST_BYTES);
}, 120_000);

test('static imports are followed, imports on demand are not', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-first-load-'));
  const put = (name: string, text: string) => writeFileSync(path.join(folder, name), text);
  put('index.html', '<link rel="icon" href="data:,"><script type="module" src="./a.js"></script>');
  put('a.js', 'import{x as y}from"./b.js";import"./c.js";const later=()=>import("./d.js");');
  put('b.js', "export*from'./e.js';export const x=1,from=2;");
  for (const name of ['c.js', 'd.js', 'e.js']) put(name, '');
  try {
    expect(firstLoad(folder).files.map((file) => file.name)).toEqual([
      'index.html',
      'a.js',
      'b.js',
      'c.js',
      'e.js',
    ]);
  } finally {
    rmSync(folder, { recursive: true });
  }
});
