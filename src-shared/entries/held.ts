import { z } from 'zod';
import { holdRows } from './hold-rows.ts';
import { entryKind } from './kind.ts';
import { holdSchema, idSchema, nameSchema, subjectSchema, textSchema } from './parts.ts';

/** A hold that is not from a recorded treatment: possibly treated, bought in, broken needle, at foot. */
export const held = entryKind({
  kind: 'held',
  version: 1,
  schema: z.strictObject({
    hold: idSchema,
    subject: subjectSchema,
    cause: z.enum(['possibly-treated', 'bought-in', 'broken-needle', 'at-foot', 'other']),
    session: idSchema.optional(),
    /** Possibly treated: the lines of that session it may have had. Absent in older books: all that were planned. */
    lines: z.array(idSchema).min(1).max(10).optional(),
    /** The medicines of those lines, as they were called. */
    products: z.array(nameSchema).min(1).max(10).optional(),
    holds: z.array(holdSchema).min(1).max(20),
    why: textSchema,
  }),
  subjects: (data) => [data.subject],
  fold(entry) {
    const { hold, cause, holds, session, lines, products } = entry.data;
    const possible = cause === 'possibly-treated' ? JSON.stringify({ session, lines, products }) : null;
    return holdRows(`hold:${hold}`, cause, holds, entry, possible);
  },
  line: (data) => `Held: ${data.why}`,
});
