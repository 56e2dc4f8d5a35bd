import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Which medicine, in which pack size, the product number of a pack code stands for: asked once, then known. */
export const productCodeSet = entryKind({
  kind: 'product-code-set',
  version: 1,
  schema: z.strictObject({
    /** 14 digits; those of a 13-digit code with a nought before them. */
    gtin: z.string().regex(/^\d{14}$/),
    medicine: idSchema,
    /** As it was typed: "500 mL". */
    size: z.string().trim().min(1).max(120).optional(),
  }),
  subjects: (data) => [subjectOf('product-code', data.gtin)],
  fold: (entry) => [recordRow('product-code', entry.data.gtin, entry.data.medicine, entry)],
  line: (data) => `Product number ${data.gtin} is known from now on`,
});
