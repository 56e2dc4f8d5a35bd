import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { ROOT, sources } from './sources.ts';

const code = sources(['src-shared', 'src-main', 'src-renderer', 'demo', 'tests']);
const product = code.filter((source) => source.file.startsWith('src-') || source.file.startsWith('demo/'));

function found(where: readonly { file: string; lines: string[] }[], what: RegExp): string[] {
  return where.flatMap((source) =>
    source.lines.flatMap((line, i) => (what.test(line) ? [`${source.file}:${i + 1}: ${line.trim()}`] : [])),
  );
}

test('no file is longer than 400 lines', () => {
  const long = code
    .filter((source) => source.lines.length > 401)
    .map((source) => `${source.file} (${source.lines.length})`);
  expect(long).toEqual([]);
});

test('types are not loosened in the product', () => {
  expect(
    found(product, /:\s*any\b|\bas any\b|<any>|@ts-(ignore|nocheck|expect-error)|as unknown as/),
  ).toEqual([]);
});

test('no floating point where doses, stock, withdrawal and quantities are worked out', () => {
  const exact = product.filter((source) =>
    /^src-shared\/(dose|stock|withdrawal|quantity)\//.test(source.file),
  );
  expect(exact.length).toBeGreaterThan(10);
  expect(found(exact, /parseFloat|toFixed\(|Math\.(round|floor|ceil)\(/)).toEqual([]);
});

test('no test is skipped, focused or sleeping', () => {
  const tests = code.filter(
    (source) => source.file.startsWith('tests/') && !source.file.startsWith('tests/tidy/'),
  );
  expect(
    found(
      tests.filter((source) => !source.file.startsWith('tests/e2e/electron')),
      /\b(it|test|describe)\.(only|skip|todo|fixme)\b|waitForTimeout|expect\(true\)/,
    ),
  ).toEqual([]);
});

test('nothing in the product is left for later in silence', () => {
  expect(found(product, /\b(todo|fixme|not implemented|coming soon|lorem)\b/i)).toEqual([]);
});

test('packages are pinned to exact versions', () => {
  const manifest = JSON.parse(readFileSync(path.join(ROOT, 'package.json'), 'utf8')) as Record<
    string,
    Record<string, string>
  >;
  const loose = ['dependencies', 'devDependencies', 'optionalDependencies'].flatMap((part) =>
    Object.entries(manifest[part] ?? {}).filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version)),
  );
  expect(loose).toEqual([]);
});
