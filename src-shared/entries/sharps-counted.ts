import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Needles handed out during the work, or counted: those in use, used and unused together against those handed out. */
export const sharpsCounted = entryKind({
  kind: 'sharps-counted',
  version: 1,
  schema: z.strictObject({
    count: idSchema,
    session: idSchema,
    /** Handed out beside those before. */
    more: z.number().int().min(0).max(100_000),
    /** How many should be there with these, and how many were counted; absent: nobody counted. */
    counted: z
      .strictObject({ out: z.number().int().min(0), there: z.number().int().min(0).max(100_000) })
      .optional(),
    note: textSchema.optional(),
  }),
  subjects: (data) => [subjectOf('session', data.session)],
  fold: (entry) => [recordRow('sharps-count', entry.data.count, entry.data.session, entry)],
  line: ({ more, counted }) =>
    [
      ...(more === 0 ? [] : [`${more} more needles handed out`]),
      ...(counted === undefined ? [] : [`Needles counted: ${counted.there} of ${counted.out}`]),
    ].join('; '),
});
