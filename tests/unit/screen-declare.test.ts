import { expect, test } from 'vitest';
import {
  clearWords,
  departureAt,
  headsOf,
  heldColumns,
  keepGoing,
  readGoing,
  whyWords,
  withMore,
  without,
} from '../../src-renderer/screens/declare/clear-rows.ts';

test('why one is held leaves out the date beside it, and keeps the sentence where there is none', () => {
  const hold = (text: string) => ({
    produce: 'meat',
    market: 'domestic',
    clock: 'food',
    state: 'until' as const,
    text,
    cause: 'treatment',
    source: 's',
    working: [],
  });
  const texts = [
    'Meat held until 9 Dec 2026, 00:00 (Marlexan 2.5 % drench, 28 d)',
    'Meat held until 1 Dec 2026, 00:00 (Hobbigan injection (new), 11 d)',
  ];
  expect(whyWords({ clear: '2026-12-09T00:00:00Z', why: texts.join('; '), holds: texts.map(hold) })).toBe(
    'Marlexan 2.5 % drench, 28 d; Hobbigan injection (new), 11 d',
  );
  const none = 'Meat held; no period is stated, so time alone never clears it (came in)';
  expect(whyWords({ why: none, holds: [hold(none)] })).toBe(none);
});

test('a later departure is never before the moment the meat is clear', () => {
  expect(departureAt('2026-03-30T00:00:00+01:00')).toBe('2026-03-30');
  expect(departureAt('2026-03-30T08:15:00+01:00')).toBe('2026-03-30T08:15');
  // A form says minutes: what clears within one is safe only from the next.
  expect(departureAt('2026-03-30T08:15:01+01:00')).toBe('2026-03-30T08:16');
  expect(departureAt('2026-03-30T08:15:00.500Z')).toBe('2026-03-30T08:16');
  expect(departureAt('2026-12-31T23:59:30Z')).toBe('2027-01-01');
});

test('a held row says its date, or that no waiting clears it', () => {
  expect(clearWords({ clear: '2026-03-30T00:00:00+01:00' })).toBe('30 Mar 2026, 00:00');
  expect(clearWords({})).toBe('no date: waiting does not clear it');
  const until = heldColumns.find((column) => column.key === 'until');
  const held = (clear: string) => ({
    subject: 's',
    shown: 's',
    class: 'ewe',
    heads: 1,
    why: '',
    holds: [],
    clear,
  });
  const { clear, ...never } = held('x');
  expect(clear).toBe('x');
  const order = [never, held('2026-12-01T00:00:00Z'), held('2026-02-01T00:00:00Z')].map((row) =>
    until?.order?.(row),
  );
  expect(order.toSorted()).toEqual(['2026-02-01T00:00:00Z', '2026-12-01T00:00:00Z', '9999']);
});

test('a consignment keeps each head once, and the heads that were said of a lot', () => {
  expect(readGoing('animal:7')).toEqual({ subject: 'animal:7' });
  expect(readGoing('lot:3 20')).toEqual({ subject: 'lot:3', heads: 20 });
  expect(keepGoing({ subject: 'lot:3', heads: 20 })).toBe('lot:3 20');
  expect(keepGoing({ subject: 'animal:7' })).toBe('animal:7');
  const list = ['lot:3 20', 'animal:7'];
  expect(withMore(list, ['lot:3', 'animal:8', 'animal:8', 'animal:7'])).toEqual([
    'lot:3 20',
    'animal:7',
    'animal:8',
  ]);
  expect(without(list, ['lot:3'])).toEqual(['animal:7']);
  expect(headsOf([{ heads: 45 }, { heads: 1 }])).toBe(46);
});
