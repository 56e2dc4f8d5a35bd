import { existsSync, globSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** Every module that a text imports when it runs: static, re-exported, dynamic or required; types left out. */
function importsOf(text: string): string[] {
  const code = text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  const named = [
    ...code.matchAll(
      /(?:^|[;}\s])(?:import|export)(?!\s*type[\s{*])\s*(?:[\w*${}\s,]+?\s*from\s*)?["']([^"']+)["']/g,
    ),
    ...code.matchAll(/(?<!typeof\s)\b(?:import|require)\s*\(\s*["'`]([^"'`]+)["'`]\s*\)/g),
  ];
  return named.flatMap((found) => (found[1] === undefined ? [] : [found[1]]));
}

const isElectron = (name: string): boolean => name === 'electron' || name.startsWith('electron/');

/** The files that reach electron, by themselves or through others, each with the way it takes. */
function reaching(files: ReadonlyMap<string, string>): Map<string, string> {
  const reached = new Map<string, string>();
  const edges = new Map([...files].map(([file, text]) => [file, importsOf(text)]));
  for (const [file, names] of edges) {
    const name = names.find(isElectron);
    if (name !== undefined) reached.set(file, name);
  }
  for (let grown = true; grown; ) {
    grown = false;
    for (const [file, names] of edges) {
      if (reached.has(file)) continue;
      const by = names.find(
        (name) => name.startsWith('.') && reached.has(path.posix.join(path.posix.dirname(file), name)),
      );
      if (by === undefined) continue;
      reached.set(file, by);
      grown = true;
    }
  }
  return reached;
}

function read(patterns: string[]): Map<string, string> {
  return new Map(
    globSync(patterns, { cwd: root }).map((file) => [
      file.split(path.sep).join('/'),
      readFileSync(path.join(root, file), 'utf8'),
    ]),
  );
}

test('the walker sees every way to import, and none that only names a type', () => {
  const found = importsOf(
    `import { app } from 'a';\nimport 'b';\nexport { x } from "c";export * from 'd';\n` +
      `const e = await import('e');const f = require("f");import G, {\n  h,\n} from 'g';\nimport * as i from'i';\n` +
      `import type { T } from 'no';\nexport type { U } from 'no';\nimport type * as V from 'no';\n` +
      `type W = typeof import('no');\n// import 'no'\n/* import 'no' */\n`,
  );
  expect(found.sort()).toEqual(['a', 'b', 'c', 'd', 'e', 'f', 'g', 'i']);
  expect(importsOf('import{app as e}from"electron";import"x";')).toEqual(['electron', 'x']);
});

test('the walker follows imports from file to file', () => {
  const files = new Map([
    ['src/a.ts', "import './b/c.ts';"],
    ['src/b/c.ts', "export * from '../d.ts';"],
    ['src/d.ts', "const e = require('electron/main');"],
    ['src/e.ts', "import type { App } from 'electron';"],
  ]);
  expect([...reaching(files).keys()].sort()).toEqual(['src/a.ts', 'src/b/c.ts', 'src/d.ts']);
});

test('in the sources only the main file and the preload of the window host reach electron', () => {
  const files = read([
    'src-main/**/*.ts',
    'src-renderer/**/*.{ts,tsx}',
    'src-shared/**/*.ts',
    'demo/**/*.ts',
    'tests/**/*.{ts,tsx}',
  ]);
  // This file holds examples of imports as text.
  files.delete('tests/security/electron-reach.test.ts');
  expect(files.size).toBeGreaterThan(50);
  expect(files.has('src-main/start.ts')).toBe(true);
  expect([...reaching(files).keys()].sort()).toEqual([
    'src-main/host-electron/main.ts',
    'src-main/host-electron/preload.ts',
  ]);
});

test('in what was built only the window host and its preload reach electron', () => {
  const files = read(['out/main/**/*.js', 'out/preload/**/*.cjs', 'out/renderer/**/*.js']);
  const allowed = ['out/main/electron.js', 'out/preload/preload.cjs'].filter((file) =>
    existsSync(path.join(root, file)),
  );
  expect([...reaching(files).keys()].sort()).toEqual(allowed.sort());
});
