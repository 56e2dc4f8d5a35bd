import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** A treatment that does not count among the courses of an organic animal: a compulsory scheme, and which. */
export const organicExcepted = entryKind({
  kind: 'organic-excepted',
  version: 1,
  schema: z.strictObject({ administration: idSchema, why: textSchema }),
  subjects: (data) => [subjectOf('organic-excepted', data.administration)],
  fold: (entry) => [
    recordRow('organic-excepted', entry.data.administration, entry.data.why.slice(0, 120), entry),
  ],
  line: (data) => `Does not count among organic courses: ${data.why}`,
});
