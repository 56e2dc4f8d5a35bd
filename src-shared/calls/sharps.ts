import { NEEDLE_FOUND } from '../needle/lost.ts';
import { SITE_IDS } from '../needle/places.ts';
import {
  idSchema,
  longText,
  reading,
  shownSubject,
  subjectSchema,
  typed,
  warning,
  writing,
  z,
} from './call.ts';

/** Needles handed out and counted back, and what follows when one is missing. */

const side = z.enum(['left', 'right']);
const site = z.enum(SITE_IDS);
const lossRow = z.strictObject({
  loss: idSchema,
  session: idSchema.optional(),
  /** Name of the session. */
  work: z.string().optional(),
  needles: z.number().int(),
  needle: z.string().optional(),
  noticed: z.string(),
  found: z.enum(NEEDLE_FOUND),
  by: z.string(),
  note: z.string().optional(),
  /** The animal it is known to be in. */
  subject: shownSubject.optional(),
  site: site.optional(),
  side: side.optional(),
  /** In words: "muscular middle of the neck, left side"; "place not known". */
  place: z.string(),
  /** Whoever is held by it still. */
  held: z.array(shownSubject),
  /** The report in one sentence. */
  says: z.string(),
});
export const lostNeedle = lossRow;

export const sharpsCalls = {
  'count-sharps': writing(
    'Needles handed out during the work, or all of them counted.',
    {
      session: idSchema,
      more: z.number().int().min(0).max(100_000).default(0),
      /** All there are now, used and unused together. */
      there: z.number().int().min(0).max(100_000).optional(),
      note: longText.optional(),
    },
    z.strictObject({
      /** How many there should be. */
      out: z.number().int(),
      missing: z.number().int(),
      /** The report that was opened because needles are missing. */
      loss: idSchema.optional(),
      held: z.array(shownSubject),
      says: z.string(),
    }),
  ),
  'report-needle': writing(
    'A needle broke or is missing: whoever may carry it is held until a finding is recorded.',
    {
      session: idSchema.optional(),
      /** The animal or lot it was in; absent: whoever was treated since the last count. */
      subject: subjectSchema.optional(),
      needles: z.number().int().min(1).max(1000).default(1),
      needle: typed.optional(),
      site: site.optional(),
      side: side.optional(),
      found: z.enum(NEEDLE_FOUND),
      mark: z.strictObject({ colour: typed, place: typed }).optional(),
      note: longText.optional(),
    },
    z.strictObject({
      loss: idSchema,
      held: z.array(shownSubject),
      says: z.string(),
      warnings: z.array(warning),
    }),
  ),
  'needle-finding': writing(
    'What came of a broken or missing needle: found, in which animal it is, or who surely has none.',
    {
      loss: idSchema,
      finding: z.enum(['found', 'in-one', 'not-in-these']),
      /** For `in-one`: which. For `not-in-these`: who was looked at. */
      subjects: z.array(subjectSchema).max(50_000).default([]),
      site: site.optional(),
      side: side.optional(),
      mark: z.strictObject({ colour: typed, place: typed }).optional(),
      /** What was found, where, by whom. */
      why: longText,
    },
    z.strictObject({ ended: z.number().int(), held: z.array(shownSubject), says: z.string() }),
  ),
  'needle-losses': reading(
    'Reports of broken or missing needles, newest first.',
    z.strictObject({
      session: idSchema.optional(),
      subject: subjectSchema.optional(),
      loss: idSchema.optional(),
      /** Only those that still hold somebody. */
      open: z.boolean().default(false),
    }),
    z.strictObject({ losses: z.array(lossRow), steps: z.array(z.string()) }),
  ),
};
