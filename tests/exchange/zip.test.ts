import { expect, test } from 'vitest';
import { cleanName, isCleanPath, readZip, zipWriter } from '../../src-main/exchange/zip.ts';

function zipOf(files: Record<string, string>): Buffer {
  const parts: Uint8Array[] = [];
  const zip = zipWriter((bytes) => void parts.push(bytes));
  for (const [name, text] of Object.entries(files)) zip.add(name, Buffer.from(text));
  zip.end();
  return Buffer.concat(parts);
}

const FILES = { 'CHECK.txt': 'a page', 'journal/journal.jsonl': '{"seq":1}\n'.repeat(500), 'empty.txt': '' };

test('what is written is read back, the same files give the same bytes', () => {
  const bytes = zipOf(FILES);
  expect(zipOf(FILES).equals(bytes)).toBe(true);
  const { files, isWhole } = readZip(bytes);
  expect(isWhole).toBe(true);
  expect(
    Object.fromEntries(files.map(({ name, bytes: own }) => [name, Buffer.from(own ?? []).toString()])),
  ).toEqual(FILES);
});

test('every byte that is changed is noticed', () => {
  const bytes = zipOf(FILES);
  for (let at = 0; at < bytes.length; at += 1) {
    const other = Buffer.from(bytes);
    other[at] = (other[at] ?? 0) ^ 0x10;
    let seen = false;
    try {
      const { files, isWhole } = readZip(other);
      seen = !isWhole || files.some((file) => file.bytes === undefined);
    } catch (thrown) {
      expect(thrown).toMatchObject({ code: 'not-a-pack' });
      seen = true;
    }
    expect(seen, `byte ${at}`).toBe(true);
  }
});

test('names that lead out of the folder, or that a system keeps for itself, are neither written nor read', () => {
  for (const name of [
    '../up',
    '/root',
    'C:/x',
    'a//b',
    'a/../b',
    'nul.txt',
    'a\\b',
    'a/.hidden',
    'x.',
    'é',
    '',
  ]) {
    expect(isCleanPath(name), name).toBe(false);
    expect(() => zipOf({ [name]: 'x' })).toThrow();
  }
  expect(() => zipOf({ 'a.txt': '1', 'A.TXT': '2' })).toThrow();
  const bytes = zipOf({ 'aaaaa.txt': 'x' });
  const text = bytes.toString('latin1').replaceAll('aaaaa.txt', '../aa.txt');
  expect(() => readZip(Buffer.from(text, 'latin1'))).toThrowError(/not a pack/);
});

test.each([
  ['Thistle Bank', 'Thistle-Bank'],
  ['../../etc', 'etc'],
  ['=cmd|calc', 'cmd-calc'],
  ['Ffynnon Ddŵr', 'Ffynnon-Ddwr'],
  ['con', 'x-con'],
  ['...', 'x'],
  ['羊', 'x'],
])('%s becomes %s', (text, name) => {
  expect(cleanName(text, 'x')).toBe(name);
  expect(isCleanPath(cleanName(text, 'x'))).toBe(true);
});
