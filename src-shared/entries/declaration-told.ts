import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, localSchema, nameSchema, subjectSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Whoever was given a declaration has been told what is not so any more: what, to whom, how and when. */
export const declarationTold = entryKind({
  kind: 'declaration-told',
  version: 1,
  schema: z.strictObject({
    told: idSchema,
    declaration: idSchema,
    /** Each difference that was told, of whom: so that what comes later is told again. */
    about: z
      .array(z.strictObject({ subject: subjectSchema, so: z.string().min(1).max(8000) }))
      .min(1)
      .max(5000),
    /** The notices as they read. */
    texts: z.array(z.string().min(1).max(20_000)).min(1).max(500),
    /** Who was told at their place, and how: "their office, by telephone". */
    who: nameSchema,
    how: textSchema,
    /** When they were told, local to the holding. */
    when: localSchema,
  }),
  subjects: (data) => [subjectOf('declaration', data.declaration)],
  fold: (entry) => [recordRow('declaration-told', entry.data.told, entry.data.who, entry)],
  line: (data) => `Told ${data.who} (${data.how}) what a declaration says no more`,
});
