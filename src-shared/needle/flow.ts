import {
  add,
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  ONE,
  parseDecimal,
  ZERO,
} from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';

/**
 * Pushing a liquid through a needle: Hagen and Poiseuille. It explains why a needle is hard work; it never chooses
 * one, because bore and thickness are known far too roughly. Sources of the formula and of its limit: Allmendinger
 * 2014, Verwulgen 2018, Zhang 2018 (read).
 *
 * Worked out in fractions, with pi to 35 digits: in the force pi cancels, so it comes out exact.
 */

const PI = fraction(314_159_265_358_979_323_846_264_338_327_950_288n, 10n ** 35n);

/** Above this Reynolds number the flow is not taken to be laminar, and the law does not hold. */
export const MOST_LAMINAR = fraction(2300);
export const LAMINAR_SOURCE =
  'Hagen–Poiseuille, laminar up to Re 2300: Allmendinger 2014, Verwulgen 2018, Zhang 2018';

/** What a hand can keep up on a plunger, in newtons: about the weight of 3 kg. */
export const HAND_LIMIT_N = fraction(30);
export const HAND_LIMIT_SOURCE = 'Burckbuchler 2010 (second-hand)';

/** Every one above zero but the friction, which may be zero. */
export type FlowAsk = {
  readonly viscosityMpaS: Fraction;
  readonly boreMm: Fraction;
  readonly lengthMm: Fraction;
  /** Inner width of the syringe's barrel. */
  readonly barrelMm: Fraction;
  readonly flowMlPerS: Fraction;
  /** Absent: as heavy as water, 1 g/mL. */
  readonly densityGPerMl?: Fraction;
  /** What the plunger takes to move when nothing flows. Absent: none. */
  readonly frictionN?: Fraction;
};

export type Flow = {
  readonly resistancePaSPerM3: Fraction;
  readonly reynolds: Fraction;
} & (
  | { readonly laminar: true; readonly pressureKpa: Fraction; readonly forceN: Fraction }
  | { readonly laminar: false }
);

type Limit = { says: string; unit: string; most: number; fromZero?: true };

/** The most that can be meant: beyond, somebody wrote another unit. */
const LIMITS: Readonly<Record<keyof FlowAsk, Limit>> = {
  viscosityMpaS: { says: 'Viscosity', unit: 'mPa·s', most: 1_000_000 },
  boreMm: { says: 'Bore', unit: 'mm', most: 10 },
  lengthMm: { says: 'Length', unit: 'mm', most: 1000 },
  barrelMm: { says: 'Barrel', unit: 'mm', most: 200 },
  flowMlPerS: { says: 'Flow', unit: 'mL each second', most: 1000 },
  densityGPerMl: { says: 'Density', unit: 'g in each mL', most: 20 },
  frictionN: { says: 'Friction', unit: 'newtons', most: 1000, fromZero: true },
};

/**
 * One value of a flow from the digits a person typed. Refuses (`bad-number`, `bad-input`) what is no plain number,
 * is not above zero (friction may be zero) or more than can be meant.
 */
export function readFlowValue(text: string, field: keyof FlowAsk): Fraction {
  const value = parseDecimal(text, field);
  checkFlowValue(value, field);
  return value;
}

/** Refuses (`bad-input`) a value that is not above zero (friction may be zero) or more than can be meant. */
export function checkFlowValue(value: Fraction, field: keyof FlowAsk): void {
  const { says, unit, most, fromZero } = LIMITS[field];
  const least = compare(value, ZERO);
  if ((fromZero ? least >= 0 : least > 0) && compare(value, fraction(most)) <= 0) return;
  throw new Refusal(
    'bad-input',
    `${says}: give it in ${unit}, ${fromZero ? 'from 0' : 'above 0'} and at most ${most}.`,
    { field, next: 'Look whether it was written in another unit.' },
  );
}

/** Refuses (`bad-input`) a bore that is not narrower than the barrel: the two were taken for one another. */
export function checkWidths(boreMm: Fraction, barrelMm: Fraction): void {
  if (compare(boreMm, barrelMm) < 0) return;
  throw new Refusal('bad-input', 'Bore: the needle must be narrower inside than the barrel of the syringe.', {
    field: 'boreMm',
    next: 'See that bore and barrel did not change places.',
  });
}

/**
 * Resistance, Reynolds number and, while the flow is laminar, pressure and the force on the plunger: that of the
 * fluid, 32 µ L Q D² ÷ d⁴, and the friction given. Not laminar: neither, since the law would say too little.
 * The values must have passed `checkFlowValue`; zero throws RangeError.
 */
export function flowThrough(ask: FlowAsk): Flow {
  const { viscosityMpaS, boreMm, lengthMm, barrelMm, flowMlPerS } = ask;
  const bore2 = multiply(boreMm, boreMm);
  const bore4 = multiply(bore2, bore2);
  const thickLength = multiply(viscosityMpaS, lengthMm);
  // mPa·s · mm ÷ mm⁴ is 10⁶ Pa·s/m³.
  const resistancePaSPerM3 = divide(multiply(fraction(128_000_000), thickLength), multiply(PI, bore4));
  const weight = multiply(fraction(4000), multiply(ask.densityGPerMl ?? ONE, flowMlPerS));
  const reynolds = divide(weight, multiply(PI, multiply(viscosityMpaS, boreMm)));
  if (compare(reynolds, MOST_LAMINAR) > 0) return { resistancePaSPerM3, reynolds, laminar: false };
  // Pa·s/m³ · mL/s is 10⁻⁶ Pa.
  const pressureKpa = divide(multiply(resistancePaSPerM3, flowMlPerS), fraction(1_000_000_000));
  // kPa on mm² is 10⁻³ N; the barrel's area is a quarter of pi times its width squared.
  const area = divide(multiply(PI, multiply(barrelMm, barrelMm)), fraction(4000));
  const forceN = add(multiply(pressureKpa, area), ask.frictionN ?? ZERO);
  return { resistancePaSPerM3, reynolds, laminar: true, pressureKpa, forceN };
}
