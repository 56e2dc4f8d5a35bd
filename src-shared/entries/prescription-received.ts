import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, daySchema, idSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** A prescription: who wrote it, for what, how much and until when. */
export const prescriptionReceived = entryKind({
  kind: 'prescription-received',
  version: 1,
  schema: z.strictObject({
    prescription: idSchema,
    number: z.string().trim().min(1).max(60),
    vet: idSchema,
    medicine: idSchema,
    quantity: amountSchema.optional(),
    written: daySchema,
    validUntil: daySchema.optional(),
    animals: textSchema.optional(),
    dose: textSchema.optional(),
    period: textSchema.optional(),
    diagnosis: textSchema.optional(),
    paper: z.string().length(64).optional(),
  }),
  subjects: (data) => [subjectOf('prescription', data.prescription)],
  fold: (entry) => [recordRow('prescription', entry.data.prescription, entry.data.number, entry)],
  line: (data) => `Prescription ${data.number}`,
});
