import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { daySchema, idSchema, nameSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** What somebody was taught or showed that they can do, by whom, and when it is to be looked at again. */
export const trainingNoted = entryKind({
  kind: 'training-noted',
  version: 1,
  schema: z.strictObject({
    training: idSchema,
    person: idSchema,
    /** "Giving medicine by injection". */
    what: nameSchema,
    /** Taught somewhere, or seen to do it well. */
    how: z.enum(['taught', 'seen']),
    /** Who taught or saw it, by name: often nobody of the farm. */
    with: nameSchema,
    /** Number of a certificate or where it is kept. */
    proof: z.string().trim().min(1).max(200).optional(),
    note: textSchema.optional(),
    reviewOn: daySchema.optional(),
  }),
  subjects: (data) => [subjectOf('training', data.training)],
  fold: (entry) => [recordRow('training', entry.data.training, entry.data.what, entry)],
  line: (data) => `${data.how === 'taught' ? 'Training' : 'Competence seen'}: ${data.what}, by ${data.with}`,
});
