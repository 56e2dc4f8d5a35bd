import { splitUnit } from '../quantity/amount.ts';
import { quoted, sayField } from '../quantity/field.ts';
import {
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  parseDecimal,
  toDecimal,
  toPlaces,
} from '../quantity/fraction.ts';
import { KG_PER_LB, type Weight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Step } from '../working.ts';

/** Length on a tape as typed, and in inches exactly. */
export type Measured = { readonly text: string; readonly inches: Fraction };

/** 1 in = 25.4 mm exactly. */
const MM_PER_INCH = fraction(254n, 10n);
const UNITS: ReadonlyMap<string, Fraction> = new Map([
  ['mm', divide(fraction(1), MM_PER_INCH)],
  ['cm', divide(fraction(10), MM_PER_INCH)],
  ['m', divide(fraction(1000), MM_PER_INCH)],
  ...['in', 'inch', 'inches', '″', '"', '”'].map((word) => [word, fraction(1)] as const),
]);
/** No sheep is outside these (practice): a slip in the unit falls outside. */
const LEAST_INCHES = divide(fraction(200), MM_PER_INCH);
const MOST_INCHES = divide(fraction(2000), MM_PER_INCH);

/**
 * Reads "88.9 cm" or "35 in". Bounds: 20 cm to 2 m. Refuses (`bad-length`, `bad-number`) what has no unit, another
 * unit, or is outside the bounds.
 */
export function parseTape(text: string, field: string): Measured {
  const refuse = (says: string) => new Refusal('bad-length', `${sayField(field)}: ${says}`, { field });
  const { number, unit } = splitUnit(text, field);
  const value = parseDecimal(number, field);
  if (unit === '') throw refuse(`write cm or in after ${quoted(number)}.`);
  const inch = UNITS.get(unit.toLowerCase());
  if (inch === undefined) throw refuse(`give it in cm or in, not in ${quoted(unit)}.`);
  const inches = multiply(value, inch);
  if (compare(inches, LEAST_INCHES) < 0 || compare(inches, MOST_INCHES) > 0) {
    throw refuse(`${quoted(text)} is outside 20 cm to 2 m, where sheep measure; check number and unit.`);
  }
  return { text: text.trim(), inches };
}

export type TapeWeight = {
  readonly exactKg: Fraction;
  /** To a tenth of a kilogram. It is an estimate and has to be shown as one. */
  readonly weight: Weight;
  readonly estimate: true;
  readonly working: Step[];
};

const DIVISOR = fraction(300);

/** Weight from heart girth and body length, wool pressed down: lb = girth² × length ÷ 300 in inches (university extension, read). */
export function tapeWeight(girth: Measured, length: Measured): TapeWeight {
  const pounds = divide(multiply(multiply(girth.inches, girth.inches), length.inches), DIVISOR);
  const exactKg = multiply(pounds, KG_PER_LB);
  const kg = toPlaces(exactKg, 1);
  const weight: Weight = { value: kg, unit: 'kg' };
  const working: Step[] = [
    {
      code: 'tape',
      values: {
        girth: toDecimal(girth.inches),
        length: toDecimal(length.inches),
        typedGirth: girth.text,
        typedLength: length.text,
        pounds: toDecimal(pounds),
        kg,
      },
      source: 'University extension: girth × girth × length ÷ 300 in inches, wool pressed down',
    },
  ];
  return { exactKg, weight, estimate: true, working };
}
