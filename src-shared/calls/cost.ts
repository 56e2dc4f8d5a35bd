import { daySchema, done, idSchema, reading, subjectSchema, typed, writing, z } from './call.ts';

/** A sum of money in each currency it is of: nearly always one. */
const money = z.array(
  z.strictObject({ minorUnits: z.number().int(), currency: z.string(), text: z.string() }),
);

export const costCalls = {
  cost: reading(
    'What medicines cost in a period, by the price of the batch and what was drawn from it: by medicine, group and head; losses apart.',
    z.strictObject({ from: daySchema, to: daySchema }),
    z.strictObject({
      from: daySchema,
      to: daySchema,
      /** What went into animals, as far as its price is known. */
      total: money,
      lost: money,
      medicines: z.array(
        z.strictObject({
          medicine: idSchema,
          name: z.string(),
          /** Heads dosed, each time anew, out of our own bottles. */
          doses: z.number().int(),
          cost: money,
          perDose: money,
          lost: money,
          /** Some of it came from a batch without a price. */
          isPart: z.boolean(),
        }),
      ),
      /** By the group at the time of the treatment; who was in two counts in both. */
      groups: z.array(
        z.strictObject({
          group: idSchema.optional(),
          name: z.string(),
          heads: z.number().int(),
          cost: money,
          perHead: money,
          isPart: z.boolean(),
        }),
      ),
      subjects: z.array(
        z.strictObject({
          subject: subjectSchema,
          shown: z.string(),
          heads: z.number().int(),
          cost: money,
          perHead: money,
          isPart: z.boolean(),
        }),
      ),
      /** What is in no sum above: it has no price, nobody knows whom it went into, or others bill it. */
      unknown: z.array(
        z.strictObject({
          kind: z.enum(['no-price', 'not-written', 'on-a-bill']),
          text: z.string(),
          /** The delivery whose price is missing. */
          batch: idSchema.optional(),
        }),
      ),
    }),
  ),
  'set-batch-price': writing(
    'What a delivery cost in all, where that was not entered with it or was wrong.',
    { batch: idSchema, price: typed },
    done,
  ),
};
