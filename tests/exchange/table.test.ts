import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readTable } from '../../src-main/exchange/table.ts';
import { decodeText } from '../../src-main/exchange/text.ts';
import { writeCsv } from '../../src-main/exchange/write.ts';
import { makeHarmless, readHarmless } from '../../src-shared/harmless.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { tableOf } from './fixture.ts';

const SEED = Number(process.env.FOLDBOOK_SEED ?? Date.now() % 2_147_483_647);
console.log(`exchange tables: seed ${SEED}`);

const cellsOf = (text: string, options?: Parameters<typeof readTable>[1]): string[][] =>
  readTable(text, options).rows.map((row) => row.cells);

test.each([
  ['flock-utf8.csv', ',', '.', 2],
  ['flock-semicolon.csv', ';', ',', 2],
  ['flock-sep-line.csv', ';', ',', 3],
  ['flock-tab.csv', '\t', '.', 2],
  ['flock-bar-old-mac.csv', '|', '.', 2],
])('a list is not read as one long column because of its separator: %s', (name, delimiter, decimal, line) => {
  const table = tableOf(name);
  expect(table.delimiter).toBe(delimiter);
  expect(table.decimal).toBe(decimal);
  expect(table.header[7]).toBe('Weight (kg)');
  expect(table.rows.map((row) => row.cells.length)).toEqual([10, 10, 10, 10, 10, 10]);
  expect(table.rows[0]?.line).toBe(line);
  expect(table.rows[5]?.cells[9]).toBe('line one\nline two');
});

test('a decimal comma on every line does not become a column', () => {
  const table = readTable('tag;weight\nA 1;62,5\nA 2;71,0\nA 3;58,5\n');
  expect([table.delimiter, table.decimal]).toEqual([';', ',']);
  expect(table.rows[1]?.cells).toEqual(['A 2', '71,0']);
});

test('a semicolon in every remark does not cut a comma list', () => {
  expect(readTable('tag,note\nA 1,lame; left\nA 2,old; thin\n').delimiter).toBe(',');
});

test('one column of weights with decimal commas stays one column', () => {
  expect(cellsOf('weight\n62,5\n71,0\n')).toEqual([['62,5'], ['71,0']]);
});

test('a number is found again in the file: lines are counted through quoted line breaks and empty lines', () => {
  const table = readTable('tag,note\r\n\r\nA 1,"one\r\ntwo\r\nthree"\r\nA 2,x\r\n\r\nA 3,"p\nq"\nA 4,\r\n');
  expect(table.rows.map((row) => row.line)).toEqual([3, 6, 8, 10]);
});

test('a short or long row is never shifted into the wrong columns: it is named and keeps its cells', () => {
  const table = tableOf('flock-ragged.csv');
  expect(table.rows.map((row) => [row.line, row.fault?.code])).toEqual([
    [2, undefined],
    [3, 'ragged'],
    [5, 'ragged'],
    [6, undefined],
    [7, undefined],
    [8, 'lines-run-together'],
    [9, 'lines-run-together'],
    [10, 'lines-run-together'],
    [11, undefined],
  ]);
  expect(table.rows[1]?.fault?.message).toBe(
    'Line 3 has 3 cells where 4 are expected, so it is not known which cell is which.',
  );
  expect(table.rows[3]?.cells).toEqual(['UK 0 123456 00004', 'ewe', 'Upper', 'ok']);
  // The two animals that the open quotation mark swallowed are rows again, so that they are counted.
  expect(table.rows[6]?.cells).toEqual(['UK 0 123456 00006,ewe,Upper,ok']);
});

test('a quotation mark that is never closed does not silently eat the rest of the flock', () => {
  const read = (): unknown => readTable('tag,note\nA 1,ok\nA 2,"open\nA 3,ok\nA 4,ok\n');
  expect(read).toThrow(Refusal);
  expect(read).toThrow(/on line 3/);
});

test('a quotation mark inside a word loses nothing', () => {
  expect(cellsOf('tag,note\nA 1,scar 5" long\nA 2,"said ""mind"""\n')).toEqual([
    ['A 1', 'scar 5" long'],
    ['A 2', 'said "mind"'],
  ]);
});

test('the first animal is not lost as a header when the file has none', () => {
  const table = tableOf('flock-no-header.csv');
  expect(table.headerInFile).toBe(false);
  expect(table.rows).toHaveLength(6);
  expect(table.rows[0]?.line).toBe(1);
  expect(table.header[0]).toBe('Column 1');
  expect(table.notes.map((note) => note.code)).toEqual(['header-missing']);
});

test('a title above the list is remarked on and is no animal', () => {
  const table = readTable('Flock list\n\nTag,Class\nA 1,ewe\nA 2,ram\n');
  expect(table.header).toEqual(['Tag', 'Class']);
  expect(table.rows.map((row) => row.line)).toEqual([4, 5]);
  expect(table.notes[0]?.text).toContain('Line 1 is a title');
});

test('mixed decimal marks are remarked on', () => {
  expect(readTable('t;w\nA;62,5\nB;61.5\n').notes.map((note) => note.code)).toEqual(['decimals-mixed']);
});

test('too many columns are refused', () => {
  expect(() => readTable(`${'a,'.repeat(300)}b\n`)).toThrow(/at most 200/);
});

test('20,000 rows do not freeze the screen', () => {
  const rows = Array.from({ length: 20_000 }, (_, i) => [
    `UK 0 123456 ${String(i + 1).padStart(5, '0')}`,
    'ewe',
    '2024-03-04',
    'Upper, "back" field',
    '62.5',
  ]);
  const text = writeCsv(['Tag', 'Class', 'Born', 'Group', 'Weight kg'], rows);
  const started = performance.now();
  const table = readTable(text);
  const took = performance.now() - started;
  console.log(`readTable: 20,000 rows in ${Math.round(took)} ms`);
  expect(table.rows).toHaveLength(20_000);
  expect(table.rows[19_999]).toEqual({ line: 20_001, cells: rows[19_999] });
  expect(took).toBeLessThan(5000);
});

// Strings that look like the syntax itself come up often enough only when they are made on purpose.
const nasty = fc.string({
  unit: fc.constantFrom(...',;|\t"\'=+-@\r\n aé1', 'sep=', '\ufeff', '＝', '🐑', '\u2028', '""', "'="),
  maxLength: 12,
});
const cell = fc.oneof(fc.string({ unit: 'binary', maxLength: 20 }), nasty);
const tableArbitrary = fc.integer({ min: 1, max: 6 }).chain((columns) =>
  fc.record({
    header: fc.array(cell, { minLength: columns, maxLength: columns }),
    rows: fc.array(fc.array(cell, { minLength: columns, maxLength: columns }), { maxLength: 8 }),
  }),
);

test('no remark is changed on the way out and back, whatever was typed', () => {
  fc.assert(
    fc.property(tableArbitrary, fc.boolean(), ({ header, rows }, bom) => {
      const table = readTable(writeCsv(header, rows, { bom }), { header: true });
      expect(table.header).toEqual(header);
      expect(table.rows.map((row) => row.cells)).toEqual(rows);
    }),
    { seed: SEED, numRuns: 2000 },
  );
});

test('bytes written as UTF-8 with a mark come back as the same cells', () => {
  fc.assert(
    fc.property(tableArbitrary, ({ rows }) => {
      const header = (rows[0] ?? ['Tag']).map((_, i) => `Name ${i}`);
      const bytes = new TextEncoder().encode(
        writeCsv(
          header,
          rows.map((r) => r.map((c) => c.replace(/\p{Cc}/gu, ''))),
          { bom: true },
        ),
      );
      const { text, encoding } = decodeText(bytes);
      expect(encoding).toBe('utf-8');
      expect(cellsOf(text, { header: true })).toEqual(
        rows.map((r) => r.map((c) => c.replace(/\p{Cc}/gu, ''))),
      );
    }),
    { seed: SEED, numRuns: 300 },
  );
});

test.each([
  '=1+1',
  '+1',
  '-1',
  '@sum',
  '\t=1',
  '\r=1',
  '\n=1',
  ' =1',
  "'=1",
  "''-2",
  'a;=1',
  'a,+1',
  'a\t@b',
  '＝1',
])('a name cannot run as a formula in the spreadsheet of whoever opens the list: %j', (text) => {
  const written = makeHarmless(text);
  expect(written).not.toBe(text);
  for (const part of written.split(/[,;\t|\r\n]/)) expect(part).not.toMatch(/^\s*[=+\-@＝]/);
  expect(readHarmless(written)).toBe(text);
});

test.each(["O'Hara's pen", "'quoted'", "it's 5 - 3", 'UK 0 123456 00001', '62.5', "''"])(
  'an ordinary apostrophe or hyphen is left alone: %s',
  (text) => {
    expect(makeHarmless(text)).toBe(text);
    expect(readHarmless(text)).toBe(text);
  },
);

test('lines end as RFC 4180 says', () => {
  expect(writeCsv(['a', 'b'], [['1', 'x "y", z']])).toBe('a,b\r\n1,"x ""y"", z"\r\n');
  expect(writeCsv(['a'], [], { bom: true })).toBe('\ufeffa\r\n');
});

test('a first name that spreadsheets take for an order to them is quoted', () => {
  expect(writeCsv(['sep=x', 'b'], [])).toBe('"sep=x",b\r\n');
});
