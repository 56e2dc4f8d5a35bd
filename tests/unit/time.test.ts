import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  type Day,
  daysBetween,
  lastDayOfMonth,
  parseDay,
  printDay,
} from '../../src-shared/time/day.ts';
import {
  checkZone,
  dayOf,
  instantOf,
  isoWithOffset,
  localOf,
  parseInstant,
  parseLocal,
  printInstant,
} from '../../src-shared/time/zone.ts';
import { refused } from './refused.ts';

describe('days', () => {
  it.each([
    ['2026-06-31', /June 2026 has 30 days/],
    ['2025-02-29', /February 2025 has 28 days/],
    ['1900-02-29', /28 days/],
    ['2026-13-01', /no month 13/],
    ['2026-00-01', /no month 00/],
    ['2026-01-00', /no 0 in it/],
    ['28/02/2027', /year-month-day/],
    ['2026-6-1', /year-month-day/],
    ['20260601', /year-month-day/],
    ['0026-06-01', /too far off/],
    ['9999-06-01', /too far off/],
    ['', /year-month-day/],
  ])('refuses %j', (text, reason) => {
    const refusal = refused(() => parseDay(text, 'expiry'));
    expect(refusal).toMatchObject({ code: 'bad-day', field: 'expiry' });
    expect(refusal.message).toMatch(reason);
  });

  it('take leap years as they are', () => {
    expect(parseDay('2028-02-29', 'day')).toBe('2028-02-29');
    expect(parseDay('2000-02-29', 'day')).toBe('2000-02-29');
    expect(addDays('2028-02-28' as Day, 1)).toBe('2028-02-29');
    expect(daysBetween('2027-12-31' as Day, '2028-03-01' as Day)).toBe(61);
  });

  it('are counted as the calendar of Temporal counts them, near and far', () => {
    const first = Temporal.PlainDate.from('1899-12-20');
    for (const days of [-800, -401, -400, -366, -31, -1, 0, 1, 28, 31, 59, 366, 400, 401, 800]) {
      // A day in 91 over three centuries meets each day of a month and every kind of leap year.
      for (let n = 0; n < 110_000; n += 13 * 7) {
        const from = first.add({ days: n });
        expect(addDays(from.toString() as Day, days)).toBe(from.add({ days }).toString());
      }
    }
    for (const [from, days, to] of [
      ['2100-02-28', 1, '2100-03-01'],
      ['2000-03-01', -1, '2000-02-29'],
      ['2026-12-31', 1, '2027-01-01'],
      ['2027-01-01', -1, '2026-12-31'],
    ] as const) {
      expect(addDays(from as Day, days)).toBe(to);
    }
    for (const none of ['2027-02-30', '2027-13-01', '2027-1-01', '']) {
      expect(() => addDays(none as Day, 1)).toThrow(RangeError);
    }
    expect(() => addDays('2027-01-01' as Day, 0.5)).toThrow(RangeError);
  });

  it('a printed month is its last day', () => {
    expect(lastDayOfMonth('2027-03')).toBe('2027-03-31');
    expect(lastDayOfMonth('2028-02')).toBe('2028-02-29');
    expect(refused(() => lastDayOfMonth('03-2027')).code).toBe('bad-day');
    expect(refused(() => lastDayOfMonth('2027-13')).code).toBe('bad-day');
  });

  it('are printed so that no country misreads them', () => {
    expect(printDay('2027-02-28' as Day)).toBe('28 Feb 2027');
    expect(printDay('2027-12-01' as Day)).toBe('1 Dec 2027');
  });
});

describe('zones', () => {
  it('are IANA names, an offset is none', () => {
    expect(checkZone('europe/london', 'zone')).toBe('Europe/London');
    for (const zone of ['+01:00', 'Mars/Olympus', '', 'Europe/London; drop', 'Z'.repeat(500)]) {
      expect(refused(() => checkZone(zone, 'zone'))).toMatchObject({ code: 'bad-zone', field: 'zone' });
    }
  });

  it('a day starts at its first instant and ends at the first of the next', () => {
    expect(instantOf('2026-07-01', 'Europe/London', 'start')).toBe('2026-06-30T23:00:00.000Z');
    expect(instantOf('2026-07-01', 'Europe/London', 'end')).toBe('2026-07-01T23:00:00.000Z');
    expect(instantOf('2025-04-25', 'Africa/Cairo', 'start')).toBe('2025-04-24T22:00:00.000Z');
    expect(instantOf('2025-03-30', 'Europe/London', 'start')).toBe('2025-03-30T00:00:00.000Z');
    expect(instantOf('2025-03-30', 'Europe/London', 'end')).toBe('2025-03-30T23:00:00.000Z');
  });

  it('a time that comes twice or not at all is the later', () => {
    expect(instantOf('2025-10-26T01:30', 'Europe/London', 'start')).toBe('2025-10-26T01:30:00.000Z');
    expect(instantOf('2025-03-30T01:30', 'Europe/London', 'start')).toBe('2025-03-30T01:30:00.000Z');
    expect(instantOf('2025-11-02T01:30', 'America/New_York', 'end')).toBe('2025-11-02T06:30:00.000Z');
  });

  it('refuse times that no clock shows', () => {
    for (const text of [
      '2026-03-01T24:00',
      '2026-03-01T08:60',
      '2026-03-01T8',
      '2026-03-01 8:00',
      '2026-03-01T08:00Z',
    ]) {
      expect(refused(() => parseLocal(text, 'lastDose'))).toMatchObject({
        code: 'bad-time',
        field: 'lastDose',
      });
    }
    expect(refused(() => parseLocal('2026-06-31T08:00', 'lastDose')).code).toBe('bad-day');
    expect(refused(() => parseLocal('yesterday', 'lastDose')).code).toBe('bad-day');
  });

  it('instants are read in one form only, so that they sort as texts', () => {
    expect(parseInstant('2026-06-01T08:00:00.000Z', 'at')).toBe('2026-06-01T08:00:00.000Z');
    for (const text of [
      '2026-06-01T08:00:00Z',
      '2026-06-01T08:00:00.000+01:00',
      '2026-02-31T08:00:00.000Z',
      '',
    ]) {
      expect(refused(() => parseInstant(text, 'at')).code).toBe('bad-time');
    }
  });

  it('print on the wall clock of the holding', () => {
    const at = parseInstant('2026-07-01T11:05:00.000Z', 'at');
    expect(localOf(at, 'Europe/London')).toBe('2026-07-01T12:05');
    expect(dayOf(parseInstant('2026-07-01T23:30:00.000Z', 'at'), 'Europe/London')).toBe('2026-07-02');
    expect(isoWithOffset(at, 'America/St_Johns')).toBe('2026-07-01T08:35:00-02:30');
    expect(printInstant(at, 'Europe/London')).toBe('1 Jul 2026, 12:05');
  });
});
