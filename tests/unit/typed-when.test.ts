import { describe, expect, test } from 'vitest';
import { shownDay, shownWhen, typedDay, typedTime, typedWhen } from '../../src-renderer/parts/typed-when.ts';

describe('days as people write them', () => {
  test.each([
    ['20 Nov 2026', '2026-11-20'],
    ['20 november 2026', '2026-11-20'],
    ['Friday 20 November 2026', '2026-11-20'],
    ['1st Sept 2026', '2026-09-01'],
    ['3/10/2026', '2026-10-03'],
    ['03.10.26', '2026-10-03'],
    ['3-10-2026', '2026-10-03'],
    ['2026-3-1', '2026-03-01'],
    [' 29 feb 2028 ', '2028-02-29'],
    ['20nov26', '2026-11-20'],
  ])('%s is %s, the day before the month', (text, day) => expect(typedDay(text)).toBe(day));

  test.each(['31 June 2026', '29 Feb 2027', '10/13/2026', '20 Nov', '20 Novell 2026', '2026', '', '1/1/1'])(
    '“%s” is no day and is never guessed',
    (text) => expect(typedDay(text)).toBeUndefined(),
  );

  test('what stands in the box is read again as the same day', () => {
    for (let day = 0; day < 800; day++) {
      const iso = new Date(Date.UTC(2027, 0, 1 + day)).toISOString().slice(0, 10);
      expect(typedDay(shownDay(iso))).toBe(iso);
      expect(typedWhen(shownWhen(`${iso}T06:05`))).toBe(`${iso}T06:05`);
    }
  });
});

describe('times as people write them', () => {
  test.each([
    ['14:05', '14:05'],
    ['6.30', '06:30'],
    ['0630', '06:30'],
    ['2:05 pm', '14:05'],
    ['12 am', '00:00'],
    ['12:15pm', '12:15'],
  ])('%s is %s', (text, time) => expect(typedTime(text)).toBe(time));

  test.each(['24:00', '9', '14:60', '13 pm', 'noon', ''])('“%s” is none', (text) =>
    expect(typedTime(text)).toBeUndefined(),
  );
});

test.each([
  ['20 Nov 2026 14:05', '2026-11-20T14:05'],
  ['20/11/26 0630', '2026-11-20T06:30'],
  ['20 November 2026, 6:30 am', '2026-11-20T06:30'],
  ['2026-11-20T14:05', '2026-11-20T14:05'],
])('%s is %s', (text, when) => expect(typedWhen(text)).toBe(when));

test.each(['20 Nov 2026', '14:05', '31/6/2026 10:00'])('“%s” is no day with its time', (text) =>
  expect(typedWhen(text)).toBeUndefined(),
);
