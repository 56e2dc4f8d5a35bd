import { expect, test } from 'vitest';
import { guessWeighColumns } from '../../src-main/exchange/guess.ts';
import { readTable } from '../../src-main/exchange/table.ts';
import { readWeighings, type WeighingsRead, type WeighOptions } from '../../src-main/exchange/weighings.ts';
import type { Weight } from '../../src-shared/quantity/weight.ts';
import { outcomes, sampleOf, tableOf } from './fixture.ts';

function read(name: string, options: WeighOptions = {}): WeighingsRead {
  const table = tableOf(name);
  return readWeighings(table, guessWeighColumns(table.header, sampleOf(table)), options);
}

function readText(text: string, options: WeighOptions = {}): WeighingsRead {
  const table = readTable(text);
  return readWeighings(table, guessWeighColumns(table.header, sampleOf(table)), options);
}

function expectNothingLost({ counts, questions }: WeighingsRead, rowsInFile: number): void {
  expect(counts.in).toBe(rowsInFile);
  expect(counts.taken + counts.refused + counts.waiting + counts.already).toBe(rowsInFile);
  if (questions.length > 0) expect(counts.taken).toBe(0);
  else expect(counts.waiting).toBe(0);
}

const codes = (one: WeighingsRead): string[] => one.questions.map((question) => question.code);

const lastWeights = (kg: number): Map<string, Weight> =>
  new Map(
    Array.from({ length: 8 }, (_, i) => [
      `82601234560000${i + 1}`,
      { value: String(kg + i), unit: 'kg' as const },
    ]),
  );

test('a weighing goes to its animal with its local time', () => {
  const one = read('weigh-crate.csv', { unit: 'kg' });
  expectNothingLost(one, 8);
  expect(one.rows[0]).toEqual({
    line: 2,
    state: 'taken',
    identity: { key: '826012345600001', written: '826 012345600001' },
    weight: { value: '59.5', unit: 'kg' },
    on: '2026-02-14T09:01',
  });
});

test('a crate that does not say kg or lb is asked about', () => {
  const one = read('weigh-crate.csv');
  expectNothingLost(one, 8);
  expect(codes(one)).toEqual(['weight-unit']);
});

test('a crate set to pounds does not double every dose: 2.2 times the last weights is asked about', () => {
  const one = read('weigh-crate-pounds.csv', { unit: 'kg', lastWeights: lastWeights(57) });
  expectNothingLost(one, 8);
  expect(codes(one)).toEqual(['weight-unit']);
  expect(one.questions[0]?.message).toContain('8 of 8 animals weigh about 2.2 times their last weight');
  const pounds = read('weigh-crate-pounds.csv', { unit: 'lb', lastWeights: lastWeights(57) });
  expectNothingLost(pounds, 8);
  expect(pounds.counts.taken).toBe(8);
  expect(pounds.rows[0]).toMatchObject({ weight: { value: '131.2', unit: 'lb' } });
});

test('the same is seen without any last weight, when no flock could weigh that', () => {
  expect(codes(read('weigh-crate-pounds.csv', { unit: 'kg' }))).toEqual(['weight-unit']);
  const confirmed = read('weigh-crate-pounds.csv', { unit: 'kg', confirmed: ['weight-unit'] });
  expectNothingLost(confirmed, 8);
  expect(confirmed.counts.taken).toBe(8);
});

test('kilograms read as pounds are asked about, when the animals were weighed before', () => {
  expect(codes(read('weigh-crate.csv', { unit: 'lb', lastWeights: lastWeights(57) }))).toEqual([
    'weight-unit',
  ]);
});

test('a header in pounds is not overruled by a setting in kilograms without a word', () => {
  expect(codes(read('weigh-crate-named-lb.csv', { unit: 'kg' }))).toEqual(['weight-unit']);
  expect(read('weigh-crate-named-lb.csv').rows[0]).toMatchObject({ weight: { value: '131.2', unit: 'lb' } });
});

test('one slip among good weights is asked about by its line', () => {
  const text =
    'EID,Weight kg,Date\n826012345600001,60.0,2026-02-14\n826012345600002,131.0,2026-02-14\n826012345600003,605,2026-02-14\n';
  const one = readText(text, { lastWeights: lastWeights(58) });
  expectNothingLost(one, 3);
  expect(one.questions).toMatchObject([{ code: 'weight-check', lines: [3, 4] }]);
  expect(outcomes(readText(text, { lastWeights: lastWeights(58), oddWeights: 'refuse' }))).toEqual([
    '2 taken',
    '3 refused weight weight-odd',
    '4 refused weight weight-odd',
  ]);
});

test('of two weights for one animal on one day none is chosen; the same weight twice is one weighing', () => {
  const one = read('weigh-crate-doubles.csv');
  expectNothingLost(one, 10);
  expect(outcomes(one)).toEqual([
    '2 taken',
    '3 refused weight duplicate',
    '4 already',
    '5 refused weight duplicate',
    '6 taken',
    '7 refused weight no-weight',
    '8 refused identity no-identity',
    '9 refused weight weight-missing',
    '10 refused on day-missing',
    '11 refused on time-zone',
  ]);
  expect(one.rows[1]).toMatchObject({ message: expect.stringContaining('line 5') });
  expect(one.rows[2]).toMatchObject({ sameAs: 2, message: expect.stringContaining('line 2') });
});

test('a row without a date takes the day that was given, and only that', () => {
  expect(outcomes(read('weigh-crate-doubles.csv', { day: '2026-02-14' }))[8]).toBe('10 taken');
});

test('a file without dates is not weighed today by assumption', () => {
  const text = 'EID,Weight kg,Time\n826012345600001,60.0,9:05 am\n';
  expect(codes(readText(text))).toEqual(['day']);
  expect(readText(text, { day: '2026-02-14' }).rows[0]).toMatchObject({ on: '2026-02-14T09:05' });
});

test('14/02 settles the order of a column; 03/04 asks', () => {
  expect(codes(readText('EID,Weight kg,Date\n826012345600001,60,03/04/2026\n'))).toEqual(['date-order']);
  expect(read('weigh-crate.csv', { unit: 'kg' }).notes.map((note) => note.code)).toEqual(['date-order']);
});

test('a date of birth in a crate file is not the day of weighing, nor a dam the animal weighed', () => {
  expect(
    guessWeighColumns(
      ['Dam', 'EID', 'DOB', 'Weight'],
      [['826012345600009', '826012345600001', '2021-03-04', '62.5']],
    ),
  ).toEqual({ identity: 1, weight: 3 });
});

test('a crate file without names is read by what stands in it', () => {
  const table = readTable('826012345600001,62.5,2026-02-14\n826012345600002,71.0,2026-02-14\n');
  expect(guessWeighColumns(table.header, sampleOf(table))).toEqual({ identity: 0, on: 2, weight: 1 });
});

test('a broken day is refused at once', () => {
  expect(() => read('weigh-crate.csv', { day: '14/02/2026' })).toThrow(/2027-02-28/);
});
