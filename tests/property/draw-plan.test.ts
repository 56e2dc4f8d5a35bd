import fc from 'fast-check';
import { expect, test } from 'vitest';
import { drawCourse } from '../../src-shared/stock/course-draw.ts';
import { planDraw, type StockRow } from '../../src-shared/stock/draw.ts';
import { seeded } from './seed.ts';

/** Days are counted from this one, by the calendar alone. */
const START = Date.UTC(2026, 4, 1);
const day = (n: number) => new Date(START + n * 86_400_000).toISOString().slice(0, 10);

/** A container as the test sees it: no state of the program, only what was done with it. */
type Bottle = {
  left: number;
  /** First day on which it may not be used unopened. */
  expires: number;
  /** The day it was opened, at or before the start; in-use days on its label. */
  opened: number | undefined;
  keeps: number | undefined;
  aside: 'no' | 'quarantined' | 'disposed' | 'returned';
};
const bottles = fc.array(
  fc.record({
    left: fc.integer({ min: -5, max: 60 }),
    expires: fc.integer({ min: -3, max: 25 }),
    opened: fc.option(fc.integer({ min: -12, max: 0 }), { nil: undefined }),
    keeps: fc.option(fc.integer({ min: 1, max: 14 }), { nil: undefined }),
    aside: fc.constantFrom('no', 'no', 'no', 'no', 'quarantined', 'disposed', 'returned'),
  }) as fc.Arbitrary<Bottle>,
  { maxLength: 6 },
);
const needs = fc
  .uniqueArray(fc.integer({ min: 0, max: 20 }), { minLength: 1, maxLength: 5 })
  .chain((days) =>
    fc
      .tuple(...days.map(() => fc.integer({ min: 0, max: 70 })))
      .map((amounts) => days.toSorted((a, b) => a - b).map((on, i) => ({ on, need: amounts[i] ?? 0 }))),
  );

/** The first day on which it may not be used, when it is opened on a day. */
const endOf = ({ expires, keeps }: Bottle, opened: number | undefined) =>
  opened === undefined || keeps === undefined ? expires : Math.min(expires, opened + keeps);

const rowOf = (bottle: Bottle, i: number): StockRow => ({
  id: `c${i}`,
  label: `L${i}`,
  medicine: 'm',
  revision: `r${i}`,
  batch: 'b',
  number: 'B',
  kind: 'volume',
  received: 60,
  left_units: bottle.left,
  state: bottle.aside === 'no' ? (bottle.opened === undefined ? 'sealed' : 'open') : bottle.aside,
  opened: bottle.opened === undefined ? null : day(bottle.opened),
  unusable_from: day(endOf(bottle, bottle.opened)),
  unopened_until: day(bottle.expires),
  store: null,
  strength: null,
  counted: null,
  since_at: null,
  since_local: null,
});

test('a course is never planned from what is expired, open too long, set aside, gone or empty, on any of its days', () => {
  let short = 0;
  let crossed = 0;
  fc.assert(
    fc.property(bottles, needs, (all, days) => {
      const plan = drawCourse(
        all.map(rowOf),
        days.map(({ on, need }) => ({ local: day(on), need })),
        {
          zone: 'Europe/London',
          inUse: ({ id }) => {
            const keeps = all[Number(id.slice(1))]?.keeps;
            return keeps === undefined ? undefined : `${keeps} d`;
          },
        },
      );
      // Played by hand: what is left, and since when each is open.
      const now = all.map(({ left, opened }) => ({ left, opened }));
      days.forEach(({ on, need }, i) => {
        const { draws = [], short: missing = 0, local } = plan[i] ?? {};
        expect(local).toBe(day(on));
        const mayUse = (n: number) => {
          const bottle = all[n];
          const stands = now[n];
          if (bottle === undefined || stands === undefined) return false;
          return bottle.aside === 'no' && stands.left > 0 && on < endOf(bottle, stands.opened);
        };
        for (const { container, take } of draws) {
          const n = Number(container.slice(1));
          const stands = now[n];
          if (stands === undefined) throw new Error(`no container ${container}`);
          expect(mayUse(n)).toBe(true);
          expect(take).toBeGreaterThan(0);
          expect(take).toBeLessThanOrEqual(stands.left);
          stands.left -= take;
          stands.opened ??= on;
        }
        expect(draws.reduce((sum, { take }) => sum + take, missing)).toBe(need);
        // Short only when there is nothing left to take.
        if (missing > 0) expect(all.some((_, n) => mayUse(n))).toBe(false);
        if (missing > 0) short += 1;
        if (draws.length > 1) crossed += 1;
      });
    }),
    seeded('a course and its bottles', 500),
  );
  expect(Math.min(short, crossed)).toBeGreaterThan(0);
});

test('of sealed ones that end together as few as can be are opened', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 6 }),
      fc.integer({ min: 1, max: 120 }),
      (sizes, need) => {
        const rows = sizes.map((left, i) =>
          rowOf({ left, expires: 20, opened: undefined, keeps: undefined, aside: 'no' }, i),
        );
        const { draws } = planDraw(rows, need, { now: day(0) });
        // Every choice of bottles, tried out.
        let fewest = sizes.length;
        for (let choice = 1; choice < 1 << sizes.length; choice += 1) {
          const chosen = sizes.filter((_, i) => (choice >> i) & 1);
          if (chosen.reduce((sum, size) => sum + size, 0) >= need) fewest = Math.min(fewest, chosen.length);
        }
        expect(draws).toHaveLength(fewest);
      },
    ),
    seeded('fewest opened', 300),
  );
});
