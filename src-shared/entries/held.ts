import { z } from 'zod';
import { holdRows } from './hold-rows.ts';
import { entryKind } from './kind.ts';
import { holdSchema, idSchema, subjectSchema, textSchema } from './parts.ts';

/** A hold that is not from a recorded treatment: possibly treated, bought in, broken needle, at foot. */
export const held = entryKind({
  kind: 'held',
  version: 1,
  schema: z.strictObject({
    hold: idSchema,
    subject: subjectSchema,
    cause: z.enum(['possibly-treated', 'bought-in', 'broken-needle', 'at-foot', 'other']),
    session: idSchema.optional(),
    holds: z.array(holdSchema).min(1).max(20),
    why: textSchema,
  }),
  subjects: (data) => [data.subject],
  fold: (entry) => holdRows(`hold:${entry.data.hold}`, entry.data.cause, entry.data.holds, entry),
  line: (data) => `Held: ${data.why}`,
});
