import { expect, test } from 'vitest';
import { type Import, importsOf, sources } from './sources.ts';

const all = sources(['src-shared', 'src-main', 'src-renderer', 'demo'], /\.tsx?$/);
const imports = all.flatMap(importsOf);
const local = (to: string) => /^(src-|demo\/|tests\/)/.test(to);
const said = (found: readonly Import[]) => found.map(({ from, to }) => `${from} → ${to}`);

test('the arrows run one way: screens and desk know the shared arithmetic, and it knows neither', () => {
  const wrong = imports.filter(
    ({ from, to }) =>
      local(to) &&
      ((from.startsWith('src-shared/') && !to.startsWith('src-shared/')) ||
        (from.startsWith('src-renderer/') && !/^src-(renderer|shared)\//.test(to)) ||
        (from.startsWith('src-main/') && !/^src-(main|shared)\//.test(to))),
  );
  expect(said(wrong)).toEqual([]);
});

/** Who in src-main may know whom: hosts the answers; answers the store, the papers and the exchange; never back. */
const NEVER: readonly (readonly [string, RegExp])[] = [
  ['src-main/store/', /^src-main\/(answers|paper|exchange|host-|work)/],
  ['src-main/exchange/', /^src-main\/(answers|paper|store|host-|work)/],
  ['src-main/paper/', /^src-main\/(answers|exchange|host-)/],
  ['src-main/answers/', /^src-main\/host-/],
];

test('inside the desk, hosts know answers, answers know store, paper and exchange, and never the other way', () => {
  const wrong = imports.filter(({ from, to }) =>
    NEVER.some(([folder, banned]) => from.startsWith(folder) && banned.test(to)),
  );
  expect(said(wrong)).toEqual([]);
});

test('the shared arithmetic is pure: no Node, no DOM, no screen, no clock, no chance', () => {
  const packages = new Set(['zod', 'temporal-polyfill']);
  const wrong = imports.filter(
    ({ from, to }) => from.startsWith('src-shared/') && !local(to) && !packages.has(to),
  );
  expect(said(wrong)).toEqual([]);
  const impure =
    /\b(Date\.now|new Date\(\)|Math\.random|crypto\.|performance\.|process\.|document\.|window\.|Temporal\.Now)/;
  const lines = all
    .filter((source) => source.file.startsWith('src-shared/'))
    .flatMap((source) =>
      source.lines.filter((line) => impure.test(line)).map((line) => `${source.file}: ${line.trim()}`),
    );
  expect(lines).toEqual([]);
});

test('only the Electron host knows electron', () => {
  const wrong = imports.filter(
    ({ from, to }) => /^electron(\/|$)/.test(to) && !from.startsWith('src-main/host-electron/'),
  );
  expect(said(wrong)).toEqual([]);
});

test('no file imports itself by way of others', () => {
  const next = new Map<string, string[]>();
  for (const { from, to, typeOnly } of imports) {
    if (!typeOnly && local(to)) next.set(from, [...(next.get(from) ?? []), to]);
  }
  const done = new Set<string>();
  const circles: string[] = [];
  const walk = (file: string, trail: readonly string[]): void => {
    const at = trail.indexOf(file);
    if (at >= 0) {
      circles.push([...trail.slice(at), file].join(' → '));
      return;
    }
    if (done.has(file)) return;
    for (const to of next.get(file) ?? []) walk(to, [...trail, file]);
    done.add(file);
  };
  for (const file of next.keys()) walk(file, []);
  expect(circles).toEqual([]);
});
