import { daySchema, done, idSchema, reading, warning, workingLine, writing, z } from './call.ts';

const pack = z.strictObject({ size: z.string(), price: z.string().optional() });
const supply = z.strictObject({
  supplier: z.string().optional(),
  packs: z.array(pack),
  leadDays: z.number().int().optional(),
  least: z.string().optional(),
});
/** Of which packs how many. */
const packCount = z.strictObject({ size: z.string(), count: z.number().int(), price: z.string().optional() });

/** Where a need comes from. */
export const WORK_SOURCES = ['session', 'course', 'foreseen', 'vaccine'] as const;

const workRow = z.strictObject({
  key: z.string(),
  source: z.enum(WORK_SOURCES),
  /** What it is, for people. */
  what: z.string(),
  on: daySchema,
  onText: z.string(),
  heads: z.number().int().optional(),
  /** The doses, and the doses with what is lost; absent where the dose is not known. */
  doses: z.string().optional(),
  need: z.string().optional(),
  /** What of it is not known, in a sentence. */
  unknown: z.string().optional(),
  session: idSchema.optional(),
  work: idSchema.optional(),
});

const unusedRow = z.strictObject({
  container: idSchema,
  label: z.string(),
  amount: z.string(),
  lastDay: daySchema,
  says: z.string(),
  cost: z.string().optional(),
});

/** What a list says of one medicine: a whole sentence, what stands behind it, and what to do. */
const headline = z.strictObject({
  says: z.string(),
  small: z.string().optional(),
  /**
   * `late`: the day to order has gone by. `by`: there is one. `no-day`: stock ends, and it is not known how long an
   * order takes. `ordered`: it ends, and what is ordered makes up for it.
   */
  state: z.enum(['late', 'by', 'no-day', 'ordered', 'lasts']),
  orderBy: daySchema.optional(),
  runOut: daySchema.optional(),
});

const bought = z.strictObject({
  packs: z.array(packCount),
  cost: z.string().optional(),
  leftOver: z.string(),
  says: z.string(),
  working: z.array(workingLine),
});

const talk = z.strictObject({
  /** What is needed of it in the time looked at. */
  foreseen: z.string(),
  given: z.strictObject({ on: z.string(), reason: z.string() }).optional(),
  prescription: z
    .strictObject({
      prescription: idSchema,
      number: z.string(),
      written: z.string(),
      validUntil: z.string().optional(),
      diagnosis: z.string().optional(),
    })
    .optional(),
});

const outlook = z.strictObject({
  medicine: idSchema,
  name: z.string(),
  prescription: z.string(),
  /** Only the vet decides what more of it is got. */
  isOfTheVet: z.boolean(),
  supplier: z.string().optional(),
  phone: z.string().optional(),
  today: daySchema,
  until: daySchema,
  headline,
  works: z.array(workRow),
  unused: z.array(unusedRow),
  unusedCost: z.array(z.string()),
  /** All of it in one sentence. */
  unusedSays: z.string().optional(),
  notCounted: z.array(z.string()),
  /** What to buy for what is missing; absent where nothing is missing or no packs are known. */
  buy: bought.optional(),
  /** Why there is no mix of packs, where something is missing. */
  noBuy: z.string().optional(),
  talk,
  warnings: z.array(warning),
});
export type OutlookReply = z.output<typeof outlook>;

const dayRow = z.strictObject({
  day: daySchema,
  /** Base units, for the drawing. */
  start: z.number().int(),
  end: z.number().int(),
  startText: z.string(),
  plannedText: z.string(),
  otherText: z.string(),
  /** Empty where nothing is missing. */
  shortText: z.string(),
  endText: z.string(),
  opened: z.array(z.string()),
  gone: z.array(z.strictObject({ label: z.string(), text: z.string(), why: z.string() })),
});

export const orderCalls = {
  supply: reading(
    'How a medicine is bought: what was written down, and what its deliveries so far show.',
    z.strictObject({ medicine: idSchema }),
    z.strictObject({
      medicine: idSchema,
      name: z.string(),
      written: supply.optional(),
      /** From deliveries: the last supplier, each pack size with the last price of one. */
      seen: supply,
      /** The one currency of the book; absent while no price is written. */
      currency: z.string().optional(),
    }),
  ),
  'set-supply': writing(
    'How a medicine is bought: supplier, pack sizes with their price, days an order takes, least stock wished.',
    {
      medicine: idSchema,
      supplier: z.string().trim().max(120).optional(),
      packs: z
        .array(
          z.strictObject({ size: z.string().trim().max(120), price: z.string().trim().max(40).optional() }),
        )
        .max(12),
      /** Whole days as typed. */
      leadDays: z.string().trim().max(20).optional(),
      least: z.string().trim().max(120).optional(),
    },
    done,
  ),
  'foresee-work': writing(
    'Work to come for which stock must be there: which medicine, when, for which group or how many. It treats nobody.',
    {
      work: idSchema.optional(),
      medicine: idSchema,
      name: z.string().trim().max(120),
      on: z.string().trim().max(40),
      group: idSchema.optional(),
      heads: z.string().trim().max(20).optional(),
      /** A head, as typed; absent: by the label. */
      dose: z.string().trim().max(120).optional(),
      doseLine: idSchema.optional(),
    },
    z.strictObject({ work: idSchema }),
  ),
  'end-foreseen-work': writing(
    'Work that was foreseen is done, or does not come.',
    { work: idSchema, state: z.enum(['done', 'dropped']) },
    done,
  ),
  'foreseen-work': reading(
    'One piece of work that is foreseen, as it was written.',
    z.strictObject({ work: idSchema }),
    z.strictObject({
      work: idSchema,
      medicine: idSchema,
      name: z.string(),
      on: daySchema,
      group: idSchema.optional(),
      heads: z.number().int().optional(),
      dose: z.string().optional(),
      doseLine: idSchema.optional(),
    }),
  ),
  outlook: reading(
    'The stock of one medicine day by day: what is planned, what runs out, what expires unused, what to order by when.',
    z.strictObject({
      medicine: idSchema,
      /** Days looked ahead, today among them; absent: half a year. */
      days: z.number().int().min(1).max(731).optional(),
    }),
    outlook.extend({
      piece: z.string().optional(),
      kind: z.enum(['volume', 'mass', 'pieces']),
      days: z.array(dayRow),
      working: z.array(workingLine),
    }),
  ),
  'order-outlook': reading(
    'Every medicine of which stock will not last, or of which something will expire unused.',
    z.strictObject({ days: z.number().int().min(1).max(731).optional() }),
    z.strictObject({ today: daySchema, until: daySchema, medicines: z.array(outlook) }),
  ),
};
