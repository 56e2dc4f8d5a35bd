import { daySchema, idSchema, reading, z } from './call.ts';

/** So many movements of a medicine are answered at most, the newest; the sums are of all. */
export const MOST_MOVES = 5000;

/** In the medicine's own unit, ready to print; what is nothing is an empty text, but for the first and the last. */
const sums = z.strictObject({
  opening: z.string(),
  /** Delivered, or made up on the farm. */
  received: z.string(),
  /** Given, or used to make something up. */
  used: z.string(),
  lost: z.string(),
  /** Disposed of, or returned. */
  disposed: z.string(),
  /** What counts found more than the book had, or less, with its sign. */
  corrected: z.string(),
  closing: z.string(),
});

export const balanceCalls = {
  balance: reading(
    'What came in of each medicine in a period, where it went, and what the book had after each movement; the movements only of a medicine that is named.',
    z.strictObject({
      /** Whose days count; any of the business, whose stock it is. */
      holding: idSchema,
      from: daySchema,
      to: daySchema,
      medicine: idSchema.optional(),
      /** Part of a batch number. */
      batch: z.string().trim().min(1).max(40).optional(),
    }),
    z.strictObject({
      medicines: z.array(
        z.strictObject({
          medicine: idSchema,
          name: z.string(),
          kind: z.enum(['volume', 'mass', 'pieces']),
          ...sums.shape,
          batches: z.array(z.strictObject({ batch: z.string(), ...sums.shape })),
          rows: z.array(
            z.strictObject({
              local: z.string(),
              what: z.string(),
              treated: z.string(),
              container: idSchema,
              label: z.string(),
              batch: z.string(),
              administration: idSchema.optional(),
              in: z.string(),
              out: z.string(),
              /** What the book had of the medicine after it, of the batches that were asked for. */
              balance: z.string(),
            }),
          ),
          /** Movements of the period that are older than those in `rows`. */
          leftOut: z.number().int(),
        }),
      ),
    }),
  ),
};
