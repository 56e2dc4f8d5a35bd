import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, idSchema, priceSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** An order list to one supplier as it stands. What came of it is in the deliveries, each of which names its line. */
export const orderSet = entryKind({
  kind: 'order-set',
  version: 1,
  schema: z.strictObject({
    order: idSchema,
    /** 1, 2, 3 … in this book. */
    number: z.number().int().min(1),
    /** Local day and time it was first written; changing a line does not change it. */
    made: z.string().max(16),
    supplier: z.string().trim().min(1).max(120),
    lines: z
      .array(
        z.strictObject({
          line: idSchema,
          medicine: idSchema,
          /** The name as it stood, so that the list can be read without the label. */
          product: z.string().max(120),
          size: z.string().trim().min(1).max(120),
          amount: amountSchema,
          count: z.number().int().min(1).max(200),
          /** Of one pack, as it was known. */
          price: priceSchema.optional(),
          /** Absent: it is waited for. */
          closed: z.strictObject({ on: z.string().max(16), why: textSchema.optional() }).optional(),
        }),
      )
      .min(1)
      .max(200),
  }),
  subjects: (data) => [subjectOf('order', data.order)],
  fold: (entry) => [recordRow('order', entry.data.order, entry.data.supplier, entry)],
  line: ({ number, supplier, lines }) => `Order ${number} to ${supplier}, ${lines.length} lines`,
});
