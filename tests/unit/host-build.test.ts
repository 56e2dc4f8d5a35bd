import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { ensureBuilt, hashOfSources, isBuilt } from '../../src-main/build.ts';

let folder: string;
const put = (name: string, text: string): void => {
  mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
  writeFileSync(path.join(folder, name), text);
};
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'build-'));
  put('src-renderer/main.tsx', 'one');
  put('src-shared/dose/dose.ts', 'two');
  put('src-main/host-electron/main.ts', 'three');
  put('package.json', '{}');
});
afterEach(() => rmSync(folder, { recursive: true }));

test('a change, a new name or a moved line between files changes the hash', () => {
  const seen = new Set([hashOfSources(folder, 'renderer')]);
  const changes: (() => void)[] = [
    () => put('src-renderer/main.tsx', 'one!'),
    () => put('src-renderer/main.tsx', 'one'),
    () => put('src-shared/dose/dose.ts', 'changed'),
    () => put('src-renderer/screens/new.tsx', ''),
    () => put('package.json', '{"version":"2"}'),
    () => put('electron.vite.config.ts', ''),
  ];
  const hashes = changes.map((change) => {
    change();
    return hashOfSources(folder, 'renderer');
  });
  expect(seen.has(hashes[1] ?? '')).toBe(true);
  expect(new Set(hashes).size).toBe(hashes.length);
});

test('a part does not depend on the sources of another', () => {
  const before = hashOfSources(folder, 'renderer');
  put('src-main/store/store.ts', 'four');
  expect(hashOfSources(folder, 'renderer')).toBe(before);
});

test('what is stamped with these sources is not built again, and what is stamped with others is not used', async () => {
  const say = (line: string): never => expect.fail(`it built: ${line}`);
  put('out/renderer/index.html', '');
  expect(isBuilt(folder, 'renderer')).toBe(false);
  put('out/renderer.stamp', hashOfSources(folder, 'renderer'));
  expect(await ensureBuilt(['renderer'], say, folder)).toBe(true);
  put('src-renderer/main.tsx', 'changed');
  expect(isBuilt(folder, 'renderer')).toBe(false);
  put('src-renderer/main.tsx', 'one');
  rmSync(path.join(folder, 'out/renderer/index.html'));
  expect(isBuilt(folder, 'renderer')).toBe(false);
});

test('a build that fails says so, leaves no stamp and gives the turn back', async () => {
  const said: string[] = [];
  // No build configuration lies in this folder.
  for (const _again of [1, 2]) {
    expect(await ensureBuilt(['renderer'], (line) => said.push(line), folder)).toBe(false);
  }
  expect(said).toHaveLength(2);
  expect(isBuilt(folder, 'renderer')).toBe(false);
});

test('the turn of a builder that is gone is taken over', async () => {
  // The highest number a process can have on Linux is lower than this one.
  put('out/building', '2147483646');
  expect(await ensureBuilt(['renderer'], () => {}, folder)).toBe(false);
});
