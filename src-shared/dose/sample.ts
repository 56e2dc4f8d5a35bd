import { divide, type Fraction, fraction, multiply, toPlaces } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import type { Step } from '../working.ts';

/** How the animals that were weighed were picked out of the group. */
export const PICKED = ['random', 'biggest', 'as-they-came'] as const;
export type Picked = (typeof PICKED)[number];

export type SampleFound = {
  /** The chance that an unweighed one is heavier than all that were weighed; only for a random sample. */
  readonly chancePercent?: Fraction;
  readonly says: string;
  readonly working: Step[];
};

const WHY_NONE: Readonly<Record<Exclude<Picked, 'random'>, string>> = {
  biggest:
    'The biggest were picked by eye, so no chance can be given: the eye misses some, and how many is not known. Weigh any that looks as big.',
  'as-they-came':
    'They were taken as they came, which is not at random, so no chance can be given: the first through a gate are often alike.',
};

/**
 * Whether a heavier one may be among those not weighed. Of N with n drawn at random, the heaviest is one of the
 * unweighed with (N − n)/N. Refuses `bad-heads`, `bad-weighed`.
 */
export function heavierUnweighed(asked: { heads: number; weighed: number; picked: Picked }): SampleFound {
  const { heads, weighed, picked } = asked;
  if (!Number.isSafeInteger(heads) || heads < 1) {
    throw new Refusal('bad-heads', 'Heads: give the whole number of animals in the group.', {
      field: 'heads',
    });
  }
  if (!Number.isSafeInteger(weighed) || weighed < 1 || weighed > heads) {
    throw new Refusal(
      'bad-weighed',
      `Weighed: give a whole number from 1 to ${heads}, the animals in the group.`,
      {
        field: 'weighed',
      },
    );
  }
  const rest = heads - weighed;
  if (rest === 0) return { says: 'All were weighed, so the heaviest is known.', working: [] };
  if (picked !== 'random') return { says: WHY_NONE[picked], working: [] };
  const chancePercent = multiply(divide(fraction(rest), fraction(heads)), fraction(100));
  const chance = toPlaces(chancePercent, 1);
  return {
    chancePercent,
    says: `With ${weighed} of ${heads} weighed at random, the chance is ${chance} % that a heavier one was not weighed.`,
    working: [
      {
        code: 'sample-chance',
        values: { heads: String(heads), weighed: String(weighed), chance },
        source: 'Each of the group is as likely to be the heaviest',
      },
    ],
  };
}
