import { eighths } from './needle.ts';
import type { Facts, Preference } from './rule.ts';
import { longestGiven, shortestGiven } from './rules-limits.ts';

/**
 * What orders the needles that are left, the first that tells two apart deciding. Depth comes before bore: a needle
 * in the wrong layer harms more than one that is a little wide or slow.
 */

const ROW = { kind: 'preference', strength: 'preference' } as const;
const HALF = '1/2';
/** Where a liquid flows badly, bores below this are put behind. */
export const EASY_GAUGE = 18;

/** The ordinary length under the skin: 1/2 in, and in a lamb the shortest its age is given. */
function ordinary(facts: Facts) {
  return facts.s.band === 'adult' ? HALF : (shortestGiven(facts) ?? HALF);
}

const away = (a: Parameters<typeof eighths>[0], b: Parameters<typeof eighths>[0]) =>
  Math.abs(eighths(a) - eighths(b));

export const PREFERENCES: readonly Preference[] = [
  {
    ...ROW,
    id: 'skin-deeper',
    says: 'Under the skin a remedy that stains, irritates or leaks takes about 3/4 in instead of 1/2.',
    source: 'about 3/4 in for stain and leak; the same is taken for one that irritates',
    mark: 'practice',
    cost: ({ lengthIn }, { s }) =>
      s.route === 'sc' && s.deeper.length > 0 ? Math.max(0, eighths('3/4') - eighths(lengthIn)) : 0,
    pro: (_, { s }) => `It is long enough for a remedy that ${s.deeper.join(' and ')}.`,
    con: (_, { s }) => `It is short for a remedy that ${s.deeper.join(' and ')}: about 3/4 in is better.`,
  },
  {
    ...ROW,
    id: 'skin-ordinary',
    says: 'Under the skin 1/2 in is the ordinary length of a grown sheep, and the shortest of its age that of a lamb.',
    source: '“about 3/4 in instead of 1/2”; by age Dawson 2005',
    mark: 'practice',
    cost: ({ lengthIn }, facts) => (facts.s.route === 'sc' ? away(lengthIn, ordinary(facts)) : 0),
    pro: (_, facts) => `It is nearest to the ordinary length under the skin, ${ordinary(facts)} in.`,
    con: (_, facts) => `It is further from the ordinary length under the skin, ${ordinary(facts)} in.`,
  },
  {
    ...ROW,
    id: 'muscle-longer',
    says: 'Muscle takes a longer needle than skin: in a lamb the longest its age is given.',
    source: '“longer than for SC”',
    mark: 'practice',
    cost: ({ lengthIn }, facts) => {
      const longest = longestGiven(facts);
      const isLambMuscle = facts.s.route === 'im' && facts.s.band !== 'adult';
      return isLambMuscle && longest !== undefined ? away(lengthIn, longest) : 0;
    },
    pro: () => 'It is long enough to reach muscle well in a lamb of this age.',
    con: () => 'It reaches less well into muscle than a longer one of those this age is given.',
  },
  {
    ...ROW,
    id: 'less-deep',
    says: 'Of two that reach where they should, the one that goes less deep.',
    source: 'the strictest of sources that disagree',
    mark: 'practice',
    cost: ({ lengthIn }) => eighths(lengthIn),
    pro: () => 'It goes no deeper than it must.',
    con: () => 'It goes deeper than another that reaches as well.',
  },
  {
    ...ROW,
    id: 'given-together',
    says: 'Gauge and length that one source gives together go before a pair that none gives.',
    source: 'the sources by class and age',
    mark: 'practice',
    cost: (needle, facts) => (guidesGiving(needle, facts).length > 0 ? 0 : 1),
    pro: () => 'A source gives this gauge and length together.',
    con: () => 'No source gives this gauge with this length.',
  },
  {
    ...ROW,
    id: 'flow-wider',
    says: 'A remedy that is not watery takes a wider bore: 18G or wider before a thinner one.',
    source: '“thick products a wider bore”',
    mark: 'practice',
    cost: ({ gauge }, { s }) => (s.flowClass === 'watery' ? 0 : Math.max(0, Number(gauge) - EASY_GAUGE)),
    pro: () => 'Of those left it is the widest, or wide enough, for a remedy that flows badly.',
    con: () => 'It is thinner than another that is left, for a remedy that flows badly.',
  },
  {
    ...ROW,
    id: 'smallest-bore',
    says: 'The thinnest needle through which it flows: it hurts less and leaks less.',
    source: 'New Zealand guidance, “smallest bore that flows”',
    mark: 'read',
    cost: ({ gauge }) => -Number(gauge),
    pro: () => 'It is the thinnest that flows, so it hurts and leaks least.',
    con: () => 'It is wider than it needs to be.',
  },
];

/** The guides that give this gauge and this length together. */
export function guidesGiving(needle: Parameters<Preference['cost']>[0], { guides }: Facts) {
  return guides.filter(
    ({ gauge, length }) =>
      length !== undefined &&
      Number(needle.gauge) >= Number(gauge.widest) &&
      Number(needle.gauge) <= Number(gauge.thinnest) &&
      eighths(needle.lengthIn) >= eighths(length.shortest) &&
      eighths(needle.lengthIn) <= eighths(length.longest),
  );
}
