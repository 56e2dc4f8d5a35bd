import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planDraw, type StockRow } from '../../src-shared/stock/draw.ts';
import { parsePrice, printPrice } from '../../src-shared/stock/price.ts';
import {
  lastUsableDay,
  parseExpiry,
  printExpiry,
  printUseBy,
  stateAt,
  unusableAfter,
  unusableOnceOpened,
  usableAt,
} from '../../src-shared/stock/use-by.ts';
import { refused } from './refused.ts';

const LONDON = 'Europe/London';
const opened = (at: string, inUse: string | undefined, unopenedUntil = '2030-01-01', zone = LONDON) =>
  unusableOnceOpened({ opened: at, inUse, unopenedUntil, zone });

describe('the expiry on a pack', () => {
  test('a month is usable through its last day, leap years too', () => {
    expect(parseExpiry('2027-03', 'expiry').lastDay).toBe('2027-03-31');
    expect(parseExpiry('2028-02', 'expiry').lastDay).toBe('2028-02-29');
    expect(unusableAfter(parseExpiry('2027-02', 'expiry').lastDay)).toBe('2027-03-01');
    expect(printExpiry(parseExpiry('2027-03', 'expiry'))).toBe('Mar 2027');
    expect(printExpiry(parseExpiry('2027-03-14', 'expiry'))).toBe('14 Mar 2027');
  });

  test.each(['2026-06-31', '2027-02-29', '2027-13', '03/2027', '2027', '', '27-03', '2027-3', '-2027-03'])(
    '%j is no date, so no bottle is dated by it',
    (text) => {
      expect(refused(() => parseExpiry(text, 'expiry'))).toMatchObject({ code: 'bad-day', field: 'expiry' });
    },
  );
});

describe('an opened bottle is not kept a day too long', () => {
  // Practice: stock reference, "opened 1 May, date only, 28 d → unusable from 29 May 00:00".
  test('28 d from 1 May ends on 28 May, whether the hour is known or not', () => {
    expect(opened('2026-05-01', '28 d')).toBe('2026-05-29');
    expect(opened('2026-05-01T23:50', '28 d')).toBe('2026-05-29');
  });

  test('hours count from midnight when only the day is known, else as they pass', () => {
    expect(opened('2026-05-01', '10 h')).toBe('2026-05-01T10:00');
    expect(opened('2026-05-01T20:15', '10 h')).toBe('2026-05-02T06:15');
  });

  test('hours are elapsed time over the clock changes', () => {
    expect(opened('2026-03-28T22:00', '10 h')).toBe('2026-03-29T09:00');
    expect(opened('2026-10-24T22:00', '10 h')).toBe('2026-10-25T07:00');
  });

  test('a time that the clocks show twice ends it before the second', () => {
    // 16:30 + 9 h is 01:30, which comes again an hour later: not usable from when the clocks go back to 01:00.
    expect(opened('2026-10-24T16:30', '9 h')).toBe('2026-10-25T01:00');
    // Opened at a time that comes twice: the first is taken.
    expect(opened('2026-10-25T01:30', '2 h')).toBe('2026-10-25T02:30');
  });

  test('the expiry stands when it comes first', () => {
    expect(opened('2026-05-01', '28 d', '2026-05-20')).toBe('2026-05-20');
    expect(opened('2026-05-01T08:00', '10 h', '2026-05-01')).toBe('2026-05-01');
    expect(opened('2026-05-01', 'none', '2026-05-20')).toBe('2026-05-20');
    expect(opened('2026-05-01', undefined, '2026-05-20')).toBe('2026-05-20');
  });

  test('single use is over with the minute it was opened, or its day', () => {
    expect(opened('2026-05-01T08:00', 'at once')).toBe('2026-05-01T08:01');
    expect(opened('2026-05-01', 'at once')).toBe('2026-05-02');
    expect(opened('2026-05-01T08:00', '0 h')).toBe('2026-05-01T08:01');
  });

  test('words about it', () => {
    expect(printUseBy('2026-05-29')).toBe('28 May 2026');
    expect(printUseBy('2026-05-29T10:00')).toBe('29 May 2026, until 10:00');
    expect(lastUsableDay('2026-03-01')).toBe('2026-02-28');
  });

  test('never later than its expiry, never before it was opened (property)', () => {
    const seed = Number(process.env.FOLDBOOK_SEED ?? Date.now() % 2 ** 31);
    console.log(`stock seed ${seed}`);
    const day = fc.date({ min: new Date('2024-01-01'), max: new Date('2029-01-01'), noInvalidDate: true });
    const two = (n: number) => String(n).padStart(2, '0');
    fc.assert(
      fc.property(
        day,
        fc.option(fc.tuple(fc.integer({ min: 0, max: 23 }), fc.integer({ min: 0, max: 59 })), {
          nil: undefined,
        }),
        fc.integer({ min: 1, max: 900 }),
        fc.constantFrom('d', 'h'),
        fc.constantFrom(LONDON, 'America/Santiago', 'Australia/Lord_Howe', 'UTC'),
        fc.integer({ min: 0, max: 900 }),
        (date, time, value, unit, zone, ahead) => {
          const local = date.toISOString().slice(0, 10);
          const at = time ? `${local}T${two(time[0])}:${two(time[1])}` : local;
          const until = new Date(date.getTime() + (ahead + 1) * 86_400_000).toISOString().slice(0, 10);
          const ends = opened(at, `${value} ${unit}`, until, zone);
          expect(usableAt(until, ends.length === 10 ? `${ends}T00:00` : ends) || ends === until).toBe(true);
          expect(ends > local).toBe(true);
        },
      ),
      { seed, numRuns: 300 },
    );
  });
});

const row = (more: Partial<StockRow>): StockRow => ({
  id: more.label ?? 'c',
  label: 'c',
  medicine: 'm',
  revision: 'r',
  batch: 'b',
  number: 'B1',
  kind: 'volume',
  received: 100,
  left_units: 100,
  state: 'sealed',
  opened: null,
  unusable_from: '2027-01-01',
  unopened_until: '2027-01-01',
  store: null,
  strength: null,
  since_at: null,
  since_local: null,
  counted: null,
  ...more,
});
const open = (label: string, unusable_from: string, more: Partial<StockRow> = {}) =>
  row({ label, state: 'open', opened: '2026-04-01', unusable_from, ...more });
const NOW = '2026-05-01T12:00';
const plan = (rows: StockRow[], need: number, keep?: string[]) => planDraw(rows, need, { now: NOW, keep });

describe('which bottle goes first', () => {
  test('the earliest use-by, and the opened one on the same day', () => {
    const rows = [
      row({ label: 'late' }),
      row({ label: 'soon', unusable_from: '2026-06-01' }),
      open('used', '2026-06-01'),
    ];
    expect(plan(rows, 250)).toEqual({
      draws: [
        { container: 'used', take: 100 },
        { container: 'soon', take: 100 },
        { container: 'late', take: 50 },
      ],
      short: 0,
    });
  });

  test('an hour on a day does not beat the opened bottle of that day', () => {
    const rows = [open('hours', '2026-05-31T10:00'), row({ label: 'sealed', unusable_from: '2026-06-01' })];
    expect(plan(rows, 1).draws).toEqual([{ container: 'hours', take: 1 }]);
  });

  test('never one that is expired, past its in-use life, in quarantine, gone, empty or below none', () => {
    const dead = [
      row({ label: 'expired', unusable_from: '2026-05-01', unopened_until: '2026-05-01' }),
      open('past', '2026-05-01T12:00'),
      row({ label: 'quarantined', state: 'quarantined' }),
      row({ label: 'disposed', state: 'disposed' }),
      row({ label: 'returned', state: 'returned' }),
      row({ label: 'empty', left_units: 0 }),
      row({ label: 'below', left_units: -40 }),
    ];
    expect(dead.map((each) => stateAt(each, NOW))).toEqual([
      'expired',
      'past-in-use',
      'quarantined',
      'disposed',
      'returned',
      'empty',
      'empty',
    ]);
    expect(plan(dead, 10)).toEqual({ draws: [], short: 10 });
    expect(plan([...dead, open('good', '2026-05-01T12:01')], 150)).toEqual({
      draws: [{ container: 'good', take: 100 }],
      short: 50,
    });
  });

  test('the bottle in hand is used up first, unless it may not be used', () => {
    const rows = [
      row({ label: 'a', unusable_from: '2026-06-01' }),
      row({ label: 'b' }),
      row({ label: 'q', state: 'quarantined' }),
    ];
    expect(plan(rows, 120, ['q', 'b']).draws).toEqual([
      { container: 'b', take: 100 },
      { container: 'a', take: 20 },
    ]);
  });

  test('when only the day is known the bottle is not given the benefit of the hour', () => {
    expect(usableAt('2026-05-01T12:00', '2026-05-01')).toBe(false);
    expect(usableAt('2026-05-02', '2026-05-01')).toBe(true);
    expect(usableAt('2026-05-01', '2026-05-01')).toBe(false);
  });

  test('a need that is no whole count is a mistake in a program', () => {
    for (const need of [-1, 0.5, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => plan([], need)).toThrow(RangeError);
    expect(plan([row({})], 0)).toEqual({ draws: [], short: 0 });
  });

  test('takes what is there and no more, and says the rest (property)', () => {
    const rows = fc.array(
      fc.record({
        left_units: fc.integer({ min: -50, max: 200 }),
        state: fc.constantFrom('sealed', 'open', 'quarantined', 'disposed'),
        unusable_from: fc.constantFrom(
          '2026-04-01',
          '2026-05-01T12:00',
          '2026-05-01T12:01',
          '2026-05-02',
          '2027-01-01',
        ),
      }),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(rows, fc.integer({ min: 0, max: 1500 }), (parts, need) => {
        const all = parts.map((part, i) => row({ ...part, id: `c${i}`, label: `c${i}` }));
        const { draws, short } = plan(all, need);
        expect(draws.reduce((sum, draw) => sum + draw.take, 0) + short).toBe(need);
        for (const { container, take } of draws) {
          const from = all.find((each) => each.id === container);
          expect(
            take > 0 && take <= (from?.left_units ?? 0) && usableAt(from?.unusable_from ?? '', NOW),
          ).toBe(true);
        }
        expect(new Set(draws.map((draw) => draw.container)).size).toBe(draws.length);
      }),
    );
  });
});

describe('a price', () => {
  test('is kept to the penny by its own currency', () => {
    expect(parsePrice('42.50 GBP', 'price')).toEqual({ minorUnits: 4250, currency: 'GBP' });
    expect(parsePrice('0.1 eur', 'price')).toEqual({ minorUnits: 10, currency: 'EUR' });
    expect(parsePrice('4200 JPY', 'price')).toEqual({ minorUnits: 4200, currency: 'JPY' });
    expect(parsePrice('1.005 KWD', 'price')).toEqual({ minorUnits: 1005, currency: 'KWD' });
    // 1.15 × 100 is 114.99999999999999 as a float.
    expect(parsePrice('1.15 GBP', 'price').minorUnits).toBe(115);
    for (const text of ['42.50 GBP', '0.05 EUR', '4200 JPY', '1.005 KWD'])
      expect(printPrice(parsePrice(text, 'price'))).toBe(text);
  });

  test.each([
    '42.505 GBP',
    '4200.5 JPY',
    '-4 GBP',
    '4,50 EUR',
    '42.50',
    'GBP 42',
    '42 XXQ',
    '42 pounds',
    '1e3 GBP',
  ])('%j is refused', (text) => {
    expect(refused(() => parsePrice(text, 'price')).field).toBe('price');
  });
});
