import { afterEach, beforeEach, expect, test } from 'vitest';
import { verdictsOn } from '../../src-main/answers/flock/standing.ts';
import type { HoldRow } from '../../src-main/answers/reading/holds.ts';
import { sayHold } from '../../src-main/answers/reading/say-hold.ts';
import { type FlockBook, flockBook } from './flock-book.ts';

let book: FlockBook;
beforeEach(() => {
  book = flockBook();
});
afterEach(() => book.close());

const TAG = 'UK 0 123456 00001';
const pageOf = (subject: string) => book.call('subject', { subject });

test('an animal nobody treated is clear, and milk is not spoken of where none is taken', () => {
  const { animal } = book.call('set-animal', { holding: 'h1', tag: TAG, class: 'ewe' });
  const page = pageOf(`animal:${animal}`);
  expect(page.verdicts).toEqual([
    { produce: 'meat', state: 'clear', big: 'Clear', why: ['No hold is on record.'], working: [] },
  ]);
  expect(page).toMatchObject({ before: [], origin: 'own', holding: 'h1', waits: [] });
});

test('a bought animal has no date, waits for a statement, and says whose word ended it', () => {
  const { animal } = book.call('set-animal', { holding: 'h1', tag: TAG, class: 'ewe', origin: 'bought' });
  const subject = `animal:${animal}`;
  const page = pageOf(subject);
  expect(page.verdicts[0]).toMatchObject({ produce: 'meat', state: 'no-end', big: 'No date' });
  const [wait] = page.waits;
  expect(wait).toMatchObject({ subject, cause: 'bought-in', on: TAG });
  book.at('2026-04-12T12:00:00.000Z');
  book.enter(
    'hold-ended',
    { hold: wait?.hold ?? '', subject, how: 'statement', why: 'the seller signed' },
    '2026-04-12T12:30',
  );
  expect(pageOf(subject)).toMatchObject({
    waits: [],
    verdicts: [{ state: 'clear', why: ['Every hold on record has ended.'] }],
  });
});

test('milk of one that gives none has no date to wait for: what would follow is said, once for each medicine', () => {
  const { animal } = book.call('set-animal', { holding: 'h1', tag: TAG, class: 'ewe' });
  const hold = (until: string | null, period: string | null) => ({
    subject: `animal:${animal}`,
    on_subject: `animal:${animal}`,
    source: `administration:${until}`,
    cause: 'treatment',
    produce: 'milk',
    market: 'domestic',
    clock: 'food',
    state: 'dormant' as const,
    until,
    event: null,
    period,
    from_at: '2026-03-01T09:00:00.000Z',
    data: JSON.stringify({ state: 'dormant', wakes: until === null ? 'life' : 'until', working: [] }),
    product: until === null ? 'Grennovex' : 'Ovexil',
  });
  const now = '2026-03-02T09:00:00.000Z';
  const [, milk] = verdictsOn(
    { store: book.store, now: () => now },
    [
      hold('2026-03-09T09:00:00.000Z', '8 d'),
      hold('2026-03-05T09:00:00.000Z', '4 d'),
      hold(null, null),
      hold(null, null),
      // No days at all: it never bars, so nothing is said of it.
      hold('2026-03-01T09:00:00.000Z', '0 d'),
    ],
    { zone: 'Europe/London', milk: true } as Parameters<typeof verdictsOn>[2],
  );
  expect(milk).toMatchObject({
    state: 'not-in-milk',
    big: 'Not in milk',
    why: [
      'If it comes into milk, held until 9 Mar 2026, 09:00 (Ovexil, 8 d).',
      'If it comes into milk, held for life (Grennovex).',
    ],
  });
});

test('a period of no days is said as no withdrawal, and with a margin as its date', () => {
  const none = {
    cause: 'treatment',
    produce: 'meat',
    state: 'until' as const,
    until: '2026-03-05T09:30:00.000Z',
    from_at: '2026-03-05T09:30:00.000Z',
    period: '0 d',
    data: JSON.stringify({ working: [] }),
    product: 'Ovexil',
  } as HoldRow;
  expect(sayHold(none, 'Europe/London').text).toBe('Meat: no withdrawal (0 days) (Ovexil)');
  expect(sayHold({ ...none, until: '2026-03-07T09:30:00.000Z' }, 'Europe/London').text).toBe(
    'Meat held until 7 Mar 2026, 09:30 (Ovexil, 0 d)',
  );
});

test('a hold that came with heads from a lot waits on that lot', () => {
  const { lot } = book.call('set-lot', {
    holding: 'h1',
    name: 'Bought lambs',
    class: 'lamb',
    heads: 10,
    standing: 'unknown',
  });
  const { to } = book.call('move-heads', { from: lot, heads: 1, to: { tag: TAG } });
  expect(pageOf(to).waits).toMatchObject([{ subject: `lot:${lot}`, on: 'Bought lambs' }]);
});

test('a clock in doubt calls nothing clear', () => {
  const { animal } = book.call('set-animal', { holding: 'h1', tag: TAG, class: 'ewe' });
  book.at('2026-08-01T10:00:00.000Z');
  expect(pageOf(`animal:${animal}`).verdicts[0]).toMatchObject({ state: 'not-known', big: 'Not known' });
});

test('earlier numbers are told as they were written', () => {
  const { animal } = book.call('set-animal', { holding: 'h1', tag: TAG, management: '17', class: 'ewe' });
  book.call('set-animal', { holding: 'h1', animal, tag: 'UK 0 123456 00002', class: 'ewe' });
  expect(pageOf(`animal:${animal}`)).toMatchObject({
    before: [TAG],
    who: { tag: 'UK 0 123456 00002', management: '17' },
  });
});
