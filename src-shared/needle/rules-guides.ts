import type { Guide } from './rule.ts';
import type { Band, Situation } from './situation.ts';

/**
 * What the sources give, one row a source, side by side: they disagree. The limits and preferences take their numbers
 * from these rows, so that each stands once.
 */

const adult = (s: Situation) => s.band === 'adult';
const adultSkin = (s: Situation) => s.route === 'sc' && adult(s);
const adultMuscle = (s: Situation) => s.route === 'im' && adult(s);
const ofBand = (band: Band) => (s: Situation) => s.band === band;

/** An age guide of a goat text: the only one by age that was found. */
const GOATS = 'a text on goats, Dawson 2005';
const MANUAL = 'a small-ruminant manual';

export const GUIDES: readonly Guide[] = [
  {
    kind: 'guide',
    id: 'skin-18-quarter',
    says: 'Under the skin of a grown sheep: 18G 1/4 in.',
    short: '18G 1/4',
    source: 'South Australian guidance',
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '18', thinnest: '18' },
    length: { shortest: '1/4', longest: '1/4' },
    applies: adultSkin,
  },
  {
    kind: 'guide',
    id: 'skin-16-18-half',
    says: 'Under the skin of a grown sheep: 16-18G 1/2-3/4 in.',
    short: '16-18G 1/2-3/4',
    source: 'a Wisconsin county guide',
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '16', thinnest: '18' },
    length: { shortest: '1/2', longest: '3/4' },
    applies: adultSkin,
  },
  {
    kind: 'guide',
    id: 'skin-20-three-quarter',
    says: 'Under the skin of a grown sheep: 20G 3/4 in.',
    short: '20G 3/4',
    source: 'Alabama guidance',
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '20', thinnest: '20' },
    length: { shortest: '3/4', longest: '3/4' },
    applies: adultSkin,
  },
  {
    kind: 'guide',
    id: 'skin-18-20-inch',
    says: 'Under the skin of a grown sheep: 18-20G 1 in.',
    short: '18-20G 1',
    source: MANUAL,
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '18', thinnest: '20' },
    length: { shortest: '1', longest: '1' },
    applies: adultSkin,
  },
  {
    kind: 'guide',
    id: 'muscle-18-20-inch',
    says: 'Into the muscle of a grown sheep: 18-20G 1-1 1/2 in.',
    short: '18-20G 1-1 1/2',
    source: MANUAL,
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '18', thinnest: '20' },
    length: { shortest: '1', longest: '1 1/2' },
    applies: adultMuscle,
  },
  {
    kind: 'guide',
    id: 'older-18-20-inch',
    // Under the skin it says the same as the manual, which is about sheep; so it stands here for muscle alone.
    says: 'Older than 6 months: 18-20G 1 in.',
    short: '18-20G 1',
    source: GOATS,
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '18', thinnest: '20' },
    length: { shortest: '1', longest: '1' },
    applies: adultMuscle,
  },
  {
    kind: 'guide',
    id: 'age-under-4-weeks',
    says: 'Under 4 weeks of age: 22-20G 1/2 in.',
    short: '22-20G 1/2',
    source: GOATS,
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '20', thinnest: '22' },
    length: { shortest: '1/2', longest: '1/2' },
    applies: ofBand('under-4-weeks'),
  },
  {
    kind: 'guide',
    id: 'age-4-16-weeks',
    says: 'From 4 to 16 weeks of age: 20G 5/8-3/4 in.',
    short: '20G 5/8-3/4',
    source: GOATS,
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '20', thinnest: '20' },
    length: { shortest: '5/8', longest: '3/4' },
    applies: ofBand('4-16-weeks'),
  },
  {
    kind: 'guide',
    id: 'age-4-6-months',
    says: 'From 4 to 6 months of age: 20G 1 in.',
    short: '20G 1',
    source: GOATS,
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '20', thinnest: '20' },
    length: { shortest: '1', longest: '1' },
    applies: ofBand('4-6-months'),
  },
  {
    kind: 'guide',
    id: 'thick-16-18',
    says: 'A thick remedy, a suspension or an oil: 16-18G.',
    short: '16-18G',
    source: 'a club guide',
    mark: 'read',
    strength: 'preference',
    gauge: { widest: '16', thinnest: '18' },
    // In a lamb it would ask for a needle wider than any its age is given; the animal comes before the flow.
    applies: (s) => adult(s) && s.isThick,
  },
];
