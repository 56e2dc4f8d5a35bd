import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { daySchema, idSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** The vet was here: what it was for, what was found, and when to come again. */
export const vetVisit = entryKind({
  kind: 'vet-visit',
  version: 1,
  schema: z.strictObject({
    visit: idSchema,
    vet: idSchema,
    what: textSchema,
    found: textSchema.optional(),
    next: daySchema.optional(),
  }),
  subjects: (data) => [subjectOf('vet-visit', data.visit)],
  fold: (entry) => [recordRow('vet-visit', entry.data.visit, entry.data.what.slice(0, 120), entry)],
  line: (data) => `The vet was here: ${data.what}`,
});
