import { expect, test } from 'vitest';
import { changesOf, valuesOf } from '../../src-renderer/screens/book/correct-values.ts';
import { lastYear } from '../../src-renderer/screens/book/last-year.ts';
import {
  correctionWords,
  doseWords,
  endWords,
  entryOfQuery,
  heldLabel,
  heldWords,
  isOver,
  milkWords,
  placed,
  recordColumns,
  untilOrder,
  whoWords,
} from '../../src-renderer/screens/book/record.ts';
import { instantInWords, joinLocal, localAt, localInWords } from '../../src-renderer/screens/book/when.ts';
import type { Reply } from '../../src-shared/calls/all.ts';

type Row = Reply<'book'>['rows'][number];
type Line = Reply<'treatment'>;

const row = (more: Partial<Row> = {}): Row => ({
  administration: 'a',
  entry: { request: 'r', n: 1 },
  local: '2026-02-20',
  recorded: '2026-02-20T09:00:00.000Z',
  subject: 'animal:1',
  shown: 'UK 9 999999 00001',
  class: 'ewe-lamb',
  heads: 1,
  product: 'Vermolin drench',
  batch: 'B-17',
  expiry: '2027-03',
  dose: '1.3 mL',
  quantity: '1.3 mL',
  route: 'pour-on',
  reason: 'worms',
  givenBy: 'Siân',
  source: '',
  period: '28 d',
  until: '21 Mar 2026, 00:00',
  untilAt: '2026-03-21T00:00:00.000Z',
  milkPeriod: '',
  milkUntil: '',
  deviations: [],
  state: 'stands',
  ...more,
});

test('the versions of one treatment share a place, so that ordering by it keeps them together', () => {
  const lines = placed([
    row({ administration: 'a', state: 'replaced' }),
    row({ administration: 'a' }),
    row({ administration: 'b' }),
  ]);
  expect(lines.map((line) => [line.place, line.version])).toEqual([
    [1, 1],
    [1, 2],
    [2, 1],
  ]);
});

test('a hold is never called over too early, nor by a date in doubt', () => {
  const zone = 'Europe/London';
  const noon = row({ untilAt: '2026-03-21T12:00:00.000Z' });
  expect(isOver(row(), '2026-03-20', zone)).toBe(false);
  expect(isOver(row(), '2026-03-21', zone)).toBe(true);
  expect(isOver(noon, '2026-03-21', zone)).toBe(false);
  expect(isOver(noon, '2026-03-22', zone)).toBe(true);
  expect(isOver(row(), undefined, zone)).toBe(false);
  const { untilAt, ...unknown } = row({ until: 'not stated: never clears by time' });
  expect(untilAt).toBeDefined();
  expect(isOver(unknown, '2999-01-01', zone)).toBe(false);
  // Where the clock is ahead of UTC the day begins earlier: 00:00 in Auckland is 11:00 of the day before.
  expect(isOver(row({ untilAt: '2026-03-20T11:00:00.000Z' }), '2026-03-21', 'Pacific/Auckland')).toBe(true);
});

test('by the end of the hold: not held first, then by time, what no time clears last', () => {
  const { untilAt, ...plain } = row();
  const rows = [
    { ...plain, until: 'for life' },
    row({ untilAt: '2026-03-09T00:00:00.000Z' }),
    row({ untilAt: '2026-02-18T00:00:00.000Z' }),
    { ...plain, until: 'clear' },
  ];
  expect(untilAt).toBeDefined();
  expect(rows.map(untilOrder).toSorted()).toEqual([
    '',
    '2026-02-18T00:00:00.000Z',
    '2026-03-09T00:00:00.000Z',
    '9999',
  ]);
});

test('a hold reads as a sentence whatever ends it', () => {
  expect(heldWords('21 Mar 2026, 00:00')).toBe('held until 21 Mar 2026, 00:00');
  expect(heldWords('for life')).toBe('held for life');
  expect(heldWords('until lambing is recorded')).toBe('held until lambing is recorded');
  expect(heldWords('not stated: never clears by time')).toBe('held, period not stated: never clears by time');
  expect(heldWords('clear')).toBe('not held');
  expect(heldWords('')).toBe('not held');
  expect(heldLabel('21 Mar 2026, 00:00', true)).toBe('Meat withdrawal until');
  expect(heldLabel('for life', true)).toBe('Meat withdrawal');
  expect(heldLabel('21 Mar 2026, 00:00', false)).toBe('Meat withdrawal was until');
});

test('a period of no days has no date, unless a margin of the farm made it end later', () => {
  const dose = '2026-03-05T09:30';
  expect(endWords('zero', '5 Mar 2026, 09:30', dose)).toBe('no withdrawal (0 days)');
  expect(endWords('zero', '5 Mar 2026, 09:30; for export 9 Mar 2026, 09:30', dose)).toBe(
    'no withdrawal (0 days); for export 9 Mar 2026, 09:30',
  );
  expect(endWords('zero', '7 Mar 2026, 09:30', dose)).toBe('7 Mar 2026, 09:30');
  expect(endWords('28 d', '5 Mar 2026, 09:30', dose)).toBe('5 Mar 2026, 09:30');
  // A dose of which only the day is known holds to the end of that day.
  expect(endWords('zero', '6 Mar 2026, 00:00', '2026-03-05')).toBe('6 Mar 2026, 00:00');
  expect(endWords('not stated', 'not stated: never clears by time', dose)).toBe(
    'not stated: never clears by time',
  );
  expect(endWords('', '', dose)).toBe('not held');
  expect(heldLabel('no withdrawal (0 days)', true)).toBe('Meat');
  expect(heldWords('no withdrawal (0 days)')).toBe('no withdrawal (0 days)');
  expect(milkWords(row({ milkUntil: 'not in milk; else for life', milkPeriod: '84 h' }))).toBe('not in milk');
  expect(milkWords(row({ milkUntil: '5 Mar 2026, 09:30', milkPeriod: 'zero', local: dose }))).toBe(
    'no withdrawal (0 days)',
  );
});

test('a row says the dose a head and in all only where there are several heads', () => {
  expect(doseWords(row())).toBe('1.3 mL, pour on, batch B-17, worms');
  expect(doseWords(row({ heads: 45, quantity: '58.5 mL', batch: '' }))).toBe(
    '1.3 mL a head, 58.5 mL in all, pour on, worms',
  );
  expect(whoWords(row())).toBe('ewe lamb');
  expect(whoWords(row({ subject: 'lot:1', heads: 1200 }))).toBe('1,200 head, ewe lamb');
  const correction = { reason: 'Wrong ewe', by: 'Siân', recorded: '2026-03-01T09:00:00.000Z' };
  expect(correctionWords(row(), 'Europe/London')).toBeUndefined();
  expect(correctionWords(row({ state: 'voided', correction }), 'Europe/London')).toBe(
    'Struck out by Siân on 1 Mar 2026, 09:00: Wrong ewe',
  );
});

test('the saved file has milk only where milk is taken', () => {
  const heads = (milks: boolean) => recordColumns('Europe/London', milks).map((column) => column.head);
  expect(heads(false)).not.toContain('Milk withdrawal until');
  expect(heads(true)).toContain('Milk withdrawal until');
  expect(heads(false)).toEqual(
    expect.arrayContaining(['Batch', 'Expiry', 'Meat withdrawal until', 'Why corrected']),
  );
});

test('a year back begins the day after the same date, also from a leap day', () => {
  expect(lastYear('2026-03-01')).toEqual({ from: '2025-03-02', to: '2026-03-01' });
  expect(lastYear('2028-02-29')).toEqual({ from: '2027-03-02', to: '2028-02-29' });
});

test('an address that names no entry names none', () => {
  expect(entryOfQuery({ request: 'r', n: '2' })).toEqual({ request: 'r', n: 2 });
  for (const query of [
    {},
    { request: 'r' },
    { request: '', n: '1' },
    { request: 'r', n: '0' },
    { request: 'r', n: 'x' },
  ]) {
    expect(entryOfQuery(query)).toBeUndefined();
  }
});

test('days and instants in words, by the clock of the holding', () => {
  expect(localInWords('2026-03-01')).toBe('1 Mar 2026');
  expect(localInWords('2026-03-01T08:05')).toBe('1 Mar 2026, 08:05');
  expect(localInWords('not a day')).toBe('not a day');
  expect(instantInWords('2026-03-29T23:30:00.000Z', 'Europe/London')).toBe('30 Mar 2026, 00:30');
  expect(localAt('2026-03-01T00:00:00.000Z', 'UTC')).toBe('2026-03-01T00:00');
  expect(joinLocal('2026-03-01', '')).toBe('2026-03-01');
  expect(joinLocal('2026-03-01', '08:05')).toBe('2026-03-01T08:05');
});

test('a correction sends only what was changed', () => {
  const line: Line = {
    administration: 'a',
    entry: { request: 'r', n: 1 },
    seq: 12,
    recorded: '2026-02-20T09:00:00.000Z',
    by: 'Siân',
    clock: 'believed',
    versions: [row({ local: '2026-02-20T08:00' })],
    stands: true,
    zone: 'Europe/London',
    subject: 'animal:1',
    medicine: 'm',
    givenBy: 'p1',
    local: '2026-02-20T08:00',
    weight: '62 kg',
    sites: [],
    draws: [{ container: 'c1', label: 'B-17-1', batch: 'B-17', amount: '1.3 mL', left: '998.7 mL' }],
    deviations: [],
    holds: [],
    working: [],
    ifStruck: [],
  };
  const before = valuesOf(line);
  expect(before).toMatchObject({
    day: '2026-02-20',
    time: '08:00',
    given: '1.3 mL',
    weight: '62 kg',
    heads: '1',
  });
  expect(changesOf(before, before)).toEqual({});
  expect(changesOf(before, { ...before, reason: 'only a reason' })).toEqual({});
  expect(changesOf(before, { ...before, given: ' 13 mL ' })).toEqual({ given: '13 mL' });
  expect(changesOf(before, { ...before, givenBy: 'p2' })).toEqual({ givenBy: 'p2' });
  expect(changesOf(before, { ...before, time: '' })).toEqual({ local: '2026-02-20' });
  expect(changesOf(before, { ...before, day: '' })).toEqual({});
  expect(changesOf(before, { ...before, containers: ['c2'], heads: '3', subject: 'lot:7' })).toEqual({
    containers: ['c2'],
    heads: 3,
    subject: 'lot:7',
  });
  expect(changesOf(before, { ...before, heads: 'three', containers: [], weight: '' })).toEqual({});
});
