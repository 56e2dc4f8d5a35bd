import {
  absolute,
  compare,
  divide,
  fraction,
  multiply,
  subtract,
  toDecimal,
  toPlaces,
} from '../quantity/fraction.ts';
import { kilograms, poundsOf, printWeight, type Weight } from '../quantity/weight.ts';

/** Off by no more than one part in a hundred, or half a kilogram where that is more (practice; none was published). */
const PART = fraction(1n, 100n);
const HALF_KG = fraction(1n, 2n);

export type WeigherFound = {
  verdict: 'right' | 'off';
  /** Showed less known, in the unit that was known: "-0.5 kg". */
  difference: string;
  /** Percent of the known weight, one digit after the point. */
  offPercent: string;
  says: string;
};

/** How far a weigher is off a known weight (a bag of feed, a full can, a person), and whether doses can go by it. */
export function checkWeigher(known: Weight, showed: Weight): WeigherFound {
  const off = subtract(kilograms(showed), kilograms(known));
  const size = absolute(off);
  const share = multiply(divide(off, kilograms(known)), fraction(100));
  const share1 = multiply(kilograms(known), PART);
  const allowed = compare(share1, HALF_KG) > 0 ? share1 : HALF_KG;
  const isRight = compare(size, allowed) <= 0;
  const inUnit = known.unit === 'kg' ? off : subtract(poundsOf(showed), poundsOf(known));
  const difference = `${toDecimal(inUnit)} ${known.unit}`;
  const offPercent = toPlaces(share, 1);
  const side = off.n < 0n ? 'light' : 'heavy';
  const shown = `${printWeight(known)} showed as ${printWeight(showed)}`;
  const amount = `${toDecimal(absolute(inUnit))} ${known.unit}`;
  if (off.n === 0n) return { verdict: 'right', difference, offPercent, says: `${shown}: right.` };
  if (isRight) {
    return {
      verdict: 'right',
      difference,
      offPercent,
      says: `${shown}: ${amount} too ${side}, near enough.`,
    };
  }
  const harm = off.n < 0n ? 'Doses by its weights are too small.' : 'Doses by its weights are too large.';
  return {
    verdict: 'off',
    difference,
    offPercent,
    says: `${shown}: ${amount} too ${side}. ${harm} Set it right and check it again before weighing.`,
  };
}
