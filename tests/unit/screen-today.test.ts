import { expect, test } from 'vitest';
import {
  causesOf,
  clearingSoon,
  namesAndDays,
  namesAndTimes,
} from '../../src-renderer/screens/today/clearance-words.ts';

/** Who clears when on Today, from rows as the clear list gives them. */
const row = (shown: string, clear: string | undefined, heads = 1) => ({ shown, heads, clear });
const HELD = [
  row('Week lambs', '2026-04-01T00:00:00+01:00', 20),
  row('Bought ram', undefined),
  row('Noon ewe', '2026-03-25T12:00:00+00:00'),
  row('Late lambs', '2026-04-02T00:00:00+01:00', 30),
  row('Tomorrow ewe', '2026-03-26T00:00:00+00:00'),
];

test('what clears today, within seven days, and what no waiting clears are told apart, over a change of the clocks', () => {
  const { next, today, week, notByTime } = clearingSoon(HELD, '2026-03-25');
  expect(next?.shown).toBe('Noon ewe');
  expect(today.map(({ shown }) => shown)).toEqual(['Noon ewe']);
  // 1 April is the seventh day after 25 March, and 2 April is none of the seven.
  expect(week.map(({ shown }) => shown)).toEqual(['Tomorrow ewe', 'Week lambs']);
  expect(notByTime).toBe(1);
  expect(clearingSoon([], '2026-03-25')).toEqual({ next: undefined, today: [], week: [], notByTime: 0 });
});

test('two offsets are compared as the instants they are', () => {
  const summer = row('Summer', '2026-03-29T02:15:00+01:00');
  const winter = row('Winter', '2026-03-29T01:45:00+00:00');
  expect(clearingSoon([winter, summer], '2026-03-29').today.map(({ shown }) => shown)).toEqual([
    'Summer',
    'Winter',
  ]);
});

test('they are named with their day or their time, five of them, and the rest are counted', () => {
  expect(namesAndTimes(HELD.slice(2, 3))).toBe('Noon ewe at 12:00.');
  expect(namesAndDays(HELD.slice(4))).toBe('Tomorrow ewe on 26 Mar 2026.');
  const many = Array.from({ length: 7 }, (_, n) => row(`E${n}`, '2026-04-01T00:00:00+01:00'));
  expect(namesAndDays(many)).toMatch(/^E0 on 1 Apr 2026; .*E4 on 1 Apr 2026; and 2 more\.$/);
});

test('causes are counted by the head, most first; two doses of one medicine hold one animal once', () => {
  const hold = (text: string, product?: string) =>
    ({ text, ...(product === undefined ? {} : { product }) }) as never;
  expect(
    causesOf([
      { heads: 3, holds: [hold('Meat held; no period is stated (came in with no statement)')] },
      { heads: 20, holds: [hold('a', 'Calverol drench'), hold('b', 'Calverol drench')] },
    ]),
  ).toBe('20 head: Calverol drench; 3 head: came in with no statement.');
});
