import type { ItemId } from './items.ts';

export const PROFILE_IDS = ['eu', 'gb', 'ni', 'us', 'victoria', 'plain', 'assurance'] as const;
export type ProfileId = (typeof PROFILE_IDS)[number];

/**
 * What a text asks a keeper to write down. Data, with where it is from and how far that was confirmed; it is a help
 * for keeping the book, and no claim that any law has been complied with.
 */
export type Profile = {
  id: ProfileId;
  name: string;
  citation: string;
  /** `read`: the text itself was read. `second-hand`: told by another text. `memory`, `practice`: neither. */
  confirmed: 'read' | 'read, disposal from memory' | 'second-hand' | 'practice';
  items: readonly ItemId[];
  /** Within how many hours of happening a treatment must be written down. */
  withinHours?: number;
  keptYears: number;
  /** What the user should know beside the items. */
  notes: readonly string[];
};

const EU_ITEMS: readonly ItemId[] = [
  'supplier',
  'supplier-address',
  'proof',
  'given-on',
  'duration',
  'given-medicine',
  'given-quantity',
  'animals',
  'meat-period',
  'milk-period',
  'prescriber',
  'prescriber-contact',
  'prescription',
];

/** The list an assurance scheme may ask for; the farm edits it. */
export const ASSURANCE_ITEMS: readonly ItemId[] = [
  'bought-batch',
  'bought-expiry',
  'bought-quantity',
  'supplier',
  'proof',
  'given-on',
  'duration',
  'given-medicine',
  'given-batch',
  'given-quantity',
  'animals',
  'traceable',
  'heads',
  'reason',
  'given-by',
  'meat-period',
  'meat-until',
  'disposed-quantity',
  'disposed-how',
];

/** What such a list asks that no entry can answer; the farm edits it, and looks for itself. */
export const ASSURANCE_OWN: readonly string[] = [
  'The medicine store is locked.',
  'How sharps are disposed of is written down.',
  'What is done about a broken needle is written down.',
  'The vet has reviewed the medicines within the last year.',
  'Whoever gives medicines has been trained, and that is on paper.',
];

export const PROFILES: Readonly<Record<ProfileId, Profile>> = {
  eu: {
    id: 'eu',
    name: 'European Union',
    citation: 'Regulation (EU) 2019/6, Article 108',
    confirmed: 'read',
    items: EU_ITEMS,
    keptYears: 5,
    notes: [
      'A copy of the prescription belongs to the record where one was needed.',
      'Your country may ask for more: Ireland, for one, wants what was returned unused or out of date (read).',
    ],
  },
  ni: {
    id: 'ni',
    name: 'Northern Ireland',
    citation: 'Regulation (EU) 2019/6, Article 108, as it applies in Northern Ireland',
    confirmed: 'read',
    items: EU_ITEMS,
    keptYears: 5,
    notes: [
      'Records on a computer are expected in the layout of the official book, with a back-up. This book has a layout of its own, which may not be accepted: ask before you rely on it.',
      'The five years count from the end of the calendar year.',
    ],
  },
  gb: {
    id: 'gb',
    name: 'Great Britain',
    citation: 'Veterinary Medicines Regulations 2013, regulations 17, 19 and 20',
    confirmed: 'read, disposal from memory',
    items: [
      'bought-on',
      'bought-medicine',
      'bought-batch',
      'bought-quantity',
      'supplier',
      'supplier-address',
      'proof',
      'given-on',
      'given-medicine',
      'given-quantity',
      'animals',
      'meat-period',
      'milk-period',
      'vet-gave',
      'vet-batch',
      'disposed-on',
      'disposed-medicine',
      'disposed-quantity',
      'disposed-how',
      'disposed-where',
    ],
    keptYears: 5,
    notes: [
      'Kept from use or disposal, even when the animal is sold, slaughtered or dead.',
      'Scotland also wants expiry dates, and the day a bottle of many doses was first used (read); both stand with each container.',
    ],
  },
  us: {
    id: 'us',
    name: 'United States, as advised',
    citation: 'Advice of the Food and Drug Administration on treatment records',
    confirmed: 'second-hand',
    items: [
      'bought-medicine',
      'bought-on',
      'bought-quantity',
      'bought-strength',
      'bought-form',
      'bought-expiry',
      'supplier',
      'supplier-address',
      'given-medicine',
      'animals',
      'reason',
      'given-on',
      'dose',
      'route',
      'given-by',
      'prescription',
      'meat-period',
      'meat-until',
      'milk-period',
      'milk-until',
    ],
    keptYears: 2,
    notes: ['Advice, and no rule by itself. Your state or your buyer may ask for more.'],
  },
  victoria: {
    id: 'victoria',
    name: 'Victoria, Australia',
    citation: 'Rules of Victoria on records of veterinary chemical use',
    confirmed: 'read',
    items: [
      'given-medicine',
      'species',
      'location',
      'animals',
      'heads',
      'given-on',
      'given-quantity',
      'duration',
    ],
    withinHours: 48,
    keptYears: 2,
    notes: ['Each use is to be written down within 48 hours.'],
  },
  plain: {
    id: 'plain',
    name: 'Plain',
    citation: 'No text of law: what makes a record useful to the next person',
    confirmed: 'practice',
    items: [
      'bought-on',
      'bought-medicine',
      'bought-batch',
      'bought-expiry',
      'bought-quantity',
      'given-on',
      'given-medicine',
      'given-batch',
      'given-quantity',
      'animals',
      'reason',
      'given-by',
      'meat-period',
      'meat-until',
      'disposed-on',
      'disposed-medicine',
      'disposed-quantity',
    ],
    keptYears: 5,
    notes: ['Foldbook has no list for the law of this holding. Ask what must be written down.'],
  },
  assurance: {
    id: 'assurance',
    name: "The farm's own assurance list",
    citation: 'Edited by the farm; no scheme is meant',
    confirmed: 'practice',
    items: ASSURANCE_ITEMS,
    keptYears: 5,
    notes: [],
  },
};

/** The profile that goes with the law of a holding. */
const OF_LAW: Readonly<Record<string, ProfileId>> = { eu: 'eu', ni: 'ni', gb: 'gb', us: 'us' };

export type RecordRules = {
  /** Instead of the profile that goes with the law. */
  profile?: Exclude<ProfileId, 'assurance'> | undefined;
  /** The assurance list, when the farm keeps one. */
  assurance?: { items: readonly ItemId[]; own: readonly string[] } | undefined;
};

/** The profiles a holding keeps its book by: that of its law or the one chosen, and its assurance list. */
export function profilesFor(law: string, rules: RecordRules = {}): Profile[] {
  const first = PROFILES[rules.profile ?? OF_LAW[law] ?? 'plain'];
  if (rules.assurance === undefined) return [first];
  const { items, own } = rules.assurance;
  return [first, { ...PROFILES.assurance, items, notes: own }];
}
