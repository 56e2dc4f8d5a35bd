import { type Amount, inDoseUnits, printAmount } from '../quantity/amount.ts';
import {
  absolute,
  add,
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  type RoundHow,
  roundTo,
  subtract,
  toDecimal,
} from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import type { Step } from '../working.ts';
import { toAmount } from './exact.ts';
import { splitSites } from './sites.ts';

/**
 * What a syringe may be off by, by ISO 7886-1: tolerances and scale intervals from memory, dead space second-hand up
 * to 10 mL. Below half its capacity a share of the capacity and a share of what is delivered; from half on, a share of
 * what is delivered.
 */
type Class = {
  /** Capacities below this, in mL; absent in the last row. */
  readonly under?: number;
  readonly ofDelivered: Fraction;
  readonly fromHalf: Fraction;
  readonly deadSpaceMl: Fraction;
  readonly scaleMl: Fraction;
};
const percent = (n: number) => fraction(n, 100);
const thousandth = (n: number) => fraction(n, 1000);
const OF_CAPACITY = thousandth(15);
const CLASSES: readonly Class[] = [
  {
    under: 2,
    ofDelivered: percent(2),
    fromHalf: percent(5),
    deadSpaceMl: thousandth(70),
    scaleMl: percent(5),
  },
  {
    under: 5,
    ofDelivered: percent(2),
    fromHalf: percent(5),
    deadSpaceMl: thousandth(70),
    scaleMl: percent(20),
  },
  {
    under: 10,
    ofDelivered: percent(1),
    fromHalf: percent(4),
    deadSpaceMl: thousandth(75),
    scaleMl: percent(50),
  },
  {
    under: 20,
    ofDelivered: percent(1),
    fromHalf: percent(4),
    deadSpaceMl: thousandth(100),
    scaleMl: fraction(1),
  },
  {
    under: 30,
    ofDelivered: percent(1),
    fromHalf: percent(4),
    deadSpaceMl: thousandth(150),
    scaleMl: fraction(2),
  },
  {
    under: 50,
    ofDelivered: percent(1),
    fromHalf: percent(4),
    deadSpaceMl: thousandth(170),
    scaleMl: fraction(2),
  },
  { ofDelivered: percent(1), fromHalf: percent(4), deadSpaceMl: thousandth(200), scaleMl: fraction(5) },
];
const SOURCE = 'ISO 7886-1 (tolerances and intervals from memory)';
const HUNDRED = fraction(100);

export type SyringeError = {
  /** Up to so much more or less than shown, in mL; exact. */
  readonly errorMl: Fraction;
  readonly errorPercent: Fraction;
  /** The most that stays in hub and tip; it is no part of the dose but leaves the bottle. */
  readonly deadSpaceMl: Fraction;
  /** The widest its marks may be apart. */
  readonly scaleMl: Fraction;
  readonly working: Step[];
};

/**
 * What a syringe of a capacity may be off by when it delivers a volume. Exactly half counts as at or over half.
 * Refuses `units-do-not-match`, `bad-volume`, and `over-capacity` when the volume does not fit.
 */
export function syringeError(capacity: Amount, volume: Amount): SyringeError {
  const holds = millilitres(capacity, 'capacity', 'Capacity');
  const delivered = millilitres(volume, 'volume', 'Volume');
  if (compare(delivered, holds) > 0) {
    throw new Refusal(
      'over-capacity',
      `Volume: ${printAmount(volume)} does not fit in a syringe of ${printAmount(capacity)}.`,
      { field: 'volume', next: 'Take a larger syringe, or fill it more than once.' },
    );
  }
  const row = CLASSES.find(({ under }) => under === undefined || compare(holds, fraction(under)) < 0);
  if (row === undefined) throw new RangeError('The last row is open.');
  const atHalf = compare(multiply(delivered, fraction(2)), holds) >= 0;
  const errorMl = atHalf
    ? multiply(row.fromHalf, delivered)
    : add(multiply(OF_CAPACITY, holds), multiply(row.ofDelivered, delivered));
  const errorPercent = multiply(divide(errorMl, delivered), HUNDRED);
  const values = {
    capacity: printAmount(capacity),
    volume: printAmount(volume),
    error: `${toDecimal(errorMl)} mL`,
    percent: toDecimal(errorPercent),
    ofDelivered: toDecimal(multiply(row.ofDelivered, HUNDRED)),
    fromHalf: toDecimal(multiply(row.fromHalf, HUNDRED)),
  };
  const { deadSpaceMl, scaleMl } = row;
  const working = [{ code: atHalf ? 'syringe-from-half' : 'syringe-under-half', values, source: SOURCE }];
  return { errorMl, errorPercent, deadSpaceMl, scaleMl, working };
}

function millilitres(amount: Amount, field: string, name: string): Fraction {
  if (amount.kind !== 'volume') {
    throw new Refusal('units-do-not-match', `${name}: write it in mL.`, { field });
  }
  const value = inDoseUnits(amount);
  if (value.n <= 0n) throw new Refusal('bad-volume', `${name}: it must be above zero.`, { field });
  return value;
}

export type OwnSyringe = {
  readonly id: string;
  readonly name: string;
  readonly capacity: Amount;
  readonly graduation: Amount;
  /** ISO 7886-1 speaks of syringes: what a gun is off by, only a check of it shows. */
  readonly isGun?: boolean;
};

/** One of the farm's syringes, filled with a dose. */
export type Fit = OwnSyringe & {
  readonly draw: Amount;
  /** What is in it at one time: the largest site. */
  readonly fill: Amount;
  /** Drawn against exact. */
  readonly deviationPercent: Fraction;
  readonly error: SyringeError;
};

export type SyringeChoice = {
  /** The smallest that holds the dose; of two alike the one with finer marks. */
  readonly choice: Fit;
  /** Where the choice rounds the dose by more than 5 %: the smallest that does not. */
  readonly finer?: Fit;
  /** More than 5 % off, whether or not a finer one is there. */
  readonly coarse: boolean;
  readonly fits: readonly Fit[];
};

/** Rounded by more than this, a finer syringe is asked for first (practice). */
const COARSE_BEYOND_PERCENT = fraction(5);

/**
 * The smallest of the farm's syringes that holds a dose, in one site or by `maxPerSite`. `exact` is in mL.
 * Refuses `no-syringe-holds` when none does, also when every one that does has marks too wide to show it.
 */
export function chooseSyringe(
  own: readonly OwnSyringe[],
  dose: { exact: Fraction; rounding: RoundHow; maxPerSite?: Amount | undefined },
): SyringeChoice {
  const fits = own.flatMap((syringe) => fitOf(syringe, dose) ?? []).toSorted(bySize);
  const choice = fits[0];
  if (choice === undefined) {
    throw new Refusal(
      'no-syringe-holds',
      `Syringe: none of the farm's syringes holds and shows ${toDecimal(dose.exact)} mL.`,
      {
        field: 'syringe',
        next: 'Take one that does, or give the dose in more sites where the label allows it.',
      },
    );
  }
  const coarse = isCoarse(choice);
  const finer = coarse ? fits.find((fit) => !isCoarse(fit)) : undefined;
  return { choice, ...(finer === undefined ? {} : { finer }), coarse, fits };
}

const isCoarse = (fit: Fit) => compare(absolute(fit.deviationPercent), COARSE_BEYOND_PERCENT) > 0;

function bySize(a: Fit, b: Fit): number {
  return (
    compare(inDoseUnits(a.capacity), inDoseUnits(b.capacity)) ||
    compare(inDoseUnits(a.graduation), inDoseUnits(b.graduation))
  );
}

function fitOf(
  syringe: OwnSyringe,
  { exact, rounding, maxPerSite }: Parameters<typeof chooseSyringe>[1],
): Fit | undefined {
  const step = millilitres(syringe.graduation, 'graduation', 'Graduation');
  const drawn = roundTo(exact, step, rounding);
  if (drawn.n <= 0n) return undefined;
  const draw = toAmount(drawn, 'volume');
  const fill = sitesOrNone(draw, step, maxPerSite);
  if (fill === undefined || compare(inDoseUnits(fill), inDoseUnits(syringe.capacity)) > 0) return undefined;
  const deviationPercent = multiply(divide(subtract(drawn, exact), exact), HUNDRED);
  return { ...syringe, draw, fill, deviationPercent, error: syringeError(syringe.capacity, fill) };
}

/** The largest site, or none when the marks are wider than a site may hold. */
function sitesOrNone(draw: Amount, step: Fraction, maxPerSite: Amount | undefined): Amount | undefined {
  try {
    return splitSites(draw, step, maxPerSite)[0];
  } catch (thrown) {
    if (thrown instanceof Refusal && thrown.code === 'site-below-graduation') return undefined;
    throw thrown;
  }
}
