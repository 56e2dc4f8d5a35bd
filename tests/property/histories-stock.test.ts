import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bounded, withHistory } from '../model/book-place.ts';
import { answersOf } from '../model/compare-book.ts';
import { scripts } from '../model/script.ts';
import { seeded } from './seed.ts';

const runs = Number(process.env.FOLDBOOK_RUNS ?? 40);

/**
 * What came in is where it went, container by container: received + made up = drawn + used to make + lost + disposed of
 * + returned + on hand, less what counting put right. Each cause also has its sign, so that no two faults hide each
 * other.
 */
test('received + made up = drawn + lost + disposed + returned + on hand ± counted', () => {
  let counted = 0;
  fc.assert(
    fc.property(scripts, (script) => {
      withHistory(script, (store) => {
        const book = answersOf(store.read);
        for (const [container, onHand] of book.balances) {
          const of = (cause: string) => book.byCause.get(`${container} ${cause}`) ?? 0n;
          const came = of('received') + of('made-up');
          const went = -(of('drawn') + of('used-to-make') + of('lost') + of('disposed') + of('returned'));
          expect(came).toBe(went + onHand - of('counted'));
          expect(came).toBeGreaterThan(0n);
          for (const cause of ['drawn', 'used-to-make', 'lost', 'disposed', 'returned']) {
            expect(of(cause)).toBeLessThanOrEqual(0n);
          }
          if (of('counted') !== 0n) counted += 1;
        }
      });
    }),
    bounded(seeded('stock in and out', runs)),
  );
  // A run in which nothing was ever counted would not have looked at counts at all.
  expect(counted).toBeGreaterThan(0);
}, 300_000);
