import { LENGTH_NAMES } from '../needle/needle.ts';
import { SITE_IDS } from '../needle/places.ts';
import { TECHNIQUES } from '../needle/situation.ts';
import { GAUGES } from '../needle/tubing.ts';
import { idSchema, localSchema, reading, subjectSchema, typed, warning, z } from './call.ts';

const needle = { gauge: z.enum(GAUGES), lengthIn: z.enum(LENGTH_NAMES) };
const reason = z.strictObject({ rule: z.string(), text: z.string(), source: z.string().optional() });
const conflict = z.strictObject({
  topic: z.string(),
  sides: z.array(
    z.strictObject({ rule: z.string(), says: z.string(), source: z.string(), mark: z.string() }),
  ),
  taken: z.string(),
});
const refused = z.strictObject({ code: z.string(), text: z.string(), next: z.string().optional() });
const side = z.enum(['left', 'right']);

const sites = z.strictObject({
  route: z.enum(['sc', 'im']),
  /** Every place of the route, best first. */
  offered: z.array(
    z.strictObject({
      site: z.enum(SITE_IDS),
      name: z.string(),
      landmarks: z.string(),
      animals: z.string(),
      isFirst: z.boolean(),
      why: z.string(),
      avoid: z.array(z.strictObject({ what: z.string(), why: z.string() })),
      source: z.string(),
    }),
  ),
  /** Where each part of this dose is suggested to go. */
  spots: z.array(z.strictObject({ site: z.enum(SITE_IDS), side, amount: z.string() })).min(1),
  perSite: z.string(),
  spacing: z.string().optional(),
  /** Where the last one went, by the book. */
  last: z.string(),
  drawBack: z.string(),
  conflicts: z.array(conflict),
  warnings: z.array(warning),
});
const chosen = z.strictObject({
  ...needle,
  /** "18G 1/2 in". */
  text: z.string(),
  reasons: z.array(reason),
  technique: z.strictObject({ says: z.string(), source: z.string() }),
  /** The next best ones, with what speaks against each. */
  others: z.array(z.strictObject({ text: z.string(), against: z.array(reason) })),
  /** Needles of the drawer that do not suit, with why. */
  out: z.array(z.strictObject({ text: z.string(), why: z.array(reason) })),
  conflicts: z.array(conflict),
  warnings: z.array(warning),
});

/** Where one dose is suggested to go, and with which needle, as the book will have it. */
export const whereShown = z.strictObject({
  site: z.string(),
  side: z.enum(['left', 'right', 'both']),
  needle: z.string().optional(),
});

export const whereCalls = {
  'needle-for': reading(
    'Where one dose of one animal goes, with which needle and how, with the reasons; for routes without a needle their short guidance.',
    z.strictObject({
      subject: subjectSchema,
      medicine: idSchema,
      doseLine: idSchema,
      /** A head, as it is drawn up: "5 mL". */
      volume: typed,
      /** The parts it is split into already, as the dose says them. */
      parts: z.array(typed).max(20).optional(),
      /** What it weighs, where that is not what the book has. */
      weight: typed.optional(),
      /** The farm's own syringe or gun. */
      equipment: idSchema.optional(),
      condition: z.enum(['thin', 'fair', 'fat']).optional(),
      /** Absent: short, which is the stricter of the two. */
      fleece: z.enum(['short', 'full']).optional(),
      /** Under the skin: a fold lifted, flat along the body, at 45°, straight in. Absent: as is usual there. */
      technique: z.enum(TECHNIQUES).optional(),
      /** Places that the same treatment has used already, for another medicine. */
      besides: z
        .array(z.strictObject({ site: z.enum(SITE_IDS), side }))
        .max(20)
        .default([]),
      /** Only from the needles that lie in the drawer by the book. */
      fromDrawer: z.boolean().optional(),
      /** Only from these; said, it goes before the drawer. */
      inStock: z.array(z.strictObject(needle)).max(200).optional(),
      on: localSchema.optional(),
    }),
    z.strictObject({
      route: z.string(),
      usesNeedle: z.boolean(),
      guidance: z.strictObject({ steps: z.array(z.string()), source: z.string() }).optional(),
      sites: sites.optional(),
      noSites: refused.optional(),
      needle: chosen.optional(),
      noNeedle: refused.optional(),
      where: whereShown.optional(),
    }),
  ),
};
