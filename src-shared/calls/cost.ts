import { daySchema, done, idSchema, reading, subjectSchema, typed, writing, z } from './call.ts';

/** A sum of money in each currency it is of: nearly always one. */
const money = z.array(
  z.strictObject({ minorUnits: z.number().int(), currency: z.string(), text: z.string() }),
);

const period = { from: daySchema, to: daySchema };

export const costCalls = {
  cost: reading(
    'What medicines cost in a period, by the price of the batch and what was drawn from it: by medicine, group and head; losses apart.',
    z.strictObject({
      ...period,
      /** Only animals and lots whose name has every word of this; the sums stay those of all. */
      search: z.string().max(120).default(''),
      /** So many animals and lots are answered, the dearest first. */
      most: z.number().int().min(0).max(20_000).default(100),
    }),
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
      /** Animals and lots that cost anything, and those of them that were looked for. */
      subjectsInAll: z.number().int(),
      subjectsFound: z.number().int(),
      /** The dearest first. */
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
  'cost-paper': reading(
    'What medicines cost in a period, as a PDF: by medicine and group, and the dearest animals and lots.',
    z.strictObject({ ...period, paper: z.enum(['a4', 'letter']).optional() }),
    z.strictObject({ paper: z.string(), checkCode: z.string() }),
  ),
  'cost-table': reading(
    'What medicines cost in a period, as comma-separated text: a line for each medicine, group, animal and lot.',
    z.strictObject(period),
    z.strictObject({ name: z.string(), text: z.string(), rows: z.number().int() }),
  ),
  'set-batch-price': writing(
    'What a delivery cost in all, where that was not entered with it or was wrong.',
    { batch: idSchema, price: typed },
    done,
  ),
};
