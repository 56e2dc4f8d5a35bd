import { idSchema, reading, warning, z } from './call.ts';

/** Longer is no pack; `readPackCode` says so in words. */
const MOST_TYPED = 2000;

export const packCodeCalls = {
  'read-pack': reading(
    'What a scanner typed off a pack: product, batch, expiry, and what the book knows of them.',
    z.strictObject({ scan: z.string().max(MOST_TYPED) }),
    z.strictObject({
      gtin: z.string(),
      /** As it would be typed: "2027-03" or "2027-03-14". */
      expiry: z.string().optional(),
      number: z.string().optional(),
      serial: z.string().optional(),
      /** Absent for a product number that was never taken in. */
      product: z
        .strictObject({ medicine: idSchema, name: z.string(), size: z.string().optional() })
        .optional(),
      /** Batches of this number in the book: of this product where that is known, else of any. */
      batches: z.array(z.strictObject({ batch: idSchema, number: z.string(), name: z.string() })),
      /** Containers of that batch that are on the shelf; the one alone where its serial number is known. */
      here: z.array(z.strictObject({ container: idSchema, label: z.string() })),
      /** The pack of this serial number that is in the book already. */
      sameSerial: z.string().optional(),
      warnings: z.array(warning),
    }),
  ),
};
