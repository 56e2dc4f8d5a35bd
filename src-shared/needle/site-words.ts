import type { SiteId } from './places.ts';

/** Places in the short words that stand in the book, and back. */

export const SITE_TEXT: Readonly<Record<SiteId, string>> = {
  neck: 'neck',
  elbow: 'behind the elbow',
  ribs: 'over the ribs',
  rump: 'rump',
  'hind-leg': 'hind leg',
};

const HEARD: readonly (readonly [RegExp, SiteId])[] = [
  [/\bneck\b|behind the ear/i, 'neck'],
  [/\belbow\b|\baxilla\b|\barmpit\b/i, 'elbow'],
  [/\bribs?\b|behind the shoulder/i, 'ribs'],
  [/\brump\b|\bgluteal\b/i, 'rump'],
  [/\b(?:hind|back)[- ]?leg\b|\bham\b|\bthigh\b/i, 'hind-leg'],
];

/** The places named in what somebody wrote of where it went in: several, or none that the drawing knows. */
export function sitesInText(text: string): SiteId[] {
  return HEARD.flatMap(([pattern, site]) => (pattern.test(text) ? [site] : []));
}

/** Where the parts of one dose went, as one text and one side for the book. */
export function siteForBook(spots: readonly { site: SiteId; side: 'left' | 'right' }[]): {
  site: string;
  side: 'left' | 'right' | 'both';
} {
  const names = [...new Set(spots.map(({ site }) => SITE_TEXT[site]))];
  const sides = [...new Set(spots.map(({ side }) => side))];
  const [only] = sides;
  if (only === undefined) throw new RangeError('Nothing went in nowhere.');
  return { site: names.join(' and '), side: sides.length > 1 ? 'both' : only };
}
