import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { daySchema, idSchema, produceSchema, subjectSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** What the vet ordered: for whom, with which periods, told or written, and why. */
export const instructionGiven = entryKind({
  kind: 'instruction-given',
  version: 1,
  schema: z.strictObject({
    instruction: idSchema,
    vet: idSchema,
    medicine: idSchema.optional(),
    what: textSchema,
    subjects: z.array(subjectSchema).max(5000).default([]),
    periods: z
      .array(z.strictObject({ produce: produceSchema, period: z.string().max(20) }))
      .max(8)
      .default([]),
    form: z.enum(['told', 'written']),
    paper: z.string().length(64).optional(),
    reason: textSchema,
    validUntil: daySchema.optional(),
  }),
  subjects: (data) => [subjectOf('instruction', data.instruction)],
  fold: (entry) => [recordRow('instruction', entry.data.instruction, entry.data.what.slice(0, 120), entry)],
  line: (data) => `Vet's instruction (${data.form}): ${data.what}`,
});
