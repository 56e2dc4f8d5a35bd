import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { checkDigit, fullYear } from '../../src-shared/stock/pack-code-fields.ts';
import { parseDay } from '../../src-shared/time/day.ts';
import { refused } from '../unit/refused.ts';

const GS = '\u001d';
const scan = (text: string, on?: string) =>
  workOut('barcode', { scan: text, ...(on === undefined ? {} : { on }) });

describe('check digits, from the right 3, 1, 3, 1 (gs1.org, read)', () => {
  it.each([
    ['629104150021', '3'],
    ['730001100001', '7'],
    ['501234567890', '0'],
  ])('%s → %s', (digits, last) => {
    expect(checkDigit(digits)).toBe(last);
    expect(scan(digits + last)).toMatchObject({ gtin: `0${digits}${last}` });
    const wrong = String((Number(last) + 1) % 10);
    expect(refused(() => scan(digits + wrong)).code).toBe('unreadable');
  });
});

describe('days of six digits (GS1 General Specifications, read)', () => {
  it.each([
    ['130200', '2013-02-28'],
    ['160200', '2016-02-29'],
  ])('day 00 is the last of the month: %s → %s', (typed, day) => {
    expect(scan(`010501234567890017${typed}`)).toMatchObject({ expiry: day });
    expect(scan(`010501234567890017${typed}`, '2015-06-01')).toMatchObject({ expiry: day });
  });

  // "Year window: 49 years back, 50 ahead" (read); the edges are derived.
  it.each([
    [76, '2026-01-01', 2076],
    [77, '2026-01-01', 1977],
    [26, '2026-12-31', 2026],
    [0, '2060-01-01', 2100],
    [10, '2060-01-01', 2110],
    [11, '2060-01-01', 2011],
    [99, '2000-01-01', 1999],
    [50, '2000-01-01', 2050],
    [51, '2000-01-01', 1951],
  ])('year %i seen on %s is %i', (two, on, year) => {
    expect(fullYear(two, parseDay(on, 'on'))).toBe(year);
  });
});

describe('fields of a pack (gs1.org, read)', () => {
  it('(01) and (17) are fixed, (10) and (21) end with FNC1, ASCII 29', () => {
    expect(scan(`010501234567890017271231${'10ABC'}${GS}21S1`)).toMatchObject({
      gtin: '05012345678900',
      expiry: '2027-12-31',
      batch: 'ABC',
      serial: 'S1',
    });
  });

  it('batch and serial hold up to 20 signs', () => {
    const twenty = 'A'.repeat(20);
    expect(scan(`0105012345678900${'10'}${twenty}`)).toMatchObject({ batch: twenty });
    expect(scan(`0105012345678900${'21'}${twenty}`)).toMatchObject({ serial: twenty });
    expect(refused(() => scan(`0105012345678900${'10'}${twenty}A`)).code).toBe('unreadable');
    expect(refused(() => scan(`0105012345678900${'21'}${twenty}A`)).code).toBe('unreadable');
  });

  it('10ABC17271231 is ambiguous: ask, never guess', () => {
    expect(refused(() => scan('10ABC17271231'))).toMatchObject({ code: 'ambiguous', field: 'scan' });
    expect(refused(() => scan('010501234567890010ABC17271231'))).toMatchObject({ code: 'ambiguous' });
  });
});
