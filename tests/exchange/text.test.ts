import { expect, test } from 'vitest';
import { decodeText, MOST_FILE_BYTES } from '../../src-main/exchange/text.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { bytesOf } from './fixture.ts';

const ascii = (text: string): Uint8Array => new TextEncoder().encode(text);

function refusalOf(bytes: Uint8Array): Refusal {
  try {
    decodeText(bytes);
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown;
    throw thrown;
  }
  throw new Error('It was not refused.');
}

const plain = decodeText(bytesOf('flock-utf8.csv'));

test('an accented group name is not turned into two letters (UTF-8 without a mark)', () => {
  expect(plain.encoding).toBe('utf-8');
  expect(plain.notes).toEqual([]);
  expect(plain.text).toContain('Clos Élanne');
  expect(plain.text).toContain('née à l’Étang – “calm”');
  expect(plain.text).toContain('Ødegård');
});

test.each([
  ['flock-utf8-bom.csv', 'utf-8', []],
  ['flock-utf16le.csv', 'utf-16le', []],
  ['flock-utf16be.csv', 'utf-16be', []],
  ['flock-utf16le-unmarked.csv', 'utf-16le', ['utf-16-unmarked']],
  ['flock-utf16be-unmarked.csv', 'utf-16be', ['utf-16-unmarked']],
  ['flock-windows-1252.csv', 'windows-1252', ['windows-1252']],
])('the same flock has the same letters whichever program saved it: %s', (name, encoding, notes) => {
  const decoded = decodeText(bytesOf(name));
  expect(decoded.text).toBe(plain.text);
  expect(decoded.encoding).toBe(encoding);
  expect(decoded.notes.map((note) => note.code)).toEqual(notes);
});

test('bytes from 0x80 to 0x9F are letters and marks of Windows-1252, not lost as control characters', () => {
  const bytes = Uint8Array.from([
    ...ascii('Group\n'),
    0x80,
    0x8a,
    0x8c,
    0x8e,
    0x92,
    0x96,
    0x9a,
    0x9c,
    0x9e,
    0x9f,
  ]);
  expect(decodeText(bytes).text).toBe('Group\n€ŠŒŽ’–šœžŸ');
});

test('two files glued together in two encodings are remarked on, not passed as right', () => {
  const bytes = Uint8Array.from([...ascii('Group\nÉlanne\n'), 0xc9, ...ascii('lanne\n')]);
  expect(decodeText(bytes).notes.map((note) => note.code)).toEqual(['windows-1252', 'mixed-encoding']);
});

test('a file whose letters were lost before it came is remarked on', () => {
  expect(decodeText(ascii('Group\nCot\ufffd\n')).notes.map((note) => note.code)).toEqual(['letters-lost']);
});

test('the end-of-file mark of an old crate does not become an animal', () => {
  expect(decodeText(ascii('EID,Weight\n\u001a')).text).toBe('EID,Weight\n');
});

test.each<[string, number[], string, RegExp]>([
  [
    'an old workbook',
    [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1],
    'file-is-workbook',
    /save it as CSV first/,
  ],
  [
    'a new workbook',
    [0x50, 0x4b, 3, 4, ...ascii('\0\0[Content_Types].xml xl/workbook.xml')],
    'file-is-workbook',
    /This is a spreadsheet workbook; save it as CSV first\./,
  ],
  ['a zip archive', [0x50, 0x4b, 3, 4, ...ascii('\0\0flock.csv')], 'file-is-archive', /unpack it/],
  ['a PDF', [...ascii('%PDF-1.7\n')], 'file-is-pdf', /CSV/],
  ['a PNG picture', [0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10], 'file-is-picture', /picture/],
  ['a JPEG picture', [0xff, 0xd8, 0xff, 0xe0, 0, 16], 'file-is-picture', /picture/],
  ['a database', [...ascii('SQLite format 3\0')], 'file-is-database', /book/],
  [
    'a web page named .xls',
    [...ascii('<html><table><tr><td>tag</td></tr></table></html>')],
    'file-is-markup',
    /CSV/,
  ],
  ['a program', [0x7f, 0x45, 0x4c, 0x46, 1, 2, 0, 3, 0, 0, 0, 9, 200, 201], 'file-not-text', /CSV/],
  ['UTF-32', [0xff, 0xfe, 0, 0, 0x41, 0, 0, 0], 'file-encoding', /CSV UTF-8/],
  ['UTF-16 cut in half', [0xff, 0xfe, 0x41, 0x00, 0x42], 'file-cut-short', /again/],
  ['half a pair of UTF-16', [0xff, 0xfe, 0x00, 0xd8, 0x42, 0x00], 'file-not-text', /CSV/],
  ['a marked UTF-8 file with broken letters', [0xef, 0xbb, 0xbf, 0x41, 0xe9, 0x42], 'file-encoding', /UTF-8/],
  ['an empty file', [], 'file-empty', /empty/],
  ['a file of blanks', [...ascii(' \r\n \r\n')], 'file-empty', /no text/],
])('%s is refused in one sentence instead of imported as rubbish', (_, bytes, code, says) => {
  const refusal = refusalOf(Uint8Array.from(bytes));
  expect(refusal.code).toBe(code);
  expect(refusal.field).toBe('file');
  expect(refusal.message).toMatch(says);
  expect(refusal.message).not.toContain('\n');
});

test('a file that would fill the memory is refused before it is read', () => {
  expect(refusalOf(new Uint8Array(MOST_FILE_BYTES + 1)).code).toBe('file-too-large');
});
