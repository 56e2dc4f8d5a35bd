import { type Amount, inDoseUnits, printAmount } from '../quantity/amount.ts';
import {
  absolute,
  add,
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  roundTo,
  subtract,
  toDecimal,
  toPlaces,
  ZERO,
} from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import type { Step, Warning } from '../working.ts';
import { toAmount } from './exact.ts';

/**
 * A dosing gun shot into a measure. No pass mark was published; these are practice, and equal the ISO 7886-1 band of a
 * well filled syringe. Two published sources ask for three or four shots at the least and a check again about every
 * 200 animals.
 */
export const GUN_SHOTS = { least: 3, usual: 10, most: 200 } as const;
/** The mean may be off what the gun stands at by this much, either way. */
export const MEAN_WITHIN_PERCENT: Fraction = fraction(5);
/** The standard deviation of the shots, of their mean, lies under this. */
export const SPREAD_UNDER_PERCENT: Fraction = fraction(3);

export type GunVerdict = 'right' | 'off' | 'uneven' | 'too-few';

export type GunShots = {
  /** What the gun stands at. */
  readonly setTo: Amount;
  /**
   * What it should give, where that is not what it stands at: once it was set to 4.5 mL so as to give 5 mL, 5 mL is
   * right. Without it a gun that was just put right would be found wrong and set wrong.
   */
  readonly wanted?: Amount | undefined;
  /** How many shots gave how much in all, or each shot by itself. */
  readonly shots?: number | undefined;
  readonly total?: Amount | undefined;
  readonly each?: readonly Amount[] | undefined;
  /** The marks the gun can be set to. */
  readonly graduation?: Amount | undefined;
};

export type GunFound = {
  readonly shots: number;
  /** mL a shot, exact. */
  readonly mean: Fraction;
  /** Mean against what it should give; below zero when it gives too little. */
  readonly offPercent: Fraction;
  /** Standard deviation of the sample, percent of the mean to 9 places; only where each shot is known. */
  readonly spreadPercent?: Fraction;
  readonly verdict: GunVerdict;
  /** What to set it to, so that it gives what it should: only when it is even and off. */
  readonly newSetting?: Amount;
  /** The verdict as a sentence, with what to do. */
  readonly says: string;
  readonly working: Step[];
  readonly warnings: Warning[];
};

const HUNDRED = fraction(100);

/**
 * Mean, spread and verdict of a gun. Uneven goes before off: a setting cures no valve. Fewer than three shots are
 * `too-few` for any verdict. Refuses `bad-shots`, `units-do-not-match`, `bad-volume`, each with its field.
 */
export function checkGun(asked: GunShots): GunFound {
  const set = volumeOf(asked.setTo, 'setTo', 'Set to');
  const wanted = asked.wanted === undefined ? set : volumeOf(asked.wanted, 'wanted', 'Should give');
  const { shots, total, each } = shotsOf(asked);
  const mean = divide(total, fraction(shots));
  const working: Step[] = [
    {
      code: 'gun-mean',
      values: { total: ml(total), shots: String(shots), mean: ml(mean) },
    },
  ];
  const offPercent = multiply(divide(subtract(mean, wanted), wanted), HUNDRED);
  const off = compare(absolute(offPercent), MEAN_WITHIN_PERCENT) > 0;
  working.push({
    code: 'gun-off',
    values: {
      mean: ml(mean),
      set: ml(wanted),
      off: toPlaces(offPercent, 1),
      most: toDecimal(MEAN_WITHIN_PERCENT),
    },
    source: 'Practice: no pass mark is published',
  });
  const spread = each === undefined || shots < 2 ? undefined : spreadOf(each, mean);
  if (spread !== undefined) {
    working.push({
      code: 'gun-spread',
      values: {
        shots: String(shots),
        spread: toPlaces(spread.percent, 1),
        under: toDecimal(SPREAD_UNDER_PERCENT),
      },
      source: 'Practice: no pass mark is published',
    });
  }
  const few = shots < GUN_SHOTS.least;
  const verdict: GunVerdict = few ? 'too-few' : spread?.uneven === true ? 'uneven' : off ? 'off' : 'right';
  const newSetting =
    verdict === 'off' ? settingFor({ set, wanted, mean }, asked.graduation, working) : undefined;
  return {
    shots,
    mean,
    offPercent,
    ...(spread === undefined ? {} : { spreadPercent: spread.percent }),
    verdict,
    ...(newSetting === undefined ? {} : { newSetting }),
    says: say(verdict, { set, wanted, mean, offPercent, newSetting, even: spread !== undefined }),
    working,
    warnings: unlikely(wanted, mean),
  };
}

const ml = (value: Fraction) => `${toDecimal(value)} mL`;

function volumeOf(amount: Amount, field: string, name: string): Fraction {
  if (amount.kind !== 'volume') {
    throw new Refusal('units-do-not-match', `${name}: a gun is checked in mL.`, { field });
  }
  const value = inDoseUnits(amount);
  if (value.n <= 0n) throw new Refusal('bad-volume', `${name}: it must be above zero.`, { field });
  return value;
}

function shotsOf({ shots, total, each }: GunShots): { shots: number; total: Fraction; each?: Fraction[] } {
  const refuse = (field: string, says: string, next?: string) =>
    new Refusal('bad-shots', says, { field, next });
  if (each !== undefined && each.length > 0) {
    if (total !== undefined || shots !== undefined) {
      throw refuse('each', 'Each: give each shot, or the shots and their total, and not both.');
    }
    if (each.length > GUN_SHOTS.most)
      throw refuse('each', `Each: at most ${GUN_SHOTS.most} shots are taken.`);
    const values = each.map((shot, i) => volumeOf(shot, `each.${i}`, `Shot ${i + 1}`));
    return { shots: values.length, total: values.reduce(add, ZERO), each: values };
  }
  if (shots === undefined) {
    throw refuse(
      'shots',
      'Shots: say how many shots were given.',
      `Shoot ${GUN_SHOTS.usual} into a measure.`,
    );
  }
  if (!Number.isInteger(shots) || shots < 1 || shots > GUN_SHOTS.most) {
    throw refuse('shots', `Shots: give a whole number from 1 to ${GUN_SHOTS.most}.`);
  }
  if (total === undefined) {
    throw refuse('total', 'Total: say how much all shots gave together.', 'Read it off the measure, in mL.');
  }
  return { shots, total: volumeOf(total, 'total', 'Total') };
}

/** The verdict goes by exact squares; only what is printed takes a root. */
function spreadOf(each: readonly Fraction[], mean: Fraction): { percent: Fraction; uneven: boolean } {
  const squares = each.map((shot) => subtract(shot, mean)).map((off) => multiply(off, off));
  const variance = divide(squares.reduce(add, ZERO), fraction(each.length - 1));
  const ofMean = multiply(divide(variance, multiply(mean, mean)), fraction(10_000));
  const limit = multiply(SPREAD_UNDER_PERCENT, SPREAD_UNDER_PERCENT);
  return { percent: rootOf(ofMean), uneven: compare(ofMean, limit) >= 0 };
}

const ROOT_SCALE = 10n ** 9n;

/** The square root to nine places after the point, the last not rounded up. */
function rootOf(value: Fraction): Fraction {
  const under = (value.n * ROOT_SCALE * ROOT_SCALE) / value.d;
  if (under === 0n) return ZERO;
  // Newton's steps in whole numbers fall until they stand.
  let root = 1n << BigInt((under.toString(2).length + 1) >> 1);
  for (;;) {
    const next = (root + under / root) / 2n;
    if (next >= root) return fraction(root, ROOT_SCALE);
    root = next;
  }
}

function settingFor(
  { set, wanted, mean }: { set: Fraction; wanted: Fraction; mean: Fraction },
  graduation: Amount | undefined,
  working: Step[],
): Amount {
  const exact = divide(multiply(set, wanted), mean);
  const step =
    graduation === undefined ? fraction(1n, 100n) : volumeOf(graduation, 'graduation', 'Graduation');
  const setting = roundTo(exact, step, 'nearest');
  // A gun cannot be set below its first mark.
  const amount = toAmount(setting.n > 0n ? setting : step, 'volume');
  working.push({
    code: 'gun-setting',
    values: {
      set: ml(set),
      wanted: ml(wanted),
      mean: ml(mean),
      exact: ml(exact),
      step: ml(step),
      setting: printAmount(amount),
    },
  });
  return amount;
}

type Said = {
  set: Fraction;
  wanted: Fraction;
  mean: Fraction;
  offPercent: Fraction;
  newSetting: Amount | undefined;
  even: boolean;
};

function say(verdict: GunVerdict, { set, wanted, mean, offPercent, newSetting, even }: Said): string {
  const percent = toPlaces(absolute(offPercent), 1);
  const side = offPercent.n < 0n ? 'too little' : 'too much';
  const isSame = compare(set, wanted) === 0;
  const gives = `It gives ${toPlaces(mean, 2)} mL at ${ml(set)}${isSame ? '' : `, where ${ml(wanted)} is wanted`}`;
  if (verdict === 'too-few') {
    return `${gives}, but that is too few shots to tell: shoot ${GUN_SHOTS.usual}, ${GUN_SHOTS.least} at the least.`;
  }
  if (verdict === 'uneven') {
    return `${gives} on average, but not the same from shot to shot: see to valve, seals and air in the tube, then check again.`;
  }
  if (verdict === 'off') {
    const same = newSetting === undefined || compare(inDoseUnits(newSetting), set) === 0;
    const then = same
      ? 'No other mark is nearer: dose with another gun.'
      : `Set it to ${printAmount(newSetting)} and check again.`;
    return `${gives}, ${percent} % ${side}. ${then}`;
  }
  const near = offPercent.n === 0n ? 'exactly right' : `${percent} % ${side}, near enough`;
  return even
    ? `${gives}: ${near}.`
    : `${gives}: ${near}. Whether every shot is alike, only single shots show.`;
}

/** Half or double is rather a slip in typing than a gun. */
function unlikely(wanted: Fraction, mean: Fraction): Warning[] {
  const ratio = divide(mean, wanted);
  if (compare(ratio, fraction(1n, 2n)) > 0 && compare(ratio, fraction(2)) < 0) return [];
  const text = `${toPlaces(mean, 2)} mL a shot for ${ml(wanted)} is far off: are the shots counted and the measure read right?`;
  return [{ code: 'gun-unlikely', text }];
}
