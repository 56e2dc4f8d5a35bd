import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, idSchema, priceSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** How a medicine is got: from whom, in which packs at which price, how long an order takes, how much to keep. */
export const supplySet = entryKind({
  kind: 'supply-set',
  version: 1,
  schema: z.strictObject({
    medicine: idSchema,
    supplier: z.string().trim().min(1).max(120).optional(),
    packs: z
      .array(
        z.strictObject({
          /** As it was typed: "500 mL". */
          size: z.string().trim().min(1).max(120),
          amount: amountSchema,
          price: priceSchema.optional(),
        }),
      )
      .max(12),
    /** Days from an order until it stands in the cabinet. */
    leadDays: z.number().int().min(0).max(365).optional(),
    /** What is wished to be there at any time. */
    least: amountSchema.optional(),
  }),
  subjects: (data) => [subjectOf('supply', data.medicine)],
  fold: (entry) => [recordRow('supply', entry.data.medicine, entry.data.supplier ?? '', entry)],
  line: ({ supplier, packs }) =>
    `How it is bought${supplier === undefined ? '' : `, from ${supplier}`}: ${packs.map(({ size }) => size).join(', ') || 'no pack sizes'}`,
});
