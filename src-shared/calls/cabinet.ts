import { labelTermsSchema } from '../label/terms.ts';
import {
  daySchema,
  done,
  idSchema,
  localSchema,
  longText,
  nothing,
  reading,
  shownAmount,
  typed,
  warning,
  workingLine,
  writing,
  z,
} from './call.ts';

export const CONTAINER_STATES = [
  'sealed',
  'open',
  'past-in-use',
  'expired',
  'empty',
  'quarantined',
  'disposed',
  'returned',
] as const;

export const containerSchema = z.strictObject({
  container: idSchema,
  label: z.string(),
  medicine: idSchema,
  /** The insert it came with. */
  revision: idSchema,
  name: z.string(),
  batch: z.string(),
  batchId: idSchema.nullable(),
  expiry: z.string(),
  received: shownAmount,
  left: shownAmount,
  state: z.enum(CONTAINER_STATES),
  opened: z.string().optional(),
  /** The last day it may be used, in words, and the first local time it may not. */
  useBy: z.string(),
  unusableFrom: localSchema,
  /** The local day or time it came in or was made up. */
  came: localSchema.optional(),
  store: z.string().optional(),
  supplier: z.string().optional(),
  /** What the medicine calls one piece, where it is counted in pieces. */
  piece: z.string().optional(),
  strength: z.string().optional(),
  counted: z.string().optional(),
});

export const cabinetCalls = {
  cabinet: reading(
    'Containers, earliest use-by first.',
    z.strictObject({
      medicine: idSchema.optional(),
      search: z.string().max(120).default(''),
      show: z.enum(['in-hand', 'all']).default('in-hand'),
    }),
    z.strictObject({ containers: z.array(containerSchema) }),
  ),
  'shelf-ahead': reading(
    'The days of work that the shelf is looked at against, the earliest first: the next session, lambing.',
    nothing,
    z.strictObject({
      ahead: z.array(
        z.strictObject({
          key: z.enum(['session', 'lambing']),
          on: daySchema,
          /** "Before the next session (12 Mar 2027)": what ends by then is of no use on that day. */
          title: z.string(),
          /** Which work, or which groups. */
          what: z.string(),
        }),
      ),
    }),
  ),
  container: reading(
    'One container and its whole life.',
    z.strictObject({ container: idSchema }),
    z.strictObject({
      container: containerSchema,
      supplier: z.string().optional(),
      proof: z.string().optional(),
      movements: z.array(
        z.strictObject({
          local: z.string(),
          cause: z.string(),
          amount: z.string(),
          left: z.string(),
          administration: idSchema.optional(),
          to: z.string().optional(),
          note: z.string().optional(),
          by: z.string(),
        }),
      ),
    }),
  ),
  disposals: reading(
    'What was disposed of or returned, how and to whom, the newest first.',
    nothing,
    z.strictObject({
      disposals: z.array(
        z.strictObject({
          container: idSchema,
          label: z.string(),
          name: z.string(),
          batch: z.string(),
          cause: z.enum(['disposed', 'returned']),
          local: z.string(),
          amount: z.string(),
          why: z.string(),
          how: z.string(),
          where: z.string(),
          by: z.string(),
        }),
      ),
    }),
  ),
  'receive-batch': writing(
    'A delivery of one batch: number, expiry, insert as before or new, packs, supplier, price, proof.',
    {
      medicine: idSchema,
      insert: z
        .union([
          z.literal('as-before'),
          z.strictObject({
            terms: labelTermsSchema,
            /** A draft until its rate, strength and meat period were typed a second time. */
            state: z.enum(['draft', 'confirmed']).default('confirmed'),
          }),
        ])
        .default('as-before'),
      number: z.string().trim().min(1).max(40),
      /** "2027-03" or "2027-03-14". */
      expiry: typed,
      packs: z
        .array(z.strictObject({ count: z.number().int().min(1).max(200), size: typed }))
        .min(1)
        .max(20),
      supplier: z.string().trim().max(120).optional(),
      supplierAddress: z.string().trim().max(400).optional(),
      /** "42.50 GBP": for the whole delivery. */
      price: z.string().trim().max(40).optional(),
      prescription: idSchema.optional(),
      /** The line of an order list that it came on. */
      order: z.strictObject({ order: idSchema, line: idSchema }).optional(),
      proof: z.string().trim().max(400).optional(),
      store: z.string().trim().max(80).optional(),
      /** The product number of its pack code, 14 digits: from now on it stands for this medicine and size. */
      code: z
        .string()
        .regex(/^\d{14}$/)
        .optional(),
      /** Serial numbers of the packs that were scanned, at most one a container. */
      serials: z.array(z.string().trim().min(1).max(20)).max(500).default([]),
    },
    z.strictObject({
      batch: idSchema,
      revision: idSchema,
      containers: z.array(z.strictObject({ container: idSchema, label: z.string() })),
      /** What the book lacks of it from now on. */
      warnings: z.array(warning),
    }),
  ),
  'open-container': writing(
    'Broaches a container: from now on its in-use life counts too.',
    { container: idSchema },
    z.strictObject({ unusableFrom: localSchema, useBy: z.string() }),
  ),
  'make-up': writing(
    'A powder, a concentrate or pieces made up with water: a container with its own strength and end.',
    {
      from: z
        .array(z.strictObject({ container: idSchema, amount: typed }))
        .min(1)
        .max(10),
      /** Water added, or the mark it was filled up to: one of the two. */
      water: typed.optional(),
      madeUpTo: typed.optional(),
      /** How long it may be used ("24 h"); absent: what the label says once opened. */
      life: typed.optional(),
      /** What is written on it; absent: the day and the volume. */
      label: z.string().trim().min(1).max(40).optional(),
      /** What stands as its batch; absent: the numbers it was made from. */
      batch: z.string().trim().min(1).max(40).optional(),
      store: z.string().trim().min(1).max(80).optional(),
    },
    z.strictObject({
      container: idSchema,
      label: z.string(),
      strength: z.string(),
      volume: z.string(),
      useBy: z.string(),
      says: z.string(),
      working: z.array(workingLine),
      warnings: z.array(warning),
    }),
  ),
  'move-stock': writing(
    'Loss, disposal, return, a count, quarantine or its end, another store.',
    {
      container: idSchema,
      cause: z.enum(['lost', 'disposed', 'returned', 'counted', 'quarantined', 'released', 'carried']),
      amount: typed.optional(),
      why: longText.optional(),
      how: longText.optional(),
      where: longText.optional(),
      /** Carried: the store it stands in from then on. */
      store: z.string().trim().max(80).optional(),
    },
    z.strictObject({ left: shownAmount, state: z.enum(CONTAINER_STATES) }),
  ),
};
export { done };
