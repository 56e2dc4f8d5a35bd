import { z } from 'zod';

/**
 * What a package insert says, as the user typed it. Quantities stay the text that was typed ("1 mL per 50 kg",
 * "28 d"): it is exact, and it is what an inspector compares with the paper. The areas parse them when they
 * compute; `checkTerms` in check.ts parses all of them before a revision is accepted.
 */

export const KINDS = ['volume', 'mass', 'pieces'] as const;
export const FORMS = [
  'injection',
  'drench',
  'pour-on',
  'bolus',
  'tablet',
  'powder',
  'paste',
  'intramammary',
  'spray',
  'drops',
  'sponge',
  'other',
] as const;
export const ROUTES = [
  'subcutaneous',
  'intramuscular',
  'intravenous',
  'oral',
  'pour-on',
  'topical',
  'intramammary',
  'intravaginal',
  'intranasal',
  'eye',
  'scratch',
  'other',
] as const;
export const PURPOSES = [
  'vaccine',
  'parasites',
  'antibiotic',
  'anti-inflammatory',
  'vitamin-mineral',
  'hormone',
  'anaesthetic',
  'other',
] as const;
/** Classes of sheep. `sheep` on a label means any of them. */
export const CLASSES = ['lamb', 'ewe-lamb', 'ram-lamb', 'wether', 'hogg', 'ewe', 'ram'] as const;
export const PRODUCE = ['meat', 'milk', 'wool-harvest', 'wool-handling'] as const;
export const FLOW_CLASSES = ['watery', 'syrupy', 'suspension', 'oily'] as const;
export const ROUNDINGS = ['nearest', 'up', 'down'] as const;

/** Routes by which a needle is used: only these have a site, a side and a needle. */
export const NEEDLE_ROUTES: readonly string[] = ['subcutaneous', 'intramuscular', 'intravenous'];

export type QuantityKind = (typeof KINDS)[number];
export type Route = (typeof ROUTES)[number];
export type SheepClass = (typeof CLASSES)[number];
export type Produce = (typeof PRODUCE)[number];

const text = z.string().trim().min(1).max(400);
const shortText = z.string().trim().min(1).max(80);
const id = z.string().min(1).max(40);

/** One active substance and its strength ("10 mg/mL", "1 %", "300000 IU/mL", "100 mg per bolus"). */
export const activeSchema = z.strictObject({
  substance: shortText,
  strength: shortText.optional(),
  /** The form it is given in, when the strength is that of a salt. */
  salt: shortText.optional(),
  /** Of which of the two the strength and the rate are, where the insert names a salt. */
  strengthOf: z.enum(['base', 'salt']).optional(),
});

/** A rate for each unit of weight, a fixed amount a head, or bands of weight. */
export const rateSchema = z.discriminatedUnion('style', [
  z.strictObject({
    style: z.literal('rate'),
    /** "0.2 mg/kg", "1 mL per 50 kg", "3000 IU/lb", "2 mL per head", "1 bolus per head". */
    text: shortText,
    /** Which active substance the rate is of, counted from 0. */
    of: z.number().int().min(0).max(9).default(0),
    /** The other statement when the insert prints both ("1 mL per 50 kg" beside "0.2 mg/kg"). */
    perVolume: shortText.optional(),
  }),
  z.strictObject({
    style: z.literal('bands'),
    /** Each band reaches up to and including its weight. Below `from` there is no dose. */
    bands: z
      .array(z.strictObject({ upTo: shortText, dose: shortText }))
      .min(1)
      .max(40),
    from: shortText.optional(),
    furtherStep: z.strictObject({ each: shortText, dose: shortText }).optional(),
  }),
]);

export const doseLineSchema = z.strictObject({
  id,
  title: shortText.optional(),
  /** Empty: every sheep. */
  classes: z.array(z.enum(CLASSES)).max(7).default([]),
  against: shortText.optional(),
  route: z.enum(ROUTES),
  rate: rateSchema,
  leastWeight: shortText.optional(),
  mostWeight: shortText.optional(),
  leastAge: shortText.optional(),
  mostAge: shortText.optional(),
  mostPerSite: shortText.optional(),
  mostDose: shortText.optional(),
  rounding: z.enum(ROUNDINGS).optional(),
  /** A course: how many doses in all, and days between them. */
  repeats: z
    .strictObject({
      doses: z.number().int().min(2).max(60),
      earliest: shortText.optional(),
      due: shortText,
      latest: shortText.optional(),
      /** What the label says to do when a dose comes later than `latest` ("start again", "give it at once"). */
      whenLate: text.optional(),
    })
    .optional(),
  /** How long the animal is protected once this line is complete ("365 d"): vaccines. */
  protects: shortText.optional(),
  /** Loading then maintenance, or first course then booster: the dose line that follows this one. */
  followedBy: id.optional(),
});

export const ANCHORS = ['last-dose', 'removal', 'end-of-release', 'lambing', 'later-of-two'] as const;

/** One row of the withdrawal table. Not stated and zero are different things. */
export const periodRowSchema = z.strictObject({
  produce: z.enum(PRODUCE),
  /** Empty lists: all of them. */
  classes: z.array(z.enum(CLASSES)).max(7).default([]),
  routes: z.array(z.enum(ROUTES)).max(12).default([]),
  doseLines: z.array(id).max(20).default([]),
  says: z.enum(['value', 'zero', 'not-for-this-produce', 'for-life', 'not-stated']),
  value: shortText.optional(),
  countedFrom: z.enum(ANCHORS).default('last-dose'),
  /** For `later-of-two`: the period counted from the last dose beside `value`, counted from lambing. */
  valueFromDose: shortText.optional(),
  market: z.enum(['domestic', 'export']).default('domestic'),
});

/** What the insert prints for other animals: the laws about treatments outside the label go by it. */
export const otherAnimalSchema = z.strictObject({
  /** "cattle". */
  animal: shortText,
  /** Not of the family of sheep, goats and cattle. */
  otherFamily: z.boolean().default(false),
  produce: z.enum(['meat', 'milk']),
  says: z.enum(['value', 'zero', 'not-for-this-produce']),
  value: shortText.optional(),
});

export const NOT_IF_CODES = [
  'class',
  'younger-than',
  'older-than',
  'lighter-than',
  'heavier-than',
  'pregnant-from-to',
  'before-lambing',
  'milking',
  'condition-under',
  'shorn-within',
  'same-substance-within',
  'not-with',
] as const;

export const notIfSchema = z.strictObject({
  id,
  code: z.enum(NOT_IF_CODES),
  /** What the code needs: a class, an age, a weight, days ("14 d"), a substance. */
  value: shortText.optional(),
  /** For `pregnant-from-to`: days after the ram went in, and days after he came out. */
  from: shortText.optional(),
  to: shortText.optional(),
  says: text.optional(),
});

export const labelTermsSchema = z.strictObject({
  name: shortText,
  form: z.enum(FORMS),
  kind: z.enum(KINDS),
  /** What one piece is called: bolus, tube, sachet, tablet, dose. */
  piece: shortText.optional(),
  purpose: z.enum(PURPOSES),
  prescription: z
    .enum(['vet-only', 'vet-prescription', 'qualified-person', 'general-sale', 'not-stated'])
    .default('not-stated'),
  actives: z.array(activeSchema).max(10).default([]),
  narrowMargin: z.boolean().default(false),
  flowClass: z.enum(FLOW_CLASSES).optional(),
  stains: z.boolean().default(false),
  irritates: z.boolean().default(false),
  /** It leaks back out of the place, as the insert or the farm found. */
  leaks: z.boolean().optional(),
  /** What the insert says of the needle; most inserts say nothing. */
  needle: z
    .strictObject({
      /** "18": exactly this gauge. */
      gauge: shortText.optional(),
      /** "1/2 in" or "15 mm": exactly this length, or no longer than this. */
      length: shortText.optional(),
      mostLength: shortText.optional(),
      /** How often the stopper may be pierced, and by which gauge ("15 by 16G"). */
      punctures: z.number().int().min(1).max(1000).optional(),
    })
    .optional(),
  doseLines: z.array(doseLineSchema).min(1).max(20),
  periods: z.array(periodRowSchema).max(60).default([]),
  others: z.array(otherAnimalSchema).max(20).optional(),
  notIf: z.array(notIfSchema).max(40).default([]),
  sucklingYoung: text.optional(),
  /** What it says of the meat of lambs that suck a treated ewe; absent: nothing that can be counted. */
  sucklingMeat: z
    .strictObject({ says: z.enum(['as-the-ewe', 'zero', 'value']), value: shortText.optional() })
    .optional(),
  /** "28 d", "10 h", "none" (keeps to its expiry) or "at once" (single use). Absent: the label is silent. */
  inUse: shortText.optional(),
  storage: z
    .strictObject({ says: text.optional(), leastC: z.number().optional(), mostC: z.number().optional() })
    .default({}),
  hazards: z
    .strictObject({ people: text.optional(), pregnantWomen: text.optional(), other: text.optional() })
    .default({}),
  shakeWell: z.boolean().default(false),
  note: z.string().trim().max(2000).optional(),
});

export type LabelTerms = z.infer<typeof labelTermsSchema>;
export type DoseLine = z.infer<typeof doseLineSchema>;
export type Rate = z.infer<typeof rateSchema>;
export type PeriodRow = z.infer<typeof periodRowSchema>;
export type OtherAnimal = z.infer<typeof otherAnimalSchema>;
export type SucklingMeat = NonNullable<LabelTerms['sucklingMeat']>;
export type NotIf = z.infer<typeof notIfSchema>;
export type Active = z.infer<typeof activeSchema>;
