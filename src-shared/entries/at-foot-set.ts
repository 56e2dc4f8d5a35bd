import { z } from 'zod';
import { entryKind } from './kind.ts';
import { idSchema, instantSchema, localSchema, subjectSchema } from './parts.ts';

/** Where no end is known. */
const OPEN = '9999-12-31T23:59:59.999Z';

/**
 * Lambs that suck a ewe: from when, and until when once they are weaned. What she is treated with meanwhile holds
 * their meat too, read through this link, so that a treatment written late or struck out moves them as well.
 */
export const atFootSet = entryKind({
  kind: 'at-foot-set',
  version: 1,
  schema: z.strictObject({
    foot: idSchema,
    /** The lamb, or the lot of lambs. */
    subject: subjectSchema,
    /** The ewe, or the lot of ewes. */
    dam: subjectSchema,
    from: z.strictObject({ local: localSchema, at: instantSchema }),
    until: z.strictObject({ local: localSchema, at: instantSchema }).optional(),
  }),
  subjects: (data) => [data.subject],
  fold: (entry) => [
    {
      op: 'put',
      table: 'at_foot',
      row: {
        id: entry.data.foot,
        dam: entry.data.dam,
        from_at: entry.data.from.at,
        from_local: entry.data.from.local,
        until_at: entry.data.until?.at ?? OPEN,
        until_local: entry.data.until?.local ?? null,
        seq: entry.seq,
      },
    },
  ],
  line: (data) => (data.until === undefined ? 'At foot of a ewe' : 'No longer at foot'),
});
