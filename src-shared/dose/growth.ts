import {
  absolute,
  add,
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  subtract,
  toPlaces,
} from '../quantity/fraction.ts';
import { kilograms, printWeight, type Weight } from '../quantity/weight.ts';
import type { Step } from '../working.ts';

/**
 * What an animal may weigh now, from its own two last weighings or a growth that was given. It is a prediction and no
 * weighing: it is shown beside the last weight with its age and is never a weight to dose by unless that is said.
 * All bounds are practice. Lambs off feed lose up to 2.4 kg in 8 hours (Agriculture 2021;11:150), so two weighings a
 * few days apart show gut fill and not growth.
 */
export const PREDICT = {
  /** Days after the last weighing beyond which nothing is predicted. */
  mostDays: 42,
  /** Days that must lie between two weighings. */
  leastBetween: 14,
  /** Days between two weighings beyond which they say nothing of the growth now. */
  mostBetween: 120,
} as const;
/** Grams a day outside which no sheep grows or wastes for weeks. */
const LEAST_GRAMS = fraction(-300);
const MOST_GRAMS = fraction(600);
const THOUSAND = fraction(1000);

export type GrowthAsk = {
  readonly last: Weight;
  /** Whole days since the last weighing. */
  readonly daysAgo: number;
  /** The weighing before it, so many days earlier than the last. */
  readonly before?: { readonly weight: Weight; readonly daysEarlier: number } | undefined;
  /** Grams a day, where the farm gives one; it goes before the animal's own. */
  readonly gramsPerDay?: Fraction | undefined;
};

export type Growth =
  | {
      readonly state: 'predicted';
      /** To a tenth of a kilogram. */
      readonly weight: Weight;
      readonly exactKg: Fraction;
      readonly gramsPerDay: Fraction;
      /** One sentence that says it is a prediction and how old the weighing is. */
      readonly says: string;
      readonly working: Step[];
    }
  | { readonly state: 'weighed' | 'unknown'; readonly says: string };

/** A prediction, the weight itself when it was weighed today, or `unknown` with the reason. Throws RangeError for days that are not whole. */
export function predictWeight(ask: GrowthAsk): Growth {
  const { last, daysAgo, before } = ask;
  const shown = printWeight(last);
  if (!Number.isInteger(daysAgo) || daysAgo < 0) throw new RangeError('Days are whole and not below zero.');
  const unknown = (why: string): Growth => ({ state: 'unknown', says: `${shown}, ${ago(daysAgo)}. ${why}` });
  if (daysAgo === 0) return { state: 'weighed', says: `${shown}, weighed today.` };
  if (daysAgo > PREDICT.mostDays) {
    return unknown(`More than ${PREDICT.mostDays} days are too long to predict over: weigh it.`);
  }
  const working: Step[] = [];
  let grams: Fraction;
  if (ask.gramsPerDay !== undefined) {
    grams = ask.gramsPerDay;
    working.push({ code: 'growth-given', values: { grams: toPlaces(grams, 0) } });
  } else {
    if (before === undefined) return unknown('One weighing shows no growth: weigh it again.');
    const { daysEarlier } = before;
    if (daysEarlier < PREDICT.leastBetween) {
      return unknown(
        `Its last two weighings lie less than ${PREDICT.leastBetween} days apart: that shows what it had eaten and not its growth.`,
      );
    }
    if (daysEarlier > PREDICT.mostBetween) {
      return unknown(
        `Its last two weighings lie more than ${PREDICT.mostBetween} days apart: it may have grown otherwise since.`,
      );
    }
    const gained = subtract(kilograms(last), kilograms(before.weight));
    grams = divide(multiply(gained, THOUSAND), fraction(daysEarlier));
    working.push({
      code: 'growth-own',
      values: {
        before: printWeight(before.weight),
        between: String(daysEarlier),
        last: shown,
        grams: toPlaces(grams, 0),
      },
    });
  }
  if (compare(grams, LEAST_GRAMS) < 0 || compare(grams, MOST_GRAMS) > 0) {
    return unknown(`${toPlaces(grams, 0)} g a day is no growth of a sheep: check the weighings.`);
  }
  const exactKg = add(kilograms(last), divide(multiply(grams, fraction(daysAgo)), THOUSAND));
  const weight: Weight = { value: toPlaces(exactKg, 1), unit: 'kg' };
  if (exactKg.n <= 0n || weight.value === '0')
    return unknown('Nothing would be left of it: check the weighings.');
  working.push({
    code: 'growth-predicted',
    values: { last: shown, days: String(daysAgo), grams: toPlaces(grams, 0), predicted: printWeight(weight) },
  });
  const way = grams.n < 0n ? 'losing' : 'growing';
  const says = `${shown}, ${ago(daysAgo)}; at ${toPlaces(absolute(grams), 0)} g a day ${way} about ${printWeight(weight)} today: predicted, not weighed.`;
  return { state: 'predicted', weight, exactKg, gramsPerDay: grams, says, working };
}

function ago(days: number): string {
  return days === 1 ? 'weighed yesterday' : `weighed ${days} days ago`;
}
