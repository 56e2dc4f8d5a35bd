import {
  absolute,
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  ONE,
  subtract,
} from '../quantity/fraction.ts';
import {
  type Measure,
  measureOf,
  measureUnit,
  type ParsedRate,
  perKilogram,
  rateAmount,
} from '../quantity/rate.ts';
import { type ParsedStrength, strengthMeasure, strengthOf, strengthPerUnit } from '../quantity/strength.ts';
import { Refusal } from '../refusal.ts';

/** Inserts often print the dose twice, as substance for each kg and as volume for so many kg. Both must be the same dose. */

export type LabelCheck = {
  /** Within 1 % of the first statement. */
  agree: boolean;
  differencePercent: Fraction;
  /** What the first statement gives: mL, mg of product or pieces. */
  examples: { weight: string; value: Fraction }[];
  kind: 'volume' | 'mass' | 'pieces';
};

/** 1 mL per 11 lb and 1 mL per 5 kg, printed side by side in 21 CFR 520.1454, differ by 0.21 %. */
const AGREE_WITHIN_PERCENT = ONE;
/** A lamb, a hogg and a grown ewe, as wherever a label is read back. */
const EXAMPLE_KG = [20, 45, 80];

/**
 * Compares the two dose statements of an insert. Refuses `strength-missing` and `units-do-not-match` where they
 * cannot be brought to one unit, `statements-not-comparable` when one goes by the head and the other by weight.
 */
export function labelCheck(
  ask: { rate: ParsedRate; perVolume: ParsedRate; strength?: ParsedStrength | undefined },
  fields: { rate: string; perVolume: string; strength: string } = {
    rate: 'rate',
    perVolume: 'perVolume',
    strength: 'strength',
  },
): LabelCheck {
  const { rate, perVolume, strength } = ask;
  const kind = measureOf(perVolume.unit);
  if (kind === 'activity' || (kind === 'mass' && strength !== undefined && strengthOf(strength) !== 'mass')) {
    throw new Refusal(
      'units-do-not-match',
      'Per volume: this statement must count the medicine, as in 1 mL per 50 kg.',
      {
        field: fields.perVolume,
      },
    );
  }
  if ((rate.perUnit === 'head') !== (perVolume.perUnit === 'head')) {
    throw new Refusal(
      'statements-not-comparable',
      'Per volume: one statement goes by the head and the other by weight, so they cannot be compared.',
      { field: fields.perVolume },
    );
  }
  const first = divide(each(rate), perUnitOf(measureOf(rate.unit), kind, strength, fields.strength));
  const second = each(perVolume);
  const differencePercent = multiply(divide(absolute(subtract(second, first)), first), fraction(100));
  return {
    agree: compare(differencePercent, AGREE_WITHIN_PERCENT) <= 0,
    differencePercent,
    kind,
    examples:
      rate.perUnit === 'head'
        ? [{ weight: 'any', value: first }]
        : EXAMPLE_KG.map((kg) => ({ weight: `${kg} kg`, value: multiply(first, fraction(kg)) })),
  };
}

function each(rate: ParsedRate): Fraction {
  return rate.perUnit === 'head' ? rateAmount(rate) : perKilogram(rate);
}

function perUnitOf(
  measure: Measure,
  kind: 'volume' | 'mass' | 'pieces',
  strength: ParsedStrength | undefined,
  field: string,
): Fraction {
  if (measure === kind && (kind !== 'mass' || strength === undefined)) return ONE;
  if (measure === 'volume' || measure === 'pieces') {
    throw new Refusal('units-do-not-match', 'Per volume: both statements must be of the same medicine.', {
      field: 'perVolume',
    });
  }
  if (strength === undefined) {
    throw new Refusal('strength-missing', 'Strength: it is needed to compare the two statements.', { field });
  }
  if (strengthMeasure(strength) !== measure || (strengthOf(strength) !== kind && strength.unit !== '%')) {
    throw new Refusal(
      'units-do-not-match',
      `Strength: it must be ${measureUnit(measure)} in what the dose is measured in.`,
      { field },
    );
  }
  return strengthPerUnit(strength, kind);
}
