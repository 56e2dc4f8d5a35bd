import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** What a delivery cost in all, where the bill came after it or said something else. */
export const batchPriced = entryKind({
  kind: 'batch-priced',
  version: 1,
  schema: z.strictObject({
    /** The delivery, and its number as it stood. */
    batch: idSchema,
    number: z.string().trim().min(1).max(40),
    price: z.strictObject({ minorUnits: z.number().int().min(0), currency: z.string().length(3) }),
  }),
  subjects: (data) => [subjectOf('batch-price', data.batch)],
  fold: (entry) => [recordRow('batch-price', entry.data.batch, entry.data.number, entry)],
  line: ({ number }) => `Price of batch ${number} entered`,
});
