import type { FLOW_CLASSES, SheepClass } from '../label/terms.ts';
import type { Amount } from '../quantity/amount.ts';
import { compare, type Fraction, fraction } from '../quantity/fraction.ts';
import { kilograms, printWeight, type Weight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Warning } from '../working.ts';
import type { Needle, NeedleLength } from './needle.ts';
import type { SiteId } from './places.ts';
import type { Gauge } from './tubing.ts';

/** What a needle is asked for, and what the rules need to know of it. */

export type NeedleRoute = 'sc' | 'im';
export type Condition = 'thin' | 'fair' | 'fat';
/** Tent: into a lifted fold. Flat: along the body. Slant: at 45°, and straight: at 90°, the skin not lifted. */
export const TECHNIQUES = ['tent', 'flat', 'slant', 'straight'] as const;
export type Technique = (typeof TECHNIQUES)[number];

/** What the label states of the needle; each field absent where it is silent. */
export type LabelNeedle = {
  readonly gauge?: Gauge | undefined;
  readonly lengthIn?: NeedleLength | undefined;
  /** "Not over 15 mm." */
  readonly mostLengthMm?: Fraction | undefined;
  readonly maxPerSite?: Amount | undefined;
};
/** What the farm has settled on for this kind of job. It holds where the label is silent. */
export type HouseNeedle = {
  readonly gauge?: Gauge | undefined;
  readonly lengthIn?: NeedleLength | undefined;
  readonly maxPerSite?: Amount | undefined;
};

/** A repeat gun; a gun of which it is not known counts as one that cannot draw back. */
export type Gun = { readonly drawsBack?: boolean | undefined };

export type NeedleAsk = {
  readonly route: NeedleRoute;
  readonly class: SheepClass;
  /** Absent where nobody knows it: then a lamb needs its age. */
  readonly weight?: Weight | undefined;
  /** Where it is known, it settles the band of a lamb; else the weight stands for it. */
  readonly ageDays?: number | undefined;
  readonly flowClass: (typeof FLOW_CLASSES)[number];
  /** Above zero. */
  readonly volume: Amount;
  readonly stains?: boolean | undefined;
  readonly irritates?: boolean | undefined;
  readonly leaks?: boolean | undefined;
  readonly condition?: Condition | undefined;
  /** Absent: short, which is the stricter of the two. */
  readonly fleece?: 'short' | 'full' | undefined;
  readonly technique?: Technique | undefined;
  readonly site?: SiteId | undefined;
  /** Absent: a syringe, which can draw back. */
  readonly gun?: Gun | undefined;
  readonly label?: LabelNeedle | undefined;
  readonly house?: HouseNeedle | undefined;
  /** Absent: the needles in usual use. */
  readonly inStock?: readonly Needle[] | undefined;
};

export type Band = 'under-4-weeks' | '4-16-weeks' | '4-6-months' | 'adult';

export type Situation = NeedleAsk & {
  readonly band: Band;
  /** A suspension or an oil: the "thick products" of the sources. */
  readonly isThick: boolean;
  /** Why the remedy should lie deeper: "stains", "irritates", "leaks". */
  readonly deeper: readonly string[];
  readonly label: LabelNeedle;
  readonly house: HouseNeedle;
  readonly warnings: readonly Warning[];
};

const LAMBS: readonly SheepClass[] = ['lamb', 'ewe-lamb', 'ram-lamb'];
/** The sources band lambs by age. Weights that stand for it, by growth of a quarter to 0.3 kg a day (memory). */
const FOUR_WEEKS = { days: 28, kg: fraction(12) };
const SIXTEEN_WEEKS = { days: 112, kg: fraction(35) };
const SIX_MONTHS_DAYS = 183;
/** A grown sheep lighter than this is asked about (practice). */
const LIGHT_ADULT_KG = fraction(20);

/** Whether the class is one of lambs, by which gauge and length are banded. */
export function isLamb(sheep: SheepClass): boolean {
  return LAMBS.includes(sheep);
}

/** What the band is called in a sentence. */
export const BAND_WORDS: Readonly<Record<Band, string>> = {
  'under-4-weeks': 'a lamb under 4 weeks',
  '4-16-weeks': 'a lamb of 4 to 16 weeks',
  '4-6-months': 'a lamb of 4 to 6 months',
  adult: 'a grown sheep',
};

/**
 * The ask with what follows from it. Refuses (`bad-volume`) a volume of zero or in another unit,
 * (`technique-not-for-route`) a technique that is for under the skin when the remedy goes into muscle, and
 * (`weight-missing`) a lamb of which neither weight nor age is known.
 */
export function situationOf(ask: NeedleAsk): Situation {
  if (ask.volume.kind !== 'volume' || ask.volume.microlitres <= 0) {
    throw new Refusal('bad-volume', 'Volume: write how many mL are given, above zero, as in 2 mL.', {
      field: 'volume',
    });
  }
  if (ask.route === 'im' && ask.technique !== undefined && ask.technique !== 'straight') {
    throw new Refusal(
      'technique-not-for-route',
      'Technique: into muscle the needle goes straight in; a fold, a flat angle or a slant is for under the skin.',
      { field: 'technique', next: 'Choose straight, or the route under the skin if the label says so.' },
    );
  }
  const band = bandOf(ask);
  const deeper = [
    ...(ask.stains === true ? ['stains'] : []),
    ...(ask.irritates === true ? ['irritates'] : []),
    ...(ask.leaks === true ? ['leaks'] : []),
  ];
  return {
    ...ask,
    band,
    isThick: ask.flowClass === 'suspension' || ask.flowClass === 'oily',
    deeper,
    label: ask.label ?? {},
    house: ask.house ?? {},
    warnings: lightAdult(ask),
  };
}

function bandOf({ class: sheep, ageDays, weight }: NeedleAsk): Band {
  if (!isLamb(sheep)) return 'adult';
  const under = (limit: typeof FOUR_WEEKS) => {
    if (ageDays !== undefined) return ageDays < limit.days;
    if (weight !== undefined) return compare(kilograms(weight), limit.kg) < 0;
    throw new Refusal(
      'weight-missing',
      'The needle of a lamb goes by its age or its weight, and neither is known.',
      {
        field: 'weight',
        next: 'Weigh it, or write down when it was born.',
      },
    );
  };
  if (under(FOUR_WEEKS)) return 'under-4-weeks';
  if (under(SIXTEEN_WEEKS)) return '4-16-weeks';
  return ageDays !== undefined && ageDays > SIX_MONTHS_DAYS ? 'adult' : '4-6-months';
}

/** A grown sheep that is as light as a lamb is asked about: needle and place of a lamb are others. */
export function lightAdult(ask: Pick<NeedleAsk, 'class' | 'weight'>): Warning[] {
  if (ask.weight === undefined || isLamb(ask.class) || compare(kilograms(ask.weight), LIGHT_ADULT_KG) >= 0)
    return [];
  return [
    {
      code: 'light-for-class',
      text: `${printWeight(ask.weight)} is light for a grown sheep: if it is a lamb, choose lamb, because its needle is thinner and shorter and its muscle less.`,
    },
  ];
}
