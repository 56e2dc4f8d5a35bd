import { z } from 'zod';
import { NEEDLE_FOUND } from '../needle/lost.ts';
import { SITE_IDS } from '../needle/places.ts';
import { holdRows } from './hold-rows.ts';
import { entryKind, subjectOf } from './kind.ts';
import {
  holdSchema,
  idSchema,
  instantSchema,
  localSchema,
  nameSchema,
  subjectSchema,
  textSchema,
} from './parts.ts';
import { recordRow } from './record-row.ts';

/**
 * A needle broke or is missing. It happened, at the earliest, at the time of the entry: when nobody knows in which
 * animal, that is the last time all needles were counted, and whoever was treated since is held.
 */
export const needleLost = entryKind({
  kind: 'needle-lost',
  version: 1,
  schema: z.strictObject({
    loss: idSchema,
    session: idSchema.optional(),
    needles: z.number().int().min(1).max(1000),
    /** "18G 1 in", as it was typed. */
    needle: nameSchema.optional(),
    /** The animal or lot it was in; absent: nobody knows which. */
    subject: subjectSchema.optional(),
    /** The place on the drawing. */
    site: z.enum(SITE_IDS).optional(),
    side: z.enum(['left', 'right']).optional(),
    /** When it was noticed: what is treated after that is not held by it. */
    noticed: z.strictObject({ local: localSchema, at: instantSchema }),
    found: z.enum(NEEDLE_FOUND),
    /** Whoever may carry it; empty when it was found. */
    held: z.array(subjectSchema).max(50_000),
    holds: z.array(holdSchema).max(4),
    /** What was seen and done, in words. */
    note: textSchema.optional(),
    /** An earlier report that this one says more of. */
    of: idSchema.optional(),
  }),
  subjects: (data) => [subjectOf('needle-loss', data.loss), ...data.held],
  fold(entry, subject) {
    const { data } = entry;
    if (subject === subjectOf('needle-loss', data.loss)) {
      return [recordRow('needle-loss', data.loss, data.session ?? '', entry)];
    }
    return holdRows(`hold:${data.loss}`, 'broken-needle', data.holds, entry);
  },
  line: (data) =>
    data.found === 'found-whole'
      ? 'Needle missing, and found whole'
      : `Needle broken or missing: ${data.held.length} held until it is found`,
});
