import { afterEach, beforeEach, expect, test } from 'vitest';
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
