import { Refusal } from '../refusal.ts';
import type { RuleMark } from './rule.ts';
import type { NeedleRoute } from './situation.ts';

/** Places on a sheep where a needle goes in, as data: under the skin and in muscle. */

export const SITE_IDS = ['neck', 'elbow', 'ribs', 'rump', 'hind-leg'] as const;
export type SiteId = (typeof SITE_IDS)[number];

export type Place = {
  readonly site: SiteId;
  readonly route: NeedleRoute;
  readonly name: string;
  /** How to find it. */
  readonly landmarks: string;
  readonly animals: string;
  readonly avoid: readonly { readonly what: string; readonly why: string }[];
  /** What an abscess or a scar there costs on the carcass. */
  readonly carcass: { readonly value: 'low' | 'high'; readonly says: string };
  /** Whether the animal can kick whoever gives it. */
  readonly kicks: boolean;
  /** A vein lies near by, so that drawing back matters. */
  readonly vein: boolean;
  readonly source: string;
  readonly mark: RuleMark;
};

const BY_STRUCTURE = 'places by structure, practice';
const JUGULAR = {
  what: 'the groove along the underside of the neck',
  why: 'the large vein of the neck runs in it, and a remedy in a vein can kill',
};
const NECK_BONE = {
  what: 'the vertebrae, in the lower part of the neck',
  why: 'the needle strikes bone and may break',
};
const LIGAMENT = {
  what: 'the ligament along the top of the neck',
  why: 'a remedy put into it hardly spreads and the place heals badly',
};
const SCIATIC = {
  what: 'the sciatic nerve, which runs down behind the hip',
  why: 'of rump injections studied in cattle, 69 % lay within 5 cm of it, worst in thin animals, and it lames the leg',
};

export const PLACES: readonly Place[] = [
  {
    site: 'neck',
    route: 'sc',
    name: 'Side of the neck behind the ear',
    landmarks: 'The loose skin on the side of the neck, a hand behind the ear; lift a fold of it.',
    animals: 'Every sheep.',
    avoid: [JUGULAR],
    carcass: { value: 'low', says: 'A lump here is trimmed off with little loss.' },
    kicks: false,
    vein: true,
    source: 'extension guidance on sites under the skin',
    mark: 'read',
  },
  {
    site: 'elbow',
    route: 'sc',
    name: 'Behind the elbow',
    landmarks: 'The loose skin without wool, behind the elbow; lift a fold of it.',
    animals: 'Every sheep.',
    avoid: [
      { what: 'the chest wall under the fold', why: 'a needle driven straight in can enter the chest' },
    ],
    carcass: { value: 'low', says: 'A lump here costs little.' },
    kicks: false,
    vein: false,
    source: 'extension guidance on sites under the skin',
    mark: 'read',
  },
  {
    site: 'ribs',
    route: 'sc',
    name: 'Over the ribs behind the shoulder',
    landmarks: 'The skin over the ribs, a hand behind the shoulder; lay the needle flat along the ribs.',
    animals: 'Every sheep.',
    avoid: [
      {
        what: 'the gaps between the ribs',
        why: 'a needle driven straight in strikes rib or enters the chest',
      },
    ],
    carcass: { value: 'low', says: 'A lump here is trimmed off with little loss.' },
    kicks: false,
    vein: false,
    source: 'extension guidance on sites under the skin',
    mark: 'read',
  },
  {
    site: 'neck',
    route: 'im',
    name: 'Muscular middle of the neck',
    landmarks:
      'Half-way from jaw to shoulder, in the middle of the muscle: above the vertebrae and below the ligament.',
    animals:
      'Rams and well-muscled ewes first; in thin animals there is little muscle, so go no deeper than it is.',
    avoid: [NECK_BONE, LIGAMENT, JUGULAR],
    carcass: { value: 'low', says: 'Cheap meat, and a scar is trimmed off.' },
    kicks: false,
    vein: true,
    source: `neck muscle: all sources; landmarks: ${BY_STRUCTURE}`,
    mark: 'practice',
  },
  {
    site: 'rump',
    route: 'im',
    name: 'Front third of the rump',
    landmarks: 'The front third of the rump, about two fingers back behind the point of the hip.',
    animals: 'Well-muscled grown sheep only, when the vet asks for it. Not first for thin ewes and lambs.',
    avoid: [SCIATIC],
    carcass: { value: 'high', says: 'Good meat: an abscess or a scar here costs dear.' },
    kicks: true,
    vein: false,
    source: `Vet Record 182:140 (cattle) on the nerve; landmarks: ${BY_STRUCTURE}`,
    mark: 'practice',
  },
  {
    site: 'hind-leg',
    route: 'im',
    name: 'Muscle at the back of the hind leg',
    landmarks:
      'From behind, half-way between the point of the seat bone and the stifle, within the belly of one muscle.',
    animals: 'Well-muscled grown sheep only, when the vet asks for it. Not first for thin ewes and lambs.',
    avoid: [
      {
        what: 'the groove between the two muscles',
        why: 'nerve and vessels run in it, and the remedy runs down it',
      },
      SCIATIC,
    ],
    carcass: {
      value: 'high',
      says: 'The best meat: all sources but one avoid the hindquarter, and for antibiotics one avoids the hind leg by name.',
    },
    kicks: true,
    vein: true,
    source: `Gracey’s Meat Hygiene on antibiotics; landmarks: ${BY_STRUCTURE}`,
    mark: 'practice',
  },
];

const ROUTE_NAMES: Readonly<Record<NeedleRoute, string>> = { sc: 'under the skin', im: 'into muscle' };

/** The places of a route, in the order of the table. */
export function placesFor(route: NeedleRoute): Place[] {
  return PLACES.filter((place) => place.route === route);
}

/** One place. Refuses (`site-not-for-route`) one that does not serve the route, and names those that do. */
export function placeOf(route: NeedleRoute, site: SiteId, field = 'site'): Place {
  const found = placesFor(route).find((place) => place.site === site);
  if (found !== undefined) return found;
  const names = placesFor(route).map((place) => place.site);
  throw new Refusal(
    'site-not-for-route',
    `Site: ${site.replace('-', ' ')} is no place to inject ${ROUTE_NAMES[route]}.`,
    { field, next: `Choose one of ${names.join(', ').replaceAll('hind-leg', 'hind leg')}.` },
  );
}
