import { compare, toDecimal } from '../quantity/fraction.ts';
import { eighths, lengthMm, type NeedleLength } from './needle.ts';
import type { Facts, Guide, Limit } from './rule.ts';
import { BAND_WORDS, type HouseNeedle, type LabelNeedle, type Situation } from './situation.ts';

/**
 * What throws a needle out: the label, the farm's own rule where the label is silent, and the strictest of what the
 * sources bear out. Sentences are the rest of one that begins with the needle.
 */

const gauges = (guides: readonly Guide[], end: 'widest' | 'thinnest') =>
  guides.map(({ gauge }) => Number(gauge[end]));
const lengths = (guides: readonly Guide[], end: 'shortest' | 'longest') =>
  guides.flatMap(({ length }) => (length === undefined ? [] : [length[end]]));

function longestOf(all: readonly NeedleLength[]): NeedleLength | undefined {
  return all.reduce<NeedleLength | undefined>(
    (best, one) => (best === undefined || eighths(one) > eighths(best) ? one : best),
    undefined,
  );
}
function shortestOf(all: readonly NeedleLength[]): NeedleLength | undefined {
  return all.reduce<NeedleLength | undefined>(
    (best, one) => (best === undefined || eighths(one) < eighths(best) ? one : best),
    undefined,
  );
}

/** The shortest and the longest that any guide of these gives; undefined where none speaks of length. */
export function shortestGiven({ guides }: Facts): NeedleLength | undefined {
  return shortestOf(lengths(guides, 'shortest'));
}
export function longestGiven({ guides }: Facts): NeedleLength | undefined {
  return longestOf(lengths(guides, 'longest'));
}

/** In muscle a thin animal gets no more than the shortest of the upper ends: there the sources are strictest. */
function deepestInMuscle({ s, guides }: Facts): NeedleLength | undefined {
  const ends = lengths(guides, 'longest');
  return s.condition === 'thin' ? shortestOf(ends) : longestOf(ends);
}

/** Whether the farm's own length counts: the label is silent on length, or allows at least as much. */
export function houseLengthStands(label: LabelNeedle, house: HouseNeedle): boolean {
  if (house.lengthIn === undefined || label.lengthIn !== undefined) return false;
  return label.mostLengthMm === undefined || compare(lengthMm(house.lengthIn), label.mostLengthMm) <= 0;
}

const who = (s: Situation) => BAND_WORDS[s.band];
const STATED = { kind: 'limit', mark: 'stated', strength: 'safety' } as const;
const SAFETY = { kind: 'limit', strength: 'safety' } as const;
const LABEL = 'the label';
const HOUSE = 'the farm’s own rule';

const stated: readonly Limit[] = [
  {
    ...STATED,
    id: 'label-gauge',
    says: 'The gauge the label states rules.',
    source: LABEL,
    about: 'label',
    breaks: ({ gauge }, { s: { label } }) =>
      label.gauge === undefined || label.gauge === gauge
        ? undefined
        : `is not the ${label.gauge}G the label states`,
  },
  {
    ...STATED,
    id: 'label-length',
    says: 'The length the label states rules.',
    source: LABEL,
    about: 'label',
    breaks: ({ lengthIn }, { s: { label } }) =>
      label.lengthIn === undefined || label.lengthIn === lengthIn
        ? undefined
        : `is not the ${label.lengthIn} in the label states`,
  },
  {
    ...STATED,
    id: 'label-most-length',
    says: 'No needle is longer than the label allows.',
    source: LABEL,
    about: 'label',
    breaks: ({ lengthIn }, { s: { label } }) =>
      label.mostLengthMm === undefined || compare(lengthMm(lengthIn), label.mostLengthMm) <= 0
        ? undefined
        : `is ${toDecimal(lengthMm(lengthIn))} mm, and the label allows ${toDecimal(label.mostLengthMm)} mm`,
  },
  {
    ...STATED,
    id: 'house-gauge',
    says: 'Where the label is silent on gauge, the farm’s own rule holds.',
    source: HOUSE,
    about: 'house',
    breaks: ({ gauge }, { s: { label, house } }) =>
      label.gauge !== undefined || house.gauge === undefined || house.gauge === gauge
        ? undefined
        : `is not the ${house.gauge}G of the farm’s own rule`,
  },
  {
    ...STATED,
    id: 'house-length',
    says: 'Where the label is silent on length, the farm’s own rule holds.',
    source: HOUSE,
    about: 'house',
    breaks: ({ lengthIn }, { s: { label, house } }) =>
      houseLengthStands(label, house) && house.lengthIn !== lengthIn
        ? `is not the ${house.lengthIn} in of the farm’s own rule`
        : undefined,
  },
];

const gaugeLimits: readonly Limit[] = [
  {
    ...SAFETY,
    id: 'class-thinnest',
    says: 'Never thinner than the thinnest a source gives this animal: it bends or breaks.',
    source: 'the sources by class and age, their thinnest end',
    mark: 'read',
    about: 'gauge',
    breaks: ({ gauge }, { s, ofClass }) => {
      const ends = gauges(ofClass, 'thinnest');
      const thinnest = Math.max(...ends);
      return ends.length === 0 || Number(gauge) <= thinnest
        ? undefined
        : `is thinner than any source gives ${who(s)} (${thinnest}G)`;
    },
  },
  {
    ...SAFETY,
    id: 'class-widest',
    says: 'Never wider than the widest a source gives this animal: it hurts and leaks.',
    source:
      'the sources by class and age, their widest end; 16G is the widest of usual sheep needles (practice)',
    mark: 'read',
    about: 'gauge',
    breaks: ({ gauge }, { s, ofClass }) => {
      const ends = gauges(ofClass, 'widest');
      const widest = Math.min(...ends);
      return ends.length === 0 || Number(gauge) >= widest
        ? undefined
        : `is wider than any source gives ${who(s)} (${widest}G)`;
    },
  },
  {
    ...SAFETY,
    id: 'thick-thinnest',
    says: 'A thick remedy does not go through a needle thinner than its own guide gives, in a grown sheep.',
    source: 'a club guide, 16-18G for thick products',
    mark: 'read',
    about: 'gauge',
    breaks: ({ gauge }, { s, guides }) => {
      const guide = guides.find(({ length }) => length === undefined);
      if (!s.isThick || guide === undefined || Number(gauge) <= Number(guide.gauge.thinnest))
        return undefined;
      return `is too thin for a thick remedy (${guide.short})`;
    },
  },
];

const lengthLimits: readonly Limit[] = [
  {
    ...SAFETY,
    id: 'skin-longest',
    says: 'Under the skin never longer than the longest a source gives this animal.',
    source: 'the sources by class and age, their longest end',
    mark: 'read',
    about: 'length',
    breaks: ({ lengthIn }, facts) => {
      const longest = longestGiven(facts);
      if (facts.s.route !== 'sc' || longest === undefined || eighths(lengthIn) <= eighths(longest))
        return undefined;
      return `is longer than any source gives ${who(facts.s)} under the skin (${longest} in)`;
    },
  },
  {
    ...SAFETY,
    id: 'muscle-shortest',
    says: 'In muscle never shorter than the shortest a source gives: it would stay under the skin.',
    source: 'the sources for muscle and by age, their shortest end',
    mark: 'read',
    about: 'length',
    breaks: ({ lengthIn }, facts) => {
      const { s } = facts;
      const shortest = shortestGiven(facts);
      if (s.route !== 'im' || shortest === undefined || eighths(lengthIn) >= eighths(shortest))
        return undefined;
      // A label that allows less than the sources ask for is the label ruling.
      const most = s.label.mostLengthMm;
      if (most !== undefined && compare(most, lengthMm(shortest)) < 0) return undefined;
      return `is too short to reach the muscle of ${who(s)} (${shortest} in)`;
    },
  },
  {
    ...SAFETY,
    id: 'muscle-longest',
    says: 'In muscle never longer than the sources give this animal, and in a thin one the strictest of them: behind it is bone.',
    source: 'the sources for muscle and by age; “little muscle in thin ones” (practice)',
    mark: 'read',
    about: 'length',
    breaks: ({ lengthIn }, facts) => {
      const { s } = facts;
      const longest = deepestInMuscle(facts);
      if (s.route !== 'im' || longest === undefined || eighths(lengthIn) <= eighths(longest))
        return undefined;
      const thin = s.condition === 'thin' ? ', which is thin' : '';
      return `goes too deep into ${who(s)}${thin} (${longest} in)`;
    },
  },
];

const QUARTER = eighths('1/4');
const techniqueLimits: readonly Limit[] = [
  {
    ...SAFETY,
    id: 'slant-quarter',
    says: 'At 45° without a fold only 1/4 in stays under the skin: 3/4 in still reaches 13.5 mm, and 12 mm is muscle.',
    source: 'South Australian guidance; 3/4 in × sin 45° = 13.5 mm (derived)',
    mark: 'read',
    about: 'technique',
    breaks: ({ lengthIn }, { s }) =>
      s.route === 'sc' && s.technique === 'slant' && eighths(lengthIn) > QUARTER
        ? 'may reach muscle at 45° without a fold of skin (1/4 in)'
        : undefined,
  },
  {
    ...SAFETY,
    id: 'straight-quarter-wool',
    says: 'Straight in without a fold, 12 mm usually reaches muscle; only 1/4 in, and only in full wool, stays under the skin.',
    source: 'South Australian guidance',
    mark: 'read',
    about: 'technique',
    breaks: ({ lengthIn }, { s }) => {
      if (s.route !== 'sc' || s.technique !== 'straight') return undefined;
      if (eighths(lengthIn) > QUARTER) return 'may reach muscle straight in without a fold of skin (1/4 in)';
      return s.fleece === 'full'
        ? undefined
        : 'may reach muscle straight in through short wool without a fold';
    },
  },
];

export const LIMITS: readonly Limit[] = [...stated, ...gaugeLimits, ...lengthLimits, ...techniqueLimits];
