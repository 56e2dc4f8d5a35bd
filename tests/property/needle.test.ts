import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CLASSES, FLOW_CLASSES } from '../../src-shared/label/terms.ts';
import { chooseNeedle, judgeNeedles } from '../../src-shared/needle/choose.ts';
import {
  eighths,
  LENGTH_NAMES,
  type Needle,
  printNeedle,
  sameNeedle,
} from '../../src-shared/needle/needle.ts';
import { isLamb, type NeedleAsk, TECHNIQUES } from '../../src-shared/needle/situation.ts';
import { GAUGES } from '../../src-shared/needle/tubing.ts';
import { amountOf } from '../../src-shared/quantity/amount.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { seeded } from './seed.ts';

/** Laws of the choice, held over random asks; the limits are written again here, as plain numbers from the sources. */

const gauge = fc.constantFrom(...GAUGES);
const lengthIn = fc.constantFrom(...LENGTH_NAMES);
const needle: fc.Arbitrary<Needle> = fc.record({ gauge, lengthIn });
const drawer = fc.array(needle, { minLength: 0, maxLength: 12 });
const maybe = <T>(what: fc.Arbitrary<T>) => fc.option(what, { nil: undefined, freq: 2 });
const stated = fc.record({ gauge: maybe(gauge), lengthIn: maybe(lengthIn) });

const asked: fc.Arbitrary<NeedleAsk> = fc
  .record({
    route: fc.constantFrom('sc' as const, 'im' as const),
    class: fc.constantFrom(...CLASSES),
    weight: fc.integer({ min: 1, max: 160 }).map((kg) => ({ value: String(kg), unit: 'kg' as const })),
    flowClass: fc.constantFrom(...FLOW_CLASSES),
    volume: fc.integer({ min: 1, max: 60_000 }).map((one) => amountOf('volume', one)),
    stains: maybe(fc.boolean()),
    irritates: maybe(fc.boolean()),
    leaks: maybe(fc.boolean()),
    condition: maybe(fc.constantFrom('thin' as const, 'fair' as const, 'fat' as const)),
    fleece: maybe(fc.constantFrom('short' as const, 'full' as const)),
    technique: maybe(fc.constantFrom(...TECHNIQUES)),
    label: maybe(stated),
    house: maybe(stated),
    inStock: fc.option(drawer, { nil: undefined, freq: 4 }),
  })
  .map((ask) => (ask.route === 'im' ? { ...ask, technique: undefined } : ask));

/** The choice, or undefined when nothing suits; anything else thrown is a fault. */
function chosen(ask: NeedleAsk): Needle | undefined {
  try {
    return chooseNeedle(ask).choice;
  } catch (thrown) {
    if (thrown instanceof Refusal && thrown.code === 'no-needle-suits') return undefined;
    throw thrown;
  }
}

test('a choice never breaks what label, house or class allow, nor what the technique reaches', () => {
  let answered = 0;
  fc.assert(
    fc.property(asked, (ask) => {
      const found = chosen(ask);
      if (found === undefined) return;
      answered += 1;
      const { label, house, inStock } = ask;
      const size = Number(found.gauge);
      const long = eighths(found.lengthIn);
      if (inStock !== undefined) expect(inStock.some((one) => sameNeedle(one, found))).toBe(true);
      expect(found.gauge).toBe(label?.gauge ?? house?.gauge ?? found.gauge);
      expect(found.lengthIn).toBe(label?.lengthIn ?? house?.lengthIn ?? found.lengthIn);
      const isYoung = isLamb(ask.class);
      const kg = Number(ask.weight?.value);
      if (label?.gauge === undefined) {
        expect(size).toBeGreaterThanOrEqual(isYoung ? 20 : 16);
        expect(size).toBeLessThanOrEqual(isYoung && kg < 12 ? 22 : 20);
        if (!isYoung && ['suspension', 'oily'].includes(ask.flowClass)) expect(size).toBeLessThanOrEqual(18);
      }
      if (label?.lengthIn === undefined) {
        const most = isYoung
          ? kg < 12
            ? 4
            : kg < 35
              ? 6
              : 8
          : ask.route === 'sc' || ask.condition === 'thin'
            ? 8
            : 12;
        expect(long).toBeLessThanOrEqual(most);
        if (ask.route === 'im')
          expect(long).toBeGreaterThanOrEqual(isYoung ? (kg < 12 ? 4 : kg < 35 ? 5 : 8) : 8);
      }
      if (ask.technique === 'slant' || ask.technique === 'straight') expect(found.lengthIn).toBe('1/4');
      if (ask.technique === 'straight') expect(ask.fleece).toBe('full');
    }),
    seeded('needle limits', 2000),
  );
  // Or the law would hold because nothing was ever chosen.
  expect(answered).toBeGreaterThan(200);
});

test('another needle in the drawer is chosen or changes nothing; it never worsens the choice', () => {
  fc.assert(
    fc.property(asked, drawer, needle, (ask, inStock, more) => {
      const before = chosen({ ...ask, inStock });
      const after = chosen({ ...ask, inStock: [...inStock, more] });
      const alone = chosen({ ...ask, inStock: [more] });
      if (after === undefined) {
        expect(before).toBeUndefined();
        expect(alone).toBeUndefined();
        return;
      }
      const unchanged = before !== undefined && sameNeedle(before, after);
      expect(unchanged || sameNeedle(more, after)).toBe(true);
      // Whatever won beats each of the two when only they lie there.
      for (const other of [before, alone]) {
        if (other !== undefined) expect(chosen({ ...ask, inStock: [other, after] })).toEqual(after);
      }
    }),
    seeded('needle drawer', 1000),
  );
});

test('the order of the drawer and doubles in it do not matter, and every needle of it is accounted for', () => {
  fc.assert(
    fc.property(asked, drawer, (ask, inStock) => {
      const first = judgeNeedles({ ...ask, inStock });
      const second = judgeNeedles({ ...ask, inStock: [...inStock.toReversed(), ...inStock] });
      expect(second.ranked).toEqual(first.ranked);
      expect(second.out).toEqual(first.out);
      const seen = [...first.ranked, ...first.out].map(printNeedle).toSorted();
      expect(seen).toEqual([...new Set(inStock.map(printNeedle))].toSorted());
    }),
    seeded('needle order', 500),
  );
});
