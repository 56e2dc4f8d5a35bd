import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Store } from '../../src-main/store/store.ts';
import { bounded, withHistory } from '../model/book-place.ts';
import { answersOf, type BookAnswers } from '../model/compare-book.ts';
import { type Script, type StepScript, scripts } from '../model/script.ts';
import { seeded } from './seed.ts';

const runs = Number(process.env.FOLDBOOK_RUNS ?? 25);
const NEVER = 'never';
const steps = scripts.map((script) => script.steps);
const treatment = steps
  .filter((all) => all.some((each) => each.do === 'treat'))
  .map((all) => all.find((each) => each.do === 'treat') as Extract<StepScript, { do: 'treat' }>);

/** Until when the meat or milk of everything that is there is barred by the book: an instant, never, or nothing. */
function barredUntil(book: BookAnswers): Map<string, string> {
  const until = new Map<string, string>();
  for (const [subject, rows] of book.holds) {
    for (const row of rows) {
      if (row.clock !== 'food' || row.market !== 'domestic' || row.state === 'none') continue;
      const timed = (row.state === 'until' || row.state === 'dormant') && row.until !== null;
      const end = timed ? (row.until ?? NEVER) : NEVER;
      const key = `${subject} ${row.produce}`;
      const before = until.get(key);
      // "never" sorts after every instant, which begins with a digit.
      if (before === undefined || end > before) until.set(key, end);
    }
  }
  return until;
}

const read = (script: Script): BookAnswers => withHistory(script, (store: Store) => answersOf(store.read));
const followedBy = (script: Script, ...more: StepScript[]): Script => ({
  ...script,
  steps: [...script.steps, ...more],
});

test('one more treatment never makes anything clear earlier', () => {
  fc.assert(
    fc.property(scripts, treatment, (script, more) => {
      const before = barredUntil(read(script));
      const after = barredUntil(read(followedBy(script, more)));
      for (const [key, end] of before)
        expect({ key, later: (after.get(key) ?? '') >= end }).toEqual({ key, later: true });
    }),
    bounded(seeded('one more treatment', runs)),
  );
}, 600_000);

test('splitting a lot and merging it back never clears anyone', () => {
  fc.assert(
    fc.property(scripts, fc.nat({ max: 2 }), fc.integer({ min: 1, max: 5 }), (script, lot, heads) => {
      const day = { day: 20, time: '08:00' as const, odd: false };
      const plain = read(script);
      const count = plain.present.get(`lot:l${lot}`) ?? 0;
      fc.pre(count > heads);
      // The new lot is the last of all lots; it takes the heads and goes back into the first that is not itself.
      const split = {
        do: 'move' as const,
        from: lot,
        to: 'new' as const,
        which: 0,
        heads,
        when: day,
        meets: false,
      };
      const made = script.steps.filter((each) => each.do === 'move' && each.to === 'new').length;
      const merge = { ...split, from: 3 + made, to: 'lot' as const, which: lot, when: { ...day, day: 21 } };
      const both = read(followedBy(script, split, merge));
      expect(both.present.get(`lot:l${lot}`)).toBe(count);
      const before = barredUntil(plain);
      const after = barredUntil(both);
      expect([...before].filter(([key]) => !both.present.has(key.split(' ')[0] ?? ''))).toEqual([]);
      for (const [key, end] of before)
        expect({ key, later: (after.get(key) ?? '') >= end }).toEqual({ key, later: true });
    }),
    bounded(seeded('split and merge', runs)),
  );
}, 600_000);

test('what is not stated never clears, and a balance is the sum of its movements', () => {
  let seen = 0;
  fc.assert(
    fc.property(scripts, treatment, (script, more) => {
      const counted = { milkFrom: 'last-dose' as const, milkFromDose: '3 d' as const };
      const silent = {
        ...counted,
        purpose: 'parasites' as const,
        meat: undefined,
        milk: undefined,
        rows: [],
      };
      const labels: Script['labels'] = [silent, silent, silent];
      const kept = script.steps.filter(
        (each) => each.do !== 'label' && each.do !== 'void' && each.do !== 'replace',
      );
      const book = read(followedBy({ ...script, labels, steps: kept }, { ...more, beyond: false }));
      for (const [subject, rows] of book.holds) {
        for (const row of rows) {
          if (row.cause !== 'treatment') continue;
          seen += 1;
          expect([subject, row.state === 'dormant' ? 'unknown' : row.state, row.until]).toEqual([
            subject,
            'unknown',
            null,
          ]);
        }
      }
      for (const [container, left] of book.balances) expect(book.sums.get(container)).toBe(left);
    }),
    bounded(seeded('not stated', runs)),
  );
  expect(seen).toBeGreaterThan(0);
}, 600_000);
