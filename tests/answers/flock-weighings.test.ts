import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { bytesOf } from '../exchange/fixture.ts';
import { type FlockBook, flockBook } from './flock-book.ts';

let book: FlockBook;
beforeEach(() => {
  book = flockBook();
});
afterEach(() => book.close());

const fixture = (name: string) => book.file(bytesOf(name));
const importing = (file: { token: string }, more: object = {}) =>
  ({ holding: 'h1', standing: 'none-running', file, ...more }) as const;
const lines = (...rows: string[]) => rows.join('\r\n');
const found = (read: string) => book.call('find-subject', { read }).found;

describe('a weigh-crate file', () => {
  const kg = { weightUnit: 'kg' } as const;

  function flockOf(heads: number, weight: string) {
    const rows = Array.from({ length: heads }, (_, i) => `82601234560000${i + 1},ewe,${weight},2026-01-10`);
    book.call('import-animals', importing(book.file(lines('EID,Class,Weight kg,Weighed on', ...rows))));
  }

  test('asks for the unit, takes known animals and refuses unknown ones by line', () => {
    flockOf(2, '60');
    const text = lines(
      'EID,Weight,Date',
      '826012345600001,59.5,14/02/2026 09:01',
      '826012345600002,61.0,14/02/2026 09:02',
      '826012345600003,62.5,14/02/2026 09:03',
    );
    expect(book.refused('import-weighings', { file: book.file(text) }).code).toBe('ask:weight-unit');
    const { totals, refused } = book.call('import-weighings', { file: book.file(text), options: kg });
    expect(totals).toEqual({ in: 3, taken: 2, refused: 1, alreadyThere: 0 });
    expect(refused).toMatchObject([{ line: 4, field: 'identity', shown: '826 012345600003' }]);
    expect(found('826012345600002')).toMatchObject([{ weight: '61.0 kg', weighedOn: '2026-02-14T09:02' }]);
    const again = book.call('import-weighings', { file: book.file(text), options: kg });
    expect(again.totals).toEqual({ in: 3, taken: 0, refused: 1, alreadyThere: 2 });
  });

  test('of last month, read in after the flock list, still gives the animals their weight', () => {
    const rows = Array.from({ length: 2 }, (_, i) => `82601234560000${i + 1},ewe`);
    book.call('import-animals', importing(book.file(lines('EID,Class', ...rows))));
    book.call('import-weighings', { file: fixture('weigh-crate.csv'), options: kg });
    expect(found('826012345600001')).toMatchObject([{ weight: '59.5 kg', weighedOn: '2026-02-14T09:01' }]);
  });

  test('in pounds read as kilograms is asked about as a whole', () => {
    flockOf(4, '45');
    const rows = Array.from({ length: 4 }, (_, i) => `82601234560000${i + 1},${98 + i},2026-02-14`);
    const text = lines('EID,Weight,Date', ...rows);
    const preview = book.call('preview-weighings', { file: book.file(text), options: kg });
    expect(preview.questions[0]?.code).toBe('ask:weight-unit');
    expect(preview.questions[0]?.message).toContain('2.2 times');
    expect(preview.totals).toEqual({ in: 4, taken: 0, refused: 4, alreadyThere: 0 });
    expect(book.refused('import-weighings', { file: book.file(text), options: kg }).code).toBe(
      'ask:weight-unit',
    );
    const asPounds = { weightUnit: 'lb' } as const;
    expect(book.call('import-weighings', { file: book.file(text), options: asPounds }).totals.taken).toBe(4);
    expect(found('826012345600001')).toMatchObject([{ weight: '98 lb' }]);
  });

  test('one row in pounds among kilograms, and one jump, are asked about by line', () => {
    flockOf(4, '60');
    const text = lines(
      'EID,Weight kg,Date',
      '826012345600001,61,2026-02-14',
      '826012345600002,132,2026-02-14',
      '826012345600003,95,2026-02-14',
      '826012345600004,62,2026-02-14',
    );
    const ask = (more: object) => ({ file: book.file(text), ...more });
    expect(book.call('preview-weighings', ask({})).questions).toMatchObject([
      { code: 'ask:weight-check', lines: [3] },
    ]);
    expect(book.refused('import-weighings', ask({ confirmed: ['ask:weight-check'] }))).toMatchObject({
      code: 'ask:weight-jump',
    });
    const left = book.call('import-weighings', ask({ options: { oddWeights: 'refuse' } }));
    expect(left.totals).toEqual({ in: 4, taken: 2, refused: 2, alreadyThere: 0 });
    expect(left.refused.map((row) => row.line)).toEqual([3, 4]);
    const taken = book.call('import-weighings', ask({ confirmed: ['ask:weight-check', 'ask:weight-jump'] }));
    expect(taken.totals).toEqual({ in: 4, taken: 2, refused: 0, alreadyThere: 2 });
  });

  test('with an animal twice on one day keeps one of two that agree and neither of two that differ', () => {
    flockOf(3, '62');
    const text = lines(
      'EID,Weight kg,Date',
      '826012345600001,62.5,2026-02-14 09:01',
      '826012345600002,70.0,2026-02-14 09:02',
      '826012345600001,62.5,2026-02-14 09:05',
      '826012345600002,66.5,2026-02-14 09:06',
      '826012345600003,0.0,2026-02-14 09:07',
    );
    const { totals } = book.call('import-weighings', { file: book.file(text) });
    expect(totals).toEqual({ in: 5, taken: 1, refused: 3, alreadyThere: 1 });
  });

  test('weights of an animal that left are taken from before that day only', () => {
    flockOf(1, '60');
    const subject = found('826012345600001')[0]?.subject ?? '';
    book.call('depart', { subjects: [{ subject }], how: 'slaughter', happened: '2026-03-01' });
    const row = (day: string) => lines('EID,Weight kg,Date', `826012345600001,61,${day}`);
    expect(
      book.call('import-weighings', { file: book.file(row('2026-03-05')) }).refused[0]?.message,
    ).toContain('left on 1 Mar 2026 (sent to slaughter)');
    expect(book.call('import-weighings', { file: book.file(row('2026-02-20')) }).totals.taken).toBe(1);
  });
});
