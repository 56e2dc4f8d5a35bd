import { type Amount, type AmountKind, inDoseUnits } from '../quantity/amount.ts';
import { compare, type Fraction, fraction, ONE } from '../quantity/fraction.ts';

/** What a dose is rounded to when nothing with marks of its own is named. */

/** mL steps without a syringe: 0.1 from 1 up, 0.01 below (two nursing sources, read). */
const TENTH = fraction(1n, 10n);
const HUNDREDTH = fraction(1n, 100n);
/** The same for a powder on scales: 0.1 g from 1 g up, 0.01 g below, in mg (practice). */
const TENTH_GRAM = fraction(100);
const HUNDREDTH_GRAM = fraction(10);

/** No finer marks help where only whole pieces can be given. */
export const IN_WHOLE_PIECES =
  'Only whole pieces are counted here: ask the vet, or take pieces of another size.';

/**
 * The step a dose is rounded to, in mL, mg or pieces: the marks of the syringe for a volume, else tenths from one up
 * and hundredths below; pieces whole.
 */
export function stepFor(exact: Fraction, kind: AmountKind, graduation?: Amount): Fraction {
  if (kind === 'pieces') return ONE;
  if (kind === 'mass') return compare(exact, fraction(1000)) >= 0 ? TENTH_GRAM : HUNDREDTH_GRAM;
  if (graduation !== undefined) return inDoseUnits(graduation);
  return compare(exact, ONE) >= 0 ? TENTH : HUNDREDTH;
}
