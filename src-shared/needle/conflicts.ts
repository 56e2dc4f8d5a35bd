import type { Conflict, Rule, Side } from './rule.ts';
import type { Band, Situation } from './situation.ts';

/** Guidance about needles that disagrees, put side by side, with what is taken and why. */

type Spec = {
  readonly topic: string;
  readonly applies: (s: Situation) => boolean;
  /** Rows of the table, and how each stands in the list of sides. */
  readonly sides: (s: Situation) => readonly (readonly [rule: string, says: string])[];
  readonly taken: string;
};

const BAND_SIDES: Readonly<Record<Exclude<Band, 'adult'>, readonly [rule: string, says: string]>> = {
  'under-4-weeks': ['age-under-4-weeks', '22-20G 1/2 in under 4 weeks'],
  '4-16-weeks': ['age-4-16-weeks', '20G 5/8-3/4 in at 4-16 weeks'],
  '4-6-months': ['age-4-6-months', '20G 1 in at 4-6 months'],
};
const ofLamb = (s: Situation) => (s.band === 'adult' ? [] : [BAND_SIDES[s.band]]);
const THICK = ['thick-16-18', '16-18G for thick product'] as const;

const SPECS: readonly Spec[] = [
  {
    topic: 'skin-needle',
    applies: (s) => s.route === 'sc' && s.band === 'adult',
    sides: () => [
      ['skin-18-quarter', '18G 1/4'],
      ['skin-16-18-half', '16-18G 1/2-3/4'],
      ['skin-20-three-quarter', '20G 3/4'],
      ['skin-18-20-inch', '18-20G 1'],
    ],
    taken:
      'The ordinary length goes first, 1/2 in, or 3/4 in for what stains, irritates or leaks; then the thinnest that flows.',
  },
  {
    topic: 'thick-gauge',
    applies: (s) => s.isThick && s.band === 'adult',
    sides: (s) => [
      THICK,
      ['smallest-bore', 'smallest bore that flows'],
      ...(s.route === 'im' ? [['muscle-18-20-inch', '18-20G in muscle'] as const] : []),
    ],
    taken:
      'What is said of thick products goes first, because it is about this remedy; of those gauges the thinnest is taken.',
  },
  {
    topic: 'thick-lamb-gauge',
    applies: (s) => s.isThick && s.band !== 'adult',
    sides: (s) => [THICK, ...ofLamb(s)],
    taken:
      'The needle of the lamb’s age is taken, the widest of it: the animal goes before the flow. Push slowly, and ask the vet when it will not flow.',
  },
  {
    topic: 'muscle-length',
    applies: (s) => s.route === 'im' && s.band === 'adult',
    sides: () => [
      ['muscle-18-20-inch', '1-1 1/2 in'],
      ['older-18-20-inch', '1 in'],
    ],
    taken: 'The one that goes less deep is taken, 1 in, unless the farm has chosen the other.',
  },
  {
    topic: 'lamb-muscle',
    applies: (s) => s.route === 'im' && s.band !== 'adult',
    sides: (s) => [...ofLamb(s), ['muscle-18-20-inch', '18-20G 1-1 1/2 in muscle']],
    taken: 'The needle of the lamb’s age is taken: the other names no age and may go deeper.',
  },
];

/** The conflicts a situation raises. A side whose row is not in the table is left out; one side alone is no conflict. */
export function conflictsOf(s: Situation, rules: readonly Rule[]): Conflict[] {
  return SPECS.filter((spec) => spec.applies(s)).flatMap(({ topic, sides, taken }) => {
    const found: Side[] = sides(s).flatMap(([id, says]) => {
      const rule = rules.find((row) => row.id === id);
      return rule === undefined ? [] : [{ rule: id, says, source: rule.source, mark: rule.mark }];
    });
    return found.length < 2 ? [] : [{ topic, sides: found, taken: `${statedFirst(s)}${taken}` }];
  });
}

/** What stands before any of the guidance, where somebody has stated it. */
function statedFirst({ label, house }: Situation): string {
  const states = ({ gauge, lengthIn }: Situation['house']) => gauge !== undefined || lengthIn !== undefined;
  if (states(label)) return 'What the label states is taken; where it is silent: ';
  return states(house) ? 'What the farm has chosen is taken; where it has not: ' : '';
}
