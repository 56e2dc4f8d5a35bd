import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { type FlowAsk, flowThrough, MOST_LAMINAR } from '../../src-shared/needle/flow.ts';
import { type ForceAsk, type ForceRange, forceRange } from '../../src-shared/needle/force-range.ts';
import { GAUGES, readGauge } from '../../src-shared/needle/tubing.ts';
import { add, compare, type Fraction, fraction, toDecimal } from '../../src-shared/quantity/fraction.ts';
import { seeded } from './seed.ts';

const options = seeded('needle flow');
const check = (property: fc.IRawProperty<unknown>) => fc.assert(property, options);

const thousandths = (min: number, max: number) =>
  fc.integer({ min, max }).map((count) => fraction(count, 1000n));
const flowAsk = fc.record({
  viscosityMpaS: thousandths(700, 300_000),
  boreMm: thousandths(100, 1700),
  lengthMm: thousandths(5000, 50_000),
  barrelMm: thousandths(4000, 30_000),
  flowMlPerS: thousandths(10, 3000),
  densityGPerMl: thousandths(800, 1400),
  frictionN: thousandths(0, 10_000),
});
const more = thousandths(1, 5000);

/** The force, or undefined where the flow is not laminar. */
function forceOf(ask: FlowAsk): Fraction | undefined {
  const flow = flowThrough(ask);
  return flow.laminar ? flow.forceN : undefined;
}

/** With more of one value the force goes the way it should; where either flow is not laminar, nothing is claimed. */
function goes(field: keyof FlowAsk, way: 'up' | 'down') {
  let compared = 0;
  check(
    fc.property(flowAsk, more, (ask, step) => {
      const before = forceOf(ask);
      const after = forceOf({ ...ask, [field]: add(ask[field], step) });
      if (before === undefined || after === undefined) return;
      compared += 1;
      const moved = compare(after, before);
      expect(way === 'up' ? moved : -moved).toBeGreaterThan(0);
    }),
  );
  // A property that never met a laminar flow would have shown nothing.
  expect(compared).toBeGreaterThan(options.numRuns / 4);
}

describe('the force on the plunger', () => {
  it('falls with the bore', () => goes('boreMm', 'down'));
  it('rises with the length', () => goes('lengthMm', 'up'));
  it('rises with the speed', () => goes('flowMlPerS', 'up'));
  it('rises with the viscosity', () => goes('viscosityMpaS', 'up'));
  it('rises with the barrel', () => goes('barrelMm', 'up'));
  it('rises with the friction', () => goes('frictionN', 'up'));

  it('is told exactly when the Reynolds number is at most 2300, and so is the pressure', () => {
    check(
      fc.property(flowAsk, (ask) => {
        const typed = Object.fromEntries(
          Object.entries(ask).map(([name, value]) => [name, toDecimal(value)]),
        );
        const answer = workOut('flow', typed);
        const isLaminar = compare(flowThrough(ask).reynolds, MOST_LAMINAR) <= 0;
        expect(answer.laminar).toBe(isLaminar);
        expect('forceN' in answer).toBe(isLaminar);
        expect('pressureKpa' in answer).toBe(isLaminar);
      }),
    );
  });
});

const forceAsk: fc.Arbitrary<ForceAsk> = fc.record({
  thickness: fc.oneof(
    fc.constantFrom('watery' as const, 'syrupy' as const, 'suspension' as const, 'oily' as const),
    fc
      .tuple(thousandths(700, 200_000), thousandths(0, 200_000))
      .map(([least, span]) => ({ least, most: add(least, span) })),
  ),
  gauge: fc.constantFrom(...GAUGES),
  lengthMm: thousandths(6000, 40_000),
  barrelMm: thousandths(4000, 30_000),
  mlPerS: thousandths(10, 2000),
  temperature: fc.constantFrom('warm' as const, 'cold' as const),
});

function rises(from: ForceRange, to: ForceRange): void {
  if (!from.laminar || !to.laminar) return;
  expect(compare(to.forceN.least, from.forceN.least)).toBeGreaterThan(0);
  expect(compare(to.forceN.most, from.forceN.most)).toBeGreaterThan(0);
}

describe('the range of force', () => {
  it('is always a range, and has the law’s own answer for every bore and thickness in it', () => {
    check(
      fc.property(
        forceAsk,
        fc.integer({ min: 0, max: 100 }),
        fc.integer({ min: 0, max: 100 }),
        (ask, b, v) => {
          const range = forceRange(ask);
          if (!range.laminar) return;
          const between = (least: Fraction, most: Fraction, percent: number) =>
            fraction(
              least.n * most.d * BigInt(100 - percent) + most.n * least.d * BigInt(percent),
              least.d * most.d * 100n,
            );
          const inside = forceOf({
            viscosityMpaS: between(range.viscosityMpaS.least, range.viscosityMpaS.most, v),
            boreMm: between(range.bores.narrowest.mm, range.bores.widest.mm, b),
            lengthMm: add(ask.lengthMm, fraction(7)),
            barrelMm: ask.barrelMm,
            flowMlPerS: ask.mlPerS,
            frictionN: fraction(4),
          });
          if (inside === undefined) throw new Error('Laminar at the ends and not between.');
          expect(compare(range.forceN.most, inside)).toBeGreaterThan(0);
          expect(compare(range.forceN.least, inside)).toBeLessThan(0);
        },
      ),
    );
  });

  it('rises from warm to cold, from each gauge to the next thinner, with length and with speed', () => {
    check(
      fc.property(forceAsk, more, (ask, step) => {
        const range = forceRange(ask);
        rises(forceRange({ ...ask, temperature: 'warm' }), forceRange({ ...ask, temperature: 'cold' }));
        rises(range, forceRange({ ...ask, lengthMm: add(ask.lengthMm, step) }));
        rises(range, forceRange({ ...ask, mlPerS: add(ask.mlPerS, step) }));
        const thinner = GAUGES[GAUGES.indexOf(readGauge(ask.gauge, 'gauge')) + 1];
        if (thinner !== undefined) rises(range, forceRange({ ...ask, gauge: thinner }));
      }),
    );
  });
});
