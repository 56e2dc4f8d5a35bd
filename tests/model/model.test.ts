import { describe, expect, test } from 'vitest';
import { type Dose, PERIOD_RULES, passes, readPeriod } from './periods.ts';
import { atTime, dayBegins, wallClock } from './zones.ts';

/** The model itself, against what was worked out by hand: it must not only agree with the book. */
const dose = (zone: string, counting: '24-hour' | 'whole-days' | 'later', marginDays = 0): Dose => ({
  class: 'ewe',
  route: 'oral',
  doseLine: 'first',
  zone,
  house: { counting, marginDays },
});
const clears = (local: string, period: string, of: Dose) =>
  wallClock(passes(period, local, of, PERIOD_RULES), of.zone);

describe('periods', () => {
  // Derived by hand from the two conventions.
  test.each([
    ['2025-03-01T08:00', '7 d', '2025-03-08T08:00', '2025-03-09T00:00'],
    ['2025-03-01T17:00', '6 d', '2025-03-07T17:00', '2025-03-08T00:00'],
    ['2025-12-20T07:00', '14 d', '2026-01-03T07:00', '2026-01-04T00:00'],
  ])('%s and %s', (last, period, elapsed, whole) => {
    expect(clears(last, period, dose('Europe/London', '24-hour'))).toBe(elapsed);
    expect(clears(last, period, dose('Europe/London', 'whole-days'))).toBe(whole);
    expect(clears(last, period, dose('Europe/London', 'later'))).toBe(whole);
  });

  test('the two ways cross in spring', () => {
    const at = (local: string, counting: '24-hour' | 'whole-days' | 'later') =>
      clears(local, '7 d', dose('Europe/London', counting));
    expect(at('2025-03-24T23:30', '24-hour')).toBe('2025-04-01T00:30');
    expect(at('2025-03-24T23:30', 'whole-days')).toBe('2025-04-01T00:00');
    expect(at('2025-03-24T23:30', 'later')).toBe('2025-04-01T00:30');
    expect(at('2025-03-24', 'later')).toBe('2025-04-01T01:00');
  });

  test('zero clears at the dose, a day alone at its end; the margin is added', () => {
    expect(clears('2025-03-01T08:00', '0 d', dose('Europe/London', 'later'))).toBe('2025-03-01T08:00');
    expect(clears('2025-03-01', '0 d', dose('Europe/London', 'later'))).toBe('2025-03-02T00:00');
    expect(clears('2025-03-01T08:00', '72 h', dose('Europe/London', 'later', 2))).toBe('2025-03-06T08:00');
  });

  test('five daily doses from 1 June and 4 d are clear on 10 June', () => {
    expect(clears('2026-06-05', '4 d', dose('Europe/London', 'later'))).toBe('2026-06-10T00:00');
  });

  test('reading', () => {
    expect(readPeriod('28 d')).toEqual({ days: 28 });
    expect(readPeriod('6 weeks')).toEqual({ days: 42 });
    expect(readPeriod('35 d + 36 h')).toEqual({ hours: 876 });
    expect(() => readPeriod('a month')).toThrow('cannot read');
  });
});

describe('zones', () => {
  const iso = (at: number) => new Date(at).toISOString();
  test('a day without midnight begins at its first instant', () => {
    expect(wallClock(dayBegins('2025-04-25', 'Africa/Cairo'), 'Africa/Cairo')).toBe('2025-04-25T01:00');
    expect(wallClock(dayBegins('2025-09-07', 'America/Santiago'), 'America/Santiago')).toBe(
      '2025-09-07T01:00',
    );
  });
  test('a time that is skipped or comes twice is the later', () => {
    expect(iso(atTime('2026-03-29T01:30', 'Europe/London'))).toBe('2026-03-29T01:30:00.000Z');
    expect(iso(atTime('2025-10-26T01:30', 'Europe/London'))).toBe('2025-10-26T01:30:00.000Z');
    expect(iso(atTime('2026-04-05T02:30', 'Pacific/Auckland'))).toBe('2026-04-04T14:30:00.000Z');
    expect(iso(atTime('2026-07-01T08:00', 'Europe/London'))).toBe('2026-07-01T07:00:00.000Z');
  });
});
