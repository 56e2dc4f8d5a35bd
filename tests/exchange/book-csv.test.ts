import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  BOOK_CSV_HEADER,
  lookAtBookCsv,
  readBookCsv,
  writeBookCsv,
} from '../../src-main/exchange/book-csv.ts';
import { bookLine, COLUMN_NAMES, COLUMNS } from '../../src-shared/record/columns.ts';
import { seeded } from '../property/seed.ts';

const bytes = (text: string) => Buffer.from(text, 'utf8');
const LINES = [
  bookLine({ act: 'received', medicine: '=1+1', batch: '+B', supplier: '-Stores', proof: '@SUM(A1)' }),
  bookLine({ act: 'given', animal: "'quoted", reason: 'two\nlines, "and" more', quantity: '1.24 mL' }),
  bookLine({ act: 'disposed', medicine: 'Ombrium', where: '\tTab' }),
];

test('every column is explained, and no spreadsheet runs a cell', () => {
  expect(BOOK_CSV_HEADER).toEqual([...Object.keys(COLUMNS), 'check']);
  expect(Object.values(COLUMNS).every((says) => says.length > 3)).toBe(true);
  const text = writeBookCsv(LINES);
  for (const sign of ['=1+1', '+B', '-Stores', '@SUM(A1)']) {
    expect(text).toContain(`'${sign}`);
    expect(text).not.toMatch(new RegExp(`[,"\\n]${sign.replace(/[+()]/g, '\\$&')}`));
  }
});

test('any lines read back as they were', () => {
  const cell = fc.oneof(
    fc.string({ unit: 'grapheme' }),
    fc.constantFrom('=x', '+1', '-', '@', "'=", '"', ',', '\r\n', ' '),
  );
  const line = fc
    .array(cell, { minLength: COLUMN_NAMES.length, maxLength: COLUMN_NAMES.length })
    .map((cells) => bookLine(Object.fromEntries(COLUMN_NAMES.map((name, i) => [name, cells[i] ?? '']))));
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 4 }), (lines) => {
      expect(readBookCsv(bytes(writeBookCsv(lines)))).toEqual(lines);
    }),
    seeded('book csv', 200),
  );
});

test('a row changed by hand is refused with its number, and so is one that was taken out', () => {
  const text = writeBookCsv(LINES);
  const changed = text.replace('1.24 mL', '1.42 mL');
  expect(() => readBookCsv(bytes(changed))).toThrowError(/^Row 2 \(line 3 /);
  const rows = text.split('\r\n');
  const without = [rows[0], ...rows.slice(2)].join('\r\n');
  expect(() => readBookCsv(bytes(without))).toThrowError(/^Row 1 \(line 2 /);
  // One bad row does not make the others bad.
  expect(lookAtBookCsv(bytes(changed)).wrong.map(({ row }) => row)).toEqual([2]);
  expect(() => readBookCsv(bytes('a,b\r\n1,2\r\n'))).toThrowError(/columns of the medicine book/);
});
