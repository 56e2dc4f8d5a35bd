import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { workOutDose } from '../../src-shared/dose/dose.ts';
import { amountOf, baseOf, inDoseUnits, parseAmount, printAmount } from '../../src-shared/quantity/amount.ts';
import {
  absolute,
  add,
  ceilingOf,
  compare,
  divide,
  type Fraction,
  floorOf,
  fraction,
  multiply,
  parseDecimal,
  roundTo,
  subtract,
  toDecimal,
} from '../../src-shared/quantity/fraction.ts';
import { parsePeriod, printPeriod } from '../../src-shared/quantity/period.ts';
import { type ParsedRate, parseRate, perKilogram, shortRate } from '../../src-shared/quantity/rate.ts';
import { type ParsedStrength, parseStrength, shortStrength } from '../../src-shared/quantity/strength.ts';
import { kilograms, parseWeight, printWeight, type Weight } from '../../src-shared/quantity/weight.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { seeded } from './seed.ts';

const options = seeded('arithmetic');
const check = (property: fc.IRawProperty<unknown>) => fc.assert(property, options);

/** A plain decimal above zero, as a person types it. */
const decimal = (mostWhole: number, places: number) =>
  fc
    .tuple(
      fc.integer({ min: 0, max: mostWhole }),
      fc.integer({ min: 0, max: 10 ** places - 1 }),
      fc.nat(places),
    )
    .map(([whole, part, shown]) => {
      const digits = String(part).padStart(places, '0').slice(0, shown);
      return digits === '' ? String(whole) : `${whole}.${digits}`;
    })
    .filter((text) => /[1-9]/.test(text));

const anyFraction = fc
  .tuple(fc.bigInt({ min: -(10n ** 14n), max: 10n ** 14n }), fc.bigInt({ min: 1n, max: 10n ** 9n }))
  .map(([n, d]) => fraction(n, d));
const stepFraction = fc.constantFrom(1n, 2n, 5n, 10n, 20n, 25n, 100n).map((d) => fraction(1n, d));
const weight: fc.Arbitrary<Weight> = fc.record({
  value: decimal(200, 3),
  unit: fc.constantFrom('kg' as const, 'lb' as const),
});
const rate: fc.Arbitrary<ParsedRate> = fc.oneof(
  fc.record({
    amount: decimal(500, 3),
    unit: fc.constantFrom('µg' as const, 'mg' as const, 'g' as const, 'IU' as const, 'mL' as const),
    per: decimal(100, 1),
    perUnit: fc.constantFrom('kg' as const, 'lb' as const),
  }),
  fc.record({
    amount: decimal(50, 2),
    unit: fc.constantFrom('mg' as const, 'IU' as const, 'mL' as const),
    per: fc.constant('1'),
    perUnit: fc.constant('head' as const),
  }),
  fc.record({
    amount: fc.integer({ min: 1, max: 9 }).map(String),
    unit: fc.constant('piece' as const),
    piece: fc.constantFrom('bolus', 'tablet', 'dose', 'sachet'),
    per: decimal(50, 0),
    perUnit: fc.constantFrom('kg' as const, 'lb' as const),
  }),
);
const strength: fc.Arbitrary<ParsedStrength> = fc.oneof(
  decimal(99, 2).map((amount) => ({ amount, unit: '%' as const, in: '100', inUnit: 'mL' as const })),
  fc.record({
    amount: decimal(400_000, 3),
    unit: fc.constantFrom('µg' as const, 'mg' as const, 'g' as const, 'IU' as const),
    in: decimal(1000, 1),
    inUnit: fc.constantFrom('mL' as const, 'L' as const, 'g' as const),
  }),
  fc.record({
    amount: decimal(500, 1),
    unit: fc.constantFrom('mg' as const, 'IU' as const),
    in: fc.constant('1'),
    inUnit: fc.constant('piece' as const),
    piece: fc.constantFrom('bolus', 'tablet', 'dose'),
  }),
);

describe('fractions', () => {
  it('add, take away, multiply and divide undo one another', () => {
    check(
      fc.property(anyFraction, anyFraction, (a, b) => {
        expect(compare(subtract(add(a, b), b), a)).toBe(0);
        if (b.n !== 0n) expect(compare(divide(multiply(a, b), b), a)).toBe(0);
      }),
    );
  });

  it('are in lowest terms, so that equal ones are the same', () => {
    check(
      fc.property(anyFraction, fc.bigInt({ min: 1n, max: 10n ** 12n }), (a, k) => {
        expect(fraction(a.n * k, a.d * k)).toEqual(a);
        expect(fraction(-a.n * k, -a.d * k)).toEqual(a);
      }),
    );
  });

  it('nearest is within half a step, up and down within one and on their side', () => {
    check(
      fc.property(anyFraction, stepFraction, (value, step) => {
        const near = subtract(roundTo(value, step, 'nearest'), value);
        const up = subtract(roundTo(value, step, 'up'), value);
        const down = subtract(roundTo(value, step, 'down'), value);
        expect(compare(absolute(near), divide(step, fraction(2)))).toBeLessThanOrEqual(0);
        expect(compare(up, fraction(0))).toBeGreaterThanOrEqual(0);
        expect(compare(up, step)).toBeLessThan(0);
        expect(compare(down, fraction(0))).toBeLessThanOrEqual(0);
        expect(compare(absolute(down), step)).toBeLessThan(0);
        // Half a step off is a tie, and a tie goes up.
        if (compare(absolute(near), divide(step, fraction(2))) === 0) expect(near.n > 0n).toBe(true);
      }),
    );
  });

  it('floor and ceiling hold the value between them', () => {
    check(
      fc.property(anyFraction, (a) => {
        expect(compare(fraction(floorOf(a)), a)).toBeLessThanOrEqual(0);
        expect(compare(fraction(ceilingOf(a)), a)).toBeGreaterThanOrEqual(0);
        expect(ceilingOf(a) - floorOf(a)).toBe(a.d === 1n ? 0n : 1n);
      }),
    );
  });

  it('a decimal that was typed is printed as the same number', () => {
    check(
      fc.property(decimal(999_999, 9), (text) => {
        const value = parseDecimal(text, 'number');
        const printed = toDecimal(value);
        expect(compare(parseDecimal(printed, 'number'), value)).toBe(0);
        expect(printed).not.toMatch(/^\.|\.$|\.\d*0$|^0\d/);
      }),
    );
  });

  it('what no digits write exactly has 9 significant digits and is off by at most half of the ninth', () => {
    check(
      fc.property(
        fc.bigInt({ min: 1n, max: 10n ** 9n }),
        fc.constantFrom(3n, 7n, 11n, 943n, 45_359_237n),
        (n, d) => {
          const value = fraction(n, d);
          const printed = toDecimal(value);
          fc.pre(!finite(value));
          const digits = printed.replace('.', '').replace(/^0+/, '');
          expect(digits.length).toBeLessThanOrEqual(Math.max(9, (n / d).toString().length));
          // Read back without the bounds on what people may type.
          const [whole = '', part = ''] = printed.split('.');
          const back = fraction(BigInt(whole + part), 10n ** BigInt(part.length));
          const off = divide(absolute(subtract(back, value)), value);
          expect(compare(off, fraction(5n, 10n ** 9n))).toBeLessThanOrEqual(0);
        },
      ),
    );
  });
});

function finite(value: Fraction): boolean {
  let d = value.d;
  while (d % 2n === 0n) d /= 2n;
  while (d % 5n === 0n) d /= 5n;
  return d === 1n;
}

describe('what is printed is read back the same', () => {
  it('amounts', () => {
    check(
      fc.property(fc.constantFrom('volume' as const, 'mass' as const), fc.maxSafeNat(), (kind, base) => {
        // Twelve digits before the point is the most that is read.
        const amount = amountOf(kind, base % 1_000_000_000_000_000);
        expect(parseAmount(printAmount(amount), 'amount')).toEqual(amount);
      }),
    );
    check(
      fc.property(
        fc.nat(1_000_000),
        fc.constantFrom('bolus', 'tablet', 'dose', 'sachet', 'pellet'),
        (n, piece) => {
          const amount = amountOf('pieces', n);
          expect(parseAmount(printAmount(amount, piece), 'amount', { piece })).toEqual(amount);
        },
      ),
    );
  });
  it('weights', () => {
    check(
      fc.property(weight, (w) => {
        expect(parseWeight(printWeight(w), 'weight')).toEqual(w);
      }),
    );
  });
  it('rates', () => {
    check(
      fc.property(rate, (r) => {
        expect(parseRate(shortRate(r), 'rate')).toEqual(r);
      }),
    );
  });
  it('strengths', () => {
    check(
      fc.property(strength, (s) => {
        expect(parseStrength(shortStrength(s), 'strength')).toEqual(s);
      }),
    );
  });
  it('periods', () => {
    check(
      fc.property(fc.nat(3660), fc.constantFrom('d' as const, 'h' as const), (value, unit) => {
        expect(parsePeriod(printPeriod({ value, unit }), 'period')).toEqual({ value, unit });
      }),
    );
  });
});

describe('readers', () => {
  it('answer or refuse any text in one short sentence, and never fail otherwise', () => {
    const texts = fc.oneof(
      fc.string({ maxLength: 60 }),
      fc.string({ unit: fc.constantFrom(...'0123456789.,eE+-/% mgkLlbIUdhµ∞１'), maxLength: 30 }),
    );
    const readers: readonly ((text: string) => unknown)[] = [
      (text) => parseDecimal(text, 'weight'),
      (text) => parseAmount(text, 'amount'),
      (text) => parseWeight(text, 'weight'),
      (text) => parseRate(text, 'doseLines.0.rate.text'),
      (text) => parseStrength(text, 'strength'),
      (text) => parsePeriod(text, 'period'),
    ];
    check(
      fc.property(texts, fc.constantFrom(...readers), (text, read) => {
        try {
          read(text);
        } catch (thrown) {
          expect(thrown).toBeInstanceOf(Refusal);
          const refusal = thrown as Refusal;
          expect(refusal.field).toBeDefined();
          expect(refusal.message.length).toBeLessThan(200);
          expect(refusal.message).toMatch(/[.?]$/);
        }
      }),
    );
  });
});

describe('doses', () => {
  const solution = parseStrength('10 mg/mL', 'strength');
  const syringes = fc.constantFrom(
    ...(
      [
        ['1 mL', '0.01 mL'],
        ['3 mL', '0.1 mL'],
        ['5 mL', '0.2 mL'],
        ['10 mL', '0.5 mL'],
        ['20 mL', '1 mL'],
      ] as const
    ).map(([capacity, graduation]) => ({
      capacity: parseAmount(capacity, 'capacity'),
      graduation: parseAmount(graduation, 'graduation'),
    })),
  );
  const byWeight = rate.filter((r) => r.perUnit !== 'head' && r.unit === 'mg' && given(r));
  const fine = {
    capacity: parseAmount('1 L', 'capacity'),
    graduation: parseAmount('0.001 mL', 'graduation'),
  };

  /** Below what is refused as no rate at all: a hundredth of the weight as substance, a tenth as liquid. */
  function given(r: ParsedRate): boolean {
    if (r.perUnit === 'head' || r.unit === 'IU' || r.unit === 'piece') return true;
    return compare(perKilogram(r), fraction(r.unit === 'mL' ? 100 : 10_000)) < 0;
  }

  it('scale with the weight exactly, whatever unit either is in', () => {
    check(
      fc.property(weight, byWeight, fc.integer({ min: 2, max: 9 }), (w, r, times) => {
        const one = workOutDose({
          weight: w,
          rate: r,
          strength: solution,
          syringe: fine,
          rounding: 'up',
        }).exact;
        expect(compare(one, divide(multiply(kilograms(w), perKilogram(r)), fraction(10)))).toBe(0);
        const value = toDecimal(multiply(parseDecimal(w.value, 'weight'), fraction(times)));
        const many = workOutDose({
          weight: { value, unit: w.unit },
          rate: r,
          strength: solution,
          syringe: fine,
          rounding: 'up',
        }).exact;
        expect(compare(many, multiply(one, fraction(times)))).toBe(0);
      }),
    );
  });

  it('the draw stands on a mark, within half a mark of the exact dose, or one on the side asked for', () => {
    check(
      fc.property(
        weight,
        decimal(3, 3),
        syringes,
        fc.constantFrom('nearest' as const, 'up' as const, 'down' as const),
        (w, perKg, syringe, rounding) => {
          const ask = { weight: w, rate: parseRate(`${perKg} mL/kg`, 'rate'), syringe, rounding };
          const exact = multiply(kilograms(w), parseDecimal(perKg, 'rate'));
          let draw: Fraction;
          try {
            const answer = workOutDose(ask);
            draw = inDoseUnits(answer.draw);
            expect(compare(answer.exact, exact)).toBe(0);
            expect(baseOf(answer.draw) % baseOf(syringe.graduation)).toBe(0);
            const percent = divide(multiply(subtract(draw, exact), fraction(100)), exact);
            expect(compare(answer.deviationPercent, percent)).toBe(0);
          } catch (thrown) {
            if (!(thrown instanceof Refusal) || thrown.code !== 'draws-to-zero') throw thrown;
            draw = fraction(0);
          }
          const off = subtract(draw, exact);
          const mark = inDoseUnits(syringe.graduation);
          if (rounding === 'nearest')
            expect(compare(absolute(off), divide(mark, fraction(2)))).toBeLessThanOrEqual(0);
          else expect(compare(absolute(off), mark)).toBeLessThan(0);
          if (rounding === 'up') expect(off.n >= 0n).toBe(true);
          if (rounding === 'down') expect(off.n <= 0n).toBe(true);
        },
      ),
    );
  });

  it('sites add up to the draw, each on a mark, none over the most, none more than one mark from another', () => {
    check(
      fc.property(
        fc.integer({ min: 1, max: 40 }),
        syringes,
        fc.integer({ min: 1, max: 20 }),
        (ml, syringe, most) => {
          const maxPerSite = parseAmount(`${most} mL`, 'maxPerSite');
          const answer = workOutDose({ rate: parseRate(`${ml} mL per head`, 'rate'), syringe, maxPerSite });
          const mark = baseOf(syringe.graduation);
          const sites = answer.sites.map(baseOf);
          expect(sites.reduce((sum, site) => sum + site, 0)).toBe(baseOf(answer.draw));
          for (const site of sites) {
            expect(site % mark).toBe(0);
            expect(site).toBeLessThanOrEqual(baseOf(maxPerSite));
            expect(site).toBeGreaterThan(0);
          }
          expect(Math.max(...sites) - Math.min(...sites)).toBeLessThanOrEqual(mark);
          // As few as the limit allows.
          const largest = Math.floor(baseOf(maxPerSite) / mark) * mark;
          expect(sites.length).toBe(Math.ceil(baseOf(answer.draw) / largest));
        },
      ),
    );
  });

  it('never come from something unknown', () => {
    check(
      fc.property(rate, weight, fc.boolean(), fc.boolean(), (r, w, hasWeight, hasStrength) => {
        const ask = {
          rate: r,
          ...(hasWeight ? { weight: w } : {}),
          ...(hasStrength ? { strength: solution } : {}),
          syringe: fine,
          rounding: 'up' as const,
        };
        const needsWeight = r.perUnit !== 'head';
        const needsStrength = r.unit !== 'mL' && r.unit !== 'piece';
        let code: string | undefined;
        try {
          workOutDose(ask);
        } catch (thrown) {
          if (!(thrown instanceof Refusal)) throw thrown;
          code = thrown.code;
        }
        if (needsStrength && !hasStrength) expect(code).toBe('strength-missing');
        else if (r.unit === 'IU') expect(code).toBe('units-do-not-match');
        else if (needsWeight && !hasWeight) expect(code).toBe('weight-missing');
        else if (!given(r)) expect(code).toBe('dose-too-large');
        else expect(code).toBeUndefined();
      }),
    );
  });
});
