import { type Amount, amountOf, baseOf, printAmount } from '../quantity/amount.ts';
import { divide, type Fraction, fraction, subtract, toPlaces } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import type { Step } from '../working.ts';

/**
 * How much of what is opened reaches no animal. Rate and factor as the WHO defines them (read); where to start from
 * and when the farm's own figures count are practice.
 */

/** Where a farm starts, besides the measured priming (practice). */
export const START_PERCENT: Fraction = fraction(3);
/** From so many containers used up on, the farm's own figures count (practice). */
export const LEAST_CONTAINERS = 3;

export type Wastage = {
  /** Percent of what was opened. */
  readonly ratePercent: Fraction;
  /** By which a need is multiplied; absent when all was lost, and no amount would do. */
  readonly factor?: Fraction;
  readonly working: readonly Step[];
};

const HUNDRED = fraction(100);
const SOURCE = 'WHO wastage rate and factor';

/**
 * Rate: lost ÷ opened. Factor: 100 ÷ (100 − rate). Refuses `nothing-opened`, `lost-over-opened`,
 * `units-do-not-match`, and `bad-amount` below zero.
 */
export function wastage(opened: Amount, lost: Amount): Wastage {
  if (opened.kind !== lost.kind) {
    throw new Refusal('units-do-not-match', 'Lost: write it in the same unit as what was opened.', {
      field: 'lost',
    });
  }
  if (baseOf(opened) <= 0) {
    throw new Refusal('nothing-opened', 'Opened: nothing was opened yet, so no share of it can be lost.', {
      field: 'opened',
    });
  }
  if (baseOf(lost) < 0) throw new Refusal('bad-amount', 'Lost: it cannot be below zero.', { field: 'lost' });
  if (baseOf(lost) > baseOf(opened)) {
    throw new Refusal(
      'lost-over-opened',
      `Lost: ${printAmount(lost)} is more than the ${printAmount(opened)} that was opened.`,
      { field: 'lost', next: 'Count the container again.' },
    );
  }
  const ratePercent = fraction(BigInt(baseOf(lost)) * 100n, baseOf(opened));
  const values = { lost: printAmount(lost), opened: printAmount(opened), rate: toPlaces(ratePercent, 1) };
  const working: Step[] = [{ code: 'wastage-rate', values, source: SOURCE }];
  return withFactor(ratePercent, working);
}

function withFactor(ratePercent: Fraction, working: Step[]): Wastage {
  const kept = subtract(HUNDRED, ratePercent);
  if (kept.n <= 0n) return { ratePercent, working };
  const factor = divide(HUNDRED, kept);
  const values = { rate: toPlaces(ratePercent, 1), factor: toPlaces(factor, 2) };
  working.push({ code: 'wastage-factor', values, source: SOURCE });
  return { ratePercent, factor, working };
}

/** A container that is used up: what was in it when it was opened, and what of that was lost, by whatever cause. */
export type UsedUp = { readonly opened: Amount; readonly lost: Amount };

export type PlannedWastage = Wastage & {
  /** `own`: all losses are in it. `start`: dead space and priming come on top. */
  readonly from: 'own' | 'start';
  readonly containers: number;
};

/**
 * What to plan with: the farm's own figures of one medicine once enough containers are used up, else the start.
 * Refuses what `wastage` refuses.
 */
export function wastageToPlanWith(usedUp: readonly UsedUp[]): PlannedWastage {
  const [first] = usedUp;
  if (first === undefined || usedUp.length < LEAST_CONTAINERS) {
    const values = { least: String(LEAST_CONTAINERS), rate: toPlaces(START_PERCENT, 1) };
    const working: Step[] = [{ code: 'wastage-start', values, source: 'Practice' }];
    return { ...withFactor(START_PERCENT, working), from: 'start', containers: usedUp.length };
  }
  const sum = (of: keyof UsedUp) => {
    let total = 0;
    for (const one of usedUp) {
      if (one[of].kind !== first[of].kind) {
        const message = 'Containers: they are not all measured in the same unit.';
        throw new Refusal('units-do-not-match', message, { field: of });
      }
      total += baseOf(one[of]);
    }
    return amountOf(first[of].kind, total);
  };
  return { ...wastage(sum('opened'), sum('lost')), from: 'own', containers: usedUp.length };
}

/** What a draw-off tube holds, in mL: bore and length in millimetres, above zero. Physics, so a float. */
export function tubeHoldsMl(boreMm: number, lengthMm: number): number {
  return ((Math.PI / 4) * boreMm * boreMm * lengthMm) / 1000;
}
