import { type Amount, amountOf, baseOf, inDoseUnits, printAmount } from '../quantity/amount.ts';
import { compare, divide, type Fraction, fraction, multiply, ONE, toDecimal } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import type { Step } from '../working.ts';

/** Microlitres in a drop: 20 to the mL by the pharmacy convention (read); the least and most measured (read). */
export const DROP_MICROLITRES = { convention: 50, least: 20, most: 70 } as const;
/** More drops than this are no longer counted but measured. */
const MOST_DROPS = 200;

export type Lost = { readonly drops: number } | { readonly amount: Amount };

export type HowShort = {
  /** What ran out; of drops by the convention, and never more than was given. */
  readonly lost: Amount;
  /** Of what was given, in percent, exact. */
  readonly shortPercent: Fraction;
  /** By the smallest and largest drops measured; absent where the loss itself was measured. */
  readonly leastPercent?: Fraction;
  readonly mostPercent?: Fraction;
  readonly working: Step[];
};

/**
 * How short an animal is when part of its dose ran out again. It says no more: whether to give again is the word of
 * the label or the vet, so no second dose is worked out. Refuses `bad-drops`, `drops-of-a-liquid`,
 * `units-do-not-match`, `bad-amount` (nothing lost, nothing given) and `leaked-more-than-given`.
 */
export function howShort(lost: Lost, given: Amount, piece?: string): HowShort {
  if (baseOf(given) <= 0) {
    throw new Refusal('bad-amount', 'Dose: it must be above zero.', { field: 'dose' });
  }
  return 'drops' in lost ? byDrops(lost.drops, given) : byAmount(lost.amount, given, piece);
}

const percentOf = (part: Fraction, whole: Fraction): Fraction => {
  const share = divide(part, whole);
  return multiply(compare(share, ONE) > 0 ? ONE : share, fraction(100));
};

function byDrops(drops: number, given: Amount): HowShort {
  if (given.kind !== 'volume') {
    throw new Refusal('drops-of-a-liquid', 'Drops: only of a liquid can drops be counted.', {
      field: 'drops',
      next: 'Write how much ran out, with its unit.',
    });
  }
  if (!Number.isInteger(drops) || drops < 1 || drops > MOST_DROPS) {
    throw new Refusal('bad-drops', `Drops: give a whole number from 1 to ${MOST_DROPS}.`, {
      field: 'drops',
      next: 'Write a larger loss in mL.',
    });
  }
  if (drops * DROP_MICROLITRES.least > given.microlitres) {
    throw new Refusal(
      'leaked-more-than-given',
      `Drops: ${drops} drops are more than the ${printAmount(given)} that was given.`,
      { field: 'drops', next: 'Check both.' },
    );
  }
  const whole = inDoseUnits(given);
  const each = (microlitres: number) => percentOf(fraction(drops * microlitres, 1000), whole);
  const answer = {
    lost: amountOf('volume', Math.min(drops * DROP_MICROLITRES.convention, given.microlitres)),
    shortPercent: each(DROP_MICROLITRES.convention),
    leastPercent: each(DROP_MICROLITRES.least),
    mostPercent: each(DROP_MICROLITRES.most),
  };
  const values = { drops: String(drops), given: printAmount(given), lost: printAmount(answer.lost) };
  const working: Step[] = [
    {
      code: 'leak-drops',
      values: { ...values, percent: toDecimal(answer.shortPercent) },
      source: 'Pharmacy convention: 20 drops to the mL',
    },
    {
      code: 'leak-range',
      values: { ...values, least: toDecimal(answer.leastPercent), most: toDecimal(answer.mostPercent) },
      source: 'Drops as measured: 20 to 70 µL',
    },
  ];
  return { ...answer, working };
}

function byAmount(lost: Amount, given: Amount, piece: string | undefined): HowShort {
  if (lost.kind !== given.kind) {
    throw new Refusal(
      'units-do-not-match',
      `Lost: write it as the dose is written (${printAmount(given, piece)}).`,
      {
        field: 'lost',
      },
    );
  }
  if (baseOf(lost) <= 0) throw new Refusal('bad-amount', 'Lost: it must be above zero.', { field: 'lost' });
  if (baseOf(lost) > baseOf(given)) {
    throw new Refusal(
      'leaked-more-than-given',
      `Lost: ${printAmount(lost, piece)} cannot run out of ${printAmount(given, piece)}.`,
      { field: 'lost', next: 'Check both.' },
    );
  }
  const shortPercent = percentOf(inDoseUnits(lost), inDoseUnits(given));
  const values = {
    lost: printAmount(lost, piece),
    given: printAmount(given, piece),
    percent: toDecimal(shortPercent),
  };
  return { lost, shortPercent, working: [{ code: 'leak-amount', values }] };
}
