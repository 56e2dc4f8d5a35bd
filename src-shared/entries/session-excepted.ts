import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, subjectSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Who did not get what the others of a mass run got, and why: by the word of whoever wrote the run. */
export const sessionExcepted = entryKind({
  kind: 'session-excepted',
  version: 1,
  schema: z.strictObject({
    exception: idSchema,
    session: idSchema,
    /** The lines they did not get. */
    lines: z.array(idSchema).min(1).max(10),
    excepted: z
      .array(z.strictObject({ subject: subjectSchema, why: textSchema }))
      .min(1)
      .max(50_000),
  }),
  subjects: (data) => [subjectOf('session', data.session)],
  fold: (entry) => [recordRow('session-excepted', entry.data.exception, entry.data.exception, entry)],
  line: ({ excepted }) =>
    `Left out of the run: ${excepted.length === 1 ? (excepted[0]?.why ?? '') : `${excepted.length} animals or lots`}`,
});
