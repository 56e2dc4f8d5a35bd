import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { doseForLine } from '../../src-shared/dose/dose.ts';
import { checkGun } from '../../src-shared/dose/gun.ts';
import { howShort } from '../../src-shared/dose/leak.ts';
import { mixture } from '../../src-shared/dose/mix.ts';
import { chooseSyringe } from '../../src-shared/dose/syringes.ts';
import { parseTape, tapeWeight } from '../../src-shared/dose/tape.ts';
import { labelTermsSchema } from '../../src-shared/label/terms.ts';
import { amountOf, baseOf, parseAmount } from '../../src-shared/quantity/amount.ts';
import { compare, fraction, toDecimal } from '../../src-shared/quantity/fraction.ts';
import { type ParsedStrength, parseStrength, strengthPerUnit } from '../../src-shared/quantity/strength.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { seeded } from './seed.ts';

const options = seeded('dosing tools');
const check = (property: fc.IRawProperty<unknown>) => fc.assert(property, options);
const volume = (microlitres: number) => amountOf('volume', microlitres);

/** The answer, or the code it was refused with. */
function codeOr<T>(work: () => T): T | string {
  try {
    return work();
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown.code;
    throw thrown;
  }
}

describe('a dose by a label line', () => {
  it('is never outside what the label limits: weight, most in one animal, most in one site', () => {
    check(
      fc.property(
        fc.record({
          tenths: fc.integer({ min: 10, max: 1200 }),
          least: fc.integer({ min: 1, max: 40 }),
          span: fc.integer({ min: 1, max: 80 }),
          mostMl: fc.integer({ min: 1, max: 20 }),
          siteMl: fc.integer({ min: 1, max: 8 }),
          mark: fc.constantFrom(10, 100, 200, 500),
          rounding: fc.constantFrom('nearest' as const, 'up' as const, 'down' as const),
        }),
        ({ tenths, least, span, mostMl, siteMl, mark, rounding }) => {
          const terms = labelTermsSchema.parse({
            name: 'Test injection',
            form: 'injection',
            kind: 'volume',
            purpose: 'other',
            doseLines: [
              {
                id: 'a',
                route: 'subcutaneous',
                rate: { style: 'rate', text: '1 mL per 6 kg' },
                leastWeight: `${least} kg`,
                mostWeight: `${least + span} kg`,
                mostDose: `${mostMl} mL`,
                mostPerSite: `${siteMl} mL`,
                rounding,
              },
            ],
          });
          const weight = { value: `${tenths / 10}`, unit: 'kg' as const };
          const syringe = { capacity: volume(20_000), graduation: volume(mark) };
          const answer = codeOr(() => doseForLine(terms, 'a', { class: 'ewe', weight, syringe }));
          const exact = (tenths * 1000) / 60;
          if (tenths < least * 10) expect(answer).toBe('too-light');
          else if (tenths > (least + span) * 10) expect(answer).toBe('too-heavy');
          else if (typeof answer === 'string') {
            if (answer === 'draws-to-zero') expect(exact).toBeLessThan(mark);
            else {
              expect(answer).toBe('over-most');
              expect(exact).toBeGreaterThan(mostMl * 1000 - mark);
            }
          } else {
            const draw = baseOf(answer.draw);
            expect(draw).toBeLessThanOrEqual(mostMl * 1000);
            if (rounding === 'nearest') expect(Math.abs(draw - exact)).toBeLessThanOrEqual(mark / 2 + 1e-6);
            if (rounding === 'up') expect(draw - exact).toBeGreaterThanOrEqual(-1e-6);
            if (rounding === 'down') expect(draw - exact).toBeLessThanOrEqual(1e-6);
            expect(Math.abs(draw - exact)).toBeLessThan(mark);
            // Each site stands on a mark, and within one of an even share.
            const sites = answer.sites.map(baseOf);
            expect(sites.reduce((sum, site) => sum + site, 0)).toBe(draw);
            for (const site of sites) {
              expect(site).toBeLessThanOrEqual(siteMl * 1000);
              expect(site % mark).toBe(0);
              expect(Math.abs(site - draw / sites.length)).toBeLessThan(mark);
            }
          }
        },
      ),
    );
  });
});

describe('a mixture', () => {
  it('has a strength whose text reads back as exactly what is in each mL', () => {
    const strengths = fc.constantFrom(
      '900 mg/g',
      '46.8 %',
      '7 mg in 3 g',
      '300000 IU/g',
      '0.3 µg/g',
      '1 g in 7 g',
    );
    check(
      fc.property(
        strengths,
        fc.integer({ min: 1, max: 5_000_000 }),
        fc.integer({ min: 1, max: 20_000 }),
        (text, milligrams, millilitres) => {
          const strength: ParsedStrength = parseStrength(text, 'strength');
          const made = codeOr(() =>
            mixture({
              from: [{ amount: amountOf('mass', milligrams * 1000), strength }],
              water: volume(millilitres * 1000),
            }),
          );
          if (typeof made === 'string') {
            expect(made).toBe('strength-too-fine');
            return;
          }
          const perMl = strengthPerUnit(parseStrength(made.strength, 'strength'), 'volume');
          expect(compare(perMl, made.perMl)).toBe(0);
          // By plain numbers, what is in all of it is what went in.
          const inAll = milligrams * Number(toDecimal(strengthPerUnit(strength, 'mass')));
          expect(Number(toDecimal(made.perMl)) * millilitres).toBeCloseTo(
            inAll,
            -Math.ceil(Math.log10(inAll + 1)) + 6,
          );
        },
      ),
    );
  });
});

describe('a gun check', () => {
  it('agrees with plain floating point, and a new setting undoes what it was off by', () => {
    check(
      fc.property(
        fc.integer({ min: 500, max: 30_000 }),
        fc.array(fc.integer({ min: -600, max: 600 }), { minLength: 1, maxLength: 20 }),
        fc.constantFrom(10, 100, 250),
        (set, offs, mark) => {
          const each = offs.map((off) => Math.max(1, set + Math.round((set * off) / 4000)));
          const found = checkGun({ setTo: volume(set), each: each.map(volume), graduation: volume(mark) });
          const mean = each.reduce((sum, one) => sum + one, 0) / each.length;
          expect(Number(toDecimal(found.mean)) * 1000).toBeCloseTo(mean, 4);
          expect(Number(toDecimal(found.offPercent))).toBeCloseTo((mean / set - 1) * 100, 5);
          if (each.length > 1) {
            const squares = each.reduce((sum, one) => sum + (one - mean) ** 2, 0);
            const spread = (Math.sqrt(squares / (each.length - 1)) / mean) * 100;
            expect(Number(toDecimal(found.spreadPercent ?? fraction(-1)))).toBeCloseTo(spread, 5);
            if (each.length > 2 && Math.abs(spread - 3) > 1e-6) {
              expect(found.verdict === 'uneven').toBe(spread >= 3);
            }
          }
          if (found.newSetting !== undefined) {
            expect(baseOf(found.newSetting) % mark).toBe(0);
            const gives = (baseOf(found.newSetting) * mean) / set;
            expect(Math.abs(gives - set)).toBeLessThanOrEqual((mark / 2) * (mean / set) + 1e-6);
          }
        },
      ),
    );
  });
});

describe('the syringe that is chosen', () => {
  it('holds the dose, and none smaller of the farm does', () => {
    const farm = fc.uniqueArray(fc.constantFrom(1, 2, 3, 5, 10, 20, 50), { minLength: 1, maxLength: 6 });
    check(
      fc.property(
        farm,
        fc.integer({ min: 1, max: 60_000 }),
        fc.constantFrom(100, 50),
        (sizes, exact, parts) => {
          const own = sizes.map((size) => ({
            id: `${size}`,
            name: `${size} mL`,
            capacity: volume(size * 1000),
            graduation: volume((size * 1000) / parts),
          }));
          const chosen = codeOr(() =>
            chooseSyringe(own, { exact: fraction(exact, 1000), rounding: 'nearest' }),
          );
          const holding = sizes.filter((size) => {
            const mark = (size * 1000) / parts;
            const drawn = Math.floor(exact / mark + 0.5) * mark;
            return drawn > 0 && drawn <= size * 1000;
          });
          if (typeof chosen === 'string') {
            expect(chosen).toBe('no-syringe-holds');
            expect(holding).toEqual([]);
          } else expect(chosen.choice.id).toBe(`${Math.min(...holding)}`);
        },
      ),
    );
  });
});

describe('a leak', () => {
  it('by drops lies between its least and its most, and by an amount is its share', () => {
    check(
      fc.property(fc.integer({ min: 1, max: 200 }), fc.integer({ min: 1, max: 50_000 }), (drops, given) => {
        const short = codeOr(() => howShort({ drops }, volume(given)));
        if (typeof short === 'string') {
          expect(short).toBe('leaked-more-than-given');
          expect(drops * 20).toBeGreaterThan(given);
          return;
        }
        const { leastPercent, mostPercent, shortPercent } = short;
        if (leastPercent === undefined || mostPercent === undefined) throw new Error('Drops give a range.');
        expect(compare(leastPercent, shortPercent)).toBeLessThanOrEqual(0);
        expect(compare(shortPercent, mostPercent)).toBeLessThanOrEqual(0);
        expect(compare(mostPercent, fraction(100))).toBeLessThanOrEqual(0);
        const measured = howShort({ amount: short.lost }, volume(given));
        expect(compare(measured.shortPercent, shortPercent)).toBe(0);
      }),
    );
  });
});

describe('weight from a tape', () => {
  it('is the same in inches and in centimetres, and grows with girth and length', () => {
    check(
      fc.property(fc.integer({ min: 80, max: 700 }), fc.integer({ min: 80, max: 700 }), (girth, length) => {
        // Tenths of an inch; 1 in = 2.54 cm.
        const inches = (tenths: number) => parseTape(`${tenths / 10} in`, 'girth');
        const centimetres = (tenths: number) =>
          parseTape(`${toDecimal(fraction(tenths * 254, 1000))} cm`, 'girth');
        const kg = tapeWeight(inches(girth), inches(length)).exactKg;
        expect(compare(tapeWeight(centimetres(girth), centimetres(length)).exactKg, kg)).toBe(0);
        expect(compare(tapeWeight(inches(girth + 1), inches(length)).exactKg, kg)).toBeGreaterThan(0);
        expect(compare(tapeWeight(inches(girth), inches(length + 1)).exactKg, kg)).toBeGreaterThan(0);
      }),
    );
  });
});

describe('readers of the tools', () => {
  it('answer or refuse any text in one short sentence, and never fail otherwise', () => {
    const texts = fc.oneof(
      fc.string({ maxLength: 60 }),
      fc.string({ unit: fc.constantFrom(...'0123456789.,eE+-/% cminLg″"∞１'), maxLength: 20 }),
    );
    check(
      fc.property(texts, (text) => {
        try {
          parseTape(text, 'girth');
          parseAmount(text, 'amount');
        } catch (thrown) {
          expect(thrown).toBeInstanceOf(Refusal);
          expect((thrown as Refusal).message).toMatch(/[.?]$/);
          expect((thrown as Refusal).message.length).toBeLessThan(200);
        }
      }),
    );
  });
});
