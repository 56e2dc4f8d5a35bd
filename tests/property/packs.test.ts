import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { amountOf, baseOf } from '../../src-shared/quantity/amount.ts';
import { planPacks } from '../../src-shared/stock/packs.ts';
import { seeded } from './seed.ts';

// Held against every mix there is, opened on any day, in whole numbers of its own: no code of the program works out
// what is expected. Here packs are kept one by one, as they stand on a shelf.

type Case = {
  needs: { day: number; ml: number }[];
  packs: { ml: number; price: number }[];
  life: number | undefined;
};

const cases: fc.Arbitrary<Case> = fc.record({
  needs: fc.uniqueArray(
    fc.record({ day: fc.integer({ min: 0, max: 12 }), ml: fc.integer({ min: 1, max: 22 }) }),
    { minLength: 1, maxLength: 3, selector: ({ day }) => day },
  ),
  packs: fc.array(
    fc.record({ ml: fc.integer({ min: 3, max: 15 }), price: fc.integer({ min: 0, max: 40 }) }),
    { minLength: 1, maxLength: 3 },
  ),
  life: fc.option(fc.integer({ min: 1, max: 9 }), { nil: undefined }),
});

/** More days and fewer sizes, close together: what is left may die before, with or after what is opened later. */
const longer: fc.Arbitrary<Case> = fc.record({
  needs: fc.uniqueArray(
    fc.record({ day: fc.integer({ min: 0, max: 7 }), ml: fc.integer({ min: 1, max: 9 }) }),
    { minLength: 4, maxLength: 5, selector: ({ day }) => day },
  ),
  packs: fc.array(
    fc.record({ ml: fc.integer({ min: 3, max: 20 }), price: fc.integer({ min: 5, max: 20 }) }),
    { minLength: 2, maxLength: 2 },
  ),
  life: fc.integer({ min: 2, max: 5 }),
});

type Shelf = { left: number; dies: number }[];

/** Takes from what dies first; undefined where that is not enough. */
function take(shelf: Shelf, ml: number, day: number): Shelf | undefined {
  const alive = shelf.filter(({ dies }) => day < dies).toSorted((a, b) => a.dies - b.dies);
  let rest = ml;
  const after = alive.map(({ left, dies }) => {
    const taken = Math.min(left, rest);
    rest -= taken;
    return { left: left - taken, dies };
  });
  return rest > 0 ? undefined : after.filter(({ left }) => left > 0);
}

/** The least cost over every count of every pack opened on every day, and of such mixes the least that is bought. */
function best({ needs, packs, life }: Case): { cost: number; ml: number } {
  const days = needs.toSorted((a, b) => a.day - b.day);
  let found = { cost: Number.POSITIVE_INFINITY, ml: 0 };
  const walk = (i: number, shelf: Shelf, cost: number, ml: number) => {
    if (cost > found.cost || (cost === found.cost && ml >= found.ml)) return;
    const need = days[i];
    if (need === undefined) {
      found = { cost, ml };
      return;
    }
    const ahead = days.slice(i).reduce((sum, day) => sum + day.ml, 0);
    const open = (pack: number, now: Shelf, spent: number, bought: number) => {
      const offer = packs[pack];
      if (offer === undefined) {
        const after = take(now, need.ml, need.day);
        if (after !== undefined) walk(i + 1, after, spent, ml + bought);
        return;
      }
      const dies = life === undefined ? Number.POSITIVE_INFINITY : need.day + life;
      // More than all that is still needed is never worth opening.
      for (let n = 0; n === 0 || bought + (n - 1) * offer.ml < ahead; n += 1) {
        const opened = Array.from({ length: n }, () => ({ left: offer.ml, dies }));
        open(pack + 1, [...now, ...opened], spent + n * offer.price, bought + n * offer.ml);
      }
    };
    open(0, shelf, cost, 0);
  };
  walk(0, [], 0, 0);
  return found;
}

const dayText = (day: number) => `2026-05-${String(day + 1).padStart(2, '0')}`;

function asked({ needs, packs, life }: Case) {
  return planPacks({
    needs: needs.map(({ day, ml }) => ({ on: dayText(day), amount: amountOf('volume', ml * 1000) })),
    packs: packs.map(({ ml, price }) => ({ size: amountOf('volume', ml * 1000), price })),
    inUse: life === undefined ? undefined : `${life} d`,
  });
}

describe('packs', () => {
  it('cost as little as the cheapest of all mixes, and leave as little over', () => {
    fc.assert(
      fc.property(fc.oneof(cases, longer), (one) => {
        const plan = asked(one);
        const needed = one.needs.reduce((sum, { ml }) => sum + ml, 0);
        expect({ cost: plan.cost, ml: baseOf(plan.leftOver) / 1000 + needed }).toEqual(best(one));
      }),
      seeded('packs'),
    );
  });

  it('cover every day from packs that are alive on it, and add up', () => {
    fc.assert(
      fc.property(fc.oneof(cases, longer), (one) => {
        const plan = asked(one);
        let shelf: Shelf = [];
        for (const { on, opens } of plan.days) {
          const need = one.needs.find(({ day }) => dayText(day) === on);
          if (need === undefined) throw new Error(`nothing is needed on ${on}`);
          const dies = one.life === undefined ? Number.POSITIVE_INFINITY : need.day + one.life;
          const opened = opens.flatMap((count, i) =>
            Array.from({ length: count }, () => ({ left: one.packs[i]?.ml ?? 0, dies })),
          );
          const after = take([...shelf, ...opened], need.ml, need.day);
          if (after === undefined) throw new Error(`${on} is not covered`);
          shelf = after;
        }
        const bought = plan.buy.reduce((sum, { pack, count }) => sum + count * (one.packs[pack]?.ml ?? 0), 0);
        const paid = plan.buy.reduce(
          (sum, { pack, count }) => sum + count * (one.packs[pack]?.price ?? 0),
          0,
        );
        const needed = one.needs.reduce((sum, { ml }) => sum + ml, 0);
        expect(paid).toBe(plan.cost);
        expect(baseOf(plan.leftOver)).toBe((bought - needed) * 1000);
        expect(plan.days).toHaveLength(one.needs.length);
      }),
      seeded('packs add up'),
    );
  });
});
