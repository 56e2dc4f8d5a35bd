import { Refusal } from '../refusal.ts';
import { splitUnit } from './amount.ts';
import { quoted, sayField } from './field.ts';
import {
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  parseDecimal,
  toDecimal,
  toPlaces,
} from './fraction.ts';

/**
 * A weight as it was entered. 50 lb kept as 22,680 g would climb over a band that ends at 50 lb, so number and
 * unit stay what was typed and are compared as exact fractions.
 */
export type WeightUnit = 'kg' | 'lb';
export type Weight = { readonly value: string; readonly unit: WeightUnit };

/** 1 lb = 0.45359237 kg exactly (international pound, 1959). */
export const KG_PER_LB: Fraction = fraction(45_359_237n, 100_000_000n);

const UNIT_WORDS: ReadonlyMap<string, WeightUnit> = new Map([
  ['kg', 'kg'],
  ['kgs', 'kg'],
  ['kilo', 'kg'],
  ['kilos', 'kg'],
  ['kilogram', 'kg'],
  ['kilograms', 'kg'],
  ['lb', 'lb'],
  ['lbs', 'lb'],
  ['pound', 'lb'],
  ['pounds', 'lb'],
]);

/** "kg" or "lb" from a word, or undefined. */
export function weightUnit(word: string): WeightUnit | undefined {
  return UNIT_WORDS.get(word.toLowerCase());
}

/**
 * Reads "62.5 kg" or "137 lb". A bare number is refused unless `unit` says which unit the box is labelled with.
 * Bounds: 4 digits before and 9 after the point, so that pounds fit in kg (50 lb is 22.6796185 kg). Refuses (`bad-weight`, `weight-unit-missing`, `bad-number`) zero,
 * below zero and any other unit.
 */
export function parseWeight(
  text: string,
  field: string,
  more: { unit?: WeightUnit | undefined } = {},
): Weight {
  const { number, unit } = splitUnit(text, field);
  const value = parseDecimal(number, field);
  const found = unit === '' ? more.unit : weightUnit(unit);
  if (found === undefined) {
    if (unit === '') {
      throw new Refusal(
        'weight-unit-missing',
        `${sayField(field)}: write kg or lb after ${quoted(number)}.`,
        {
          field,
        },
      );
    }
    throw new Refusal(
      'bad-weight',
      `${sayField(field)}: give the weight in kg or lb, not in ${quoted(unit)}.`,
      {
        field,
      },
    );
  }
  if (!/^\d{1,4}(\.\d{1,9})?$/.test(number)) {
    throw new Refusal(
      'bad-weight',
      `${sayField(field)}: ${quoted(text)} is no weight of a sheep; check it.`,
      { field },
    );
  }
  if (value.n === 0n) {
    throw new Refusal('bad-weight', `${sayField(field)}: a weight must be above zero.`, { field });
  }
  return { value: number, unit: found };
}

/** "62.5 kg". */
export function printWeight(w: Weight): string {
  return `${w.value} ${w.unit}`;
}

/** The number as it was entered, exact. */
export function weightValue(w: Weight): Fraction {
  return parseDecimal(w.value, 'weight');
}

/** Exact kilograms. */
export function kilograms(w: Weight): Fraction {
  const value = weightValue(w);
  return w.unit === 'kg' ? value : multiply(value, KG_PER_LB);
}

/** Exact pounds. */
export function poundsOf(w: Weight): Fraction {
  const value = weightValue(w);
  return w.unit === 'lb' ? value : divide(value, KG_PER_LB);
}

const between = (value: Fraction, low: Fraction, high: Fraction) =>
  compare(value, low) >= 0 && compare(value, high) <= 0;

export type WeightQuestion = {
  code: 'pounds-for-kilograms' | 'kilograms-for-pounds' | 'decimal-point' | 'weight-unlikely' | 'weight-jump';
  text: string;
};

/**
 * What to ask before a weight is believed, or undefined. 2.2 or 0.45 times the last one is asked about by name
 * (within a tenth), then ten times or a tenth of it (within a quarter), then anything outside 1 to 160 kg
 * (published ranges: birth weights from 0.8 kg, rams to 160 kg), then a jump of more than half up or three
 * tenths down (practice). It only asks: an answer of yes stands.
 */
export function weightQuestion(w: Weight, previous?: Weight): WeightQuestion | undefined {
  const kg = kilograms(w);
  const shown = printWeight(w);
  if (previous !== undefined) {
    const last = printWeight(previous);
    const ratio = divide(kg, kilograms(previous));
    if (between(ratio, fraction(99n, 50n), fraction(121n, 50n))) {
      const text =
        w.unit === 'kg'
          ? `${shown} is about 2.2 times the last weight (${last}): is it ${w.value} lb, pounds and not kilograms?`
          : `${shown} is about 2.2 times the last weight (${last}): was one of them in the wrong unit, pounds or kilograms?`;
      return { code: 'pounds-for-kilograms', text };
    }
    if (between(ratio, fraction(41n, 100n), fraction(1n, 2n))) {
      const text =
        w.unit === 'lb'
          ? `${shown} is about 0.45 times the last weight (${last}): is it ${w.value} kg, kilograms and not pounds?`
          : `${shown} is about 0.45 times the last weight (${last}): was the last one in pounds and not kilograms?`;
      return { code: 'kilograms-for-pounds', text };
    }
    if (
      between(ratio, fraction(8n), fraction(25n, 2n)) ||
      between(ratio, fraction(2n, 25n), fraction(1n, 8n))
    ) {
      const times = ratio.n > ratio.d ? 'ten times' : 'a tenth of';
      return {
        code: 'decimal-point',
        text: `${shown} is about ${times} the last weight (${last}): is the decimal point in the right place?`,
      };
    }
  }
  if (!between(kg, fraction(1), fraction(160))) {
    const inKg = w.unit === 'kg' ? '' : ` (${toPlaces(kg, 1)} kg)`;
    return {
      code: 'weight-unlikely',
      text: `${shown}${inKg} is outside 1 to 160 kg, where sheep weigh: is it right?`,
    };
  }
  if (previous !== undefined) {
    const ratio = divide(kg, kilograms(previous));
    if (!between(ratio, fraction(7n, 10n), fraction(3n, 2n))) {
      return {
        code: 'weight-jump',
        text: `${shown} is ${toDecimal({ n: (ratio.n * 100n + ratio.d / 2n) / ratio.d, d: 1n })} % of the last weight (${printWeight(previous)}): is it the right animal?`,
      };
    }
  }
  return undefined;
}
