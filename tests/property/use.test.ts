import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { amountOf } from '../../src-shared/quantity/amount.ts';
import { fraction, toDecimal } from '../../src-shared/quantity/fraction.ts';
import { parseStrength } from '../../src-shared/quantity/strength.ts';
import { useOf } from '../../src-shared/record/use.ts';
import { shareOut } from '../../src-shared/stock/share-out.ts';
import { seeded } from './seed.ts';

// Held against whole numbers worked out here: no code of the program works out what is expected.

describe('money shared out', () => {
  it('adds up to its rounded sum, and no part is a whole unit away from what it was', () => {
    const parts = fc.array(
      fc.record({ n: fc.integer({ min: 0, max: 100_000 }), d: fc.integer({ min: 1, max: 400 }) }),
      { maxLength: 30 },
    );
    fc.assert(
      fc.property(parts, (all) => {
        const units = shareOut(all.map(({ n, d }) => fraction(n, BigInt(d))));
        // The sum over one denominator, in whole numbers: twice the sum and one, halved down, rounds a half up.
        const bottom = all.reduce((product, { d }) => product * BigInt(d), 1n);
        const top = all.reduce((sum, { n, d }) => sum + (BigInt(n) * bottom) / BigInt(d), 0n);
        expect(BigInt(units.reduce((sum, one) => sum + one, 0))).toBe((2n * top + bottom) / (2n * bottom));
        for (const [i, { n, d }] of all.entries()) {
          const off = BigInt(units[i] ?? -1) * BigInt(d) - BigInt(n);
          expect(off > -BigInt(d) && off < BigInt(d)).toBe(true);
        }
      }),
      seeded('share-out'),
    );
  });
});

describe('active substance used', () => {
  it('is what whole numbers say, however it is cut into treatments', () => {
    const given = fc.record({
      cuts: fc.array(fc.integer({ min: 1, max: 5_000_000 }), { minLength: 1, maxLength: 6 }),
      mgPerMl: fc.integer({ min: 1, max: 900 }),
      heads: fc.integer({ min: 1, max: 5000 }),
    });
    fc.assert(
      fc.property(given, ({ cuts, mgPerMl, heads }) => {
        const strength = parseStrength(`${mgPerMl} mg/mL`, 'strength');
        const animals = [{ count: heads, kg: fraction(75) }];
        const { totalMg } = useOf(
          cuts.map((microlitres) => ({ amount: amountOf('volume', microlitres), strength })),
          animals,
        );
        const micrograms = cuts.reduce((sum, one) => sum + BigInt(one) * BigInt(mgPerMl), 0n);
        expect(toDecimal(totalMg)).toBe(toDecimal(fraction(micrograms, 1000n)));
      }),
      seeded('use'),
    );
  });
});
