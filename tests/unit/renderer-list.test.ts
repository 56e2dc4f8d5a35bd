import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Column,
  filterRows,
  moveTo,
  orderRows,
  searchTexts,
  toCsv,
} from '../../src-renderer/parts/list-rows.ts';
import { readHarmless } from '../../src-shared/harmless.ts';

const seed = Number(process.env.FOLDBOOK_SEED ?? Date.now() % 2 ** 31);
console.log(`renderer-list seed ${seed}`);

type Row = { tag: string; kg: number };
const columns: readonly Column<Row>[] = [
  { key: 'tag', head: 'Tag', text: (row) => row.tag },
  { key: 'kg', head: 'Weight', text: (row) => `${row.kg} kg`, order: (row) => row.kg },
];
const rows: readonly Row[] = [
  { tag: 'Ünal 10', kg: 9 },
  { tag: 'Unal 9', kg: 62 },
  { tag: 'Bramble', kg: 100 },
];
const find = (typed: string) => filterRows(rows, searchTexts(rows, columns), typed).map((row) => row.tag);

describe('the filter of a list', () => {
  it('finds without regard to case and accents', () => expect(find('UNAL')).toEqual(['Ünal 10', 'Unal 9']));
  it('wants every word, in any column and any order', () => {
    expect(find('62 unal')).toEqual(['Unal 9']);
    expect(find('unal bramble')).toEqual([]);
  });
  it('does not join the end of one column to the start of the next', () =>
    expect(find('bramble100')).toEqual([]));
  it('shows all for nothing and for spaces', () => expect(find('  ')).toEqual(rows.map((row) => row.tag)));
});

describe('the order of a list', () => {
  const tags = (key: string, isDown: boolean) =>
    orderRows(rows, columns, { key, isDown }).map((row) => row.tag);
  it('orders numbers as numbers', () => expect(tags('kg', false)).toEqual(['Ünal 10', 'Unal 9', 'Bramble']));
  it('puts 9 before 10 in a text', () =>
    expect(tags('tag', false)).toEqual(['Bramble', 'Unal 9', 'Ünal 10']));
  it('goes down too', () => expect(tags('kg', true)).toEqual(['Bramble', 'Unal 9', 'Ünal 10']));
  it('leaves the rows it was given alone', () => {
    tags('kg', true);
    expect(rows[0]?.tag).toBe('Ünal 10');
  });
  it('keeps equal rows as they stood', () => {
    const same = [1, 2, 3].map((n) => ({ tag: `t${n}`, kg: 5 }));
    for (const isDown of [true, false]) expect(orderRows(same, columns, { key: 'kg', isDown })).toEqual(same);
  });
});

describe('the file of a list', () => {
  it('is what a reader of such files gets back, once it takes away what makes formulas harmless', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'grapheme' }), { minLength: 1, maxLength: 20 }), (texts) => {
        const made = texts.map((text) => ({ tag: text.replaceAll('\r', ''), kg: 1 }));
        const read: string[][] = parse(toCsv(made, columns), { recordDelimiter: '\r\n' });
        const back = read.map((row) => row.map(readHarmless));
        expect(back).toEqual([['Tag', 'Weight'], ...made.map((row) => [row.tag, '1 kg'])]);
      }),
      { seed },
    );
  });
  it('gives a spreadsheet no formula to run', () => {
    for (const evil of ['=1+1', '+A1', '-A1', '@SUM(A1)', '\t=1', '\r=1']) {
      const read: string[][] = parse(toCsv([{ tag: evil, kg: 1 }], columns), { recordDelimiter: '\r\n' });
      expect(read[1]?.[0]?.startsWith("'")).toBe(true);
    }
    // Where a spreadsheet of another country would begin a cell, and by the wide signs that some run.
    expect(toCsv([{ tag: 'x;=1+1', kg: 1 }], columns)).toContain(`"x;'=1+1"`);
    expect(toCsv([{ tag: '＝1+1', kg: 1 }], columns)).toContain("'＝1+1");
  });
  it('leaves numbers below zero as numbers', () => {
    expect(toCsv([{ tag: '-2.5', kg: 1 }], columns)).toContain('\r\n-2.5,');
  });
});

describe('keys in a list', () => {
  it('moves and stops at both ends', () => {
    expect(moveTo('ArrowDown', 0, 3)).toBe(1);
    expect(moveTo('ArrowDown', 2, 3)).toBe(2);
    expect(moveTo('ArrowUp', 0, 3)).toBe(0);
    expect(moveTo('Home', 2, 3)).toBe(0);
    expect(moveTo('End', 0, 20_000)).toBe(19_999);
    expect(moveTo('PageDown', 0, 20_000)).toBe(10);
  });
  it('takes no other key and no empty list', () => {
    expect(moveTo('a', 0, 3)).toBeUndefined();
    expect(moveTo('ArrowDown', 0, 0)).toBeUndefined();
  });
});
