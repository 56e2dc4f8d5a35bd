import { daySchema, done, idSchema, longText, reading, typed, writing, z } from './call.ts';

const listLine = z.strictObject({
  line: idSchema,
  medicine: idSchema,
  product: z.string(),
  size: z.string(),
  count: z.number().int(),
  /** Of one pack. */
  price: z.string().optional(),
  /** `open`: waited for. `received`: all came. `short`: closed, and not all came. */
  state: z.enum(['open', 'received', 'short']),
  /** What came and what did not, in a sentence. */
  says: z.string(),
  ordered: z.string(),
  received: z.string(),
  /** What is missing of it; empty where all came. */
  missing: z.string(),
  /** Packs of this size that are still missing, for the delivery: 0 where all came. */
  packsOpen: z.number().int(),
  deliveries: z.array(
    z.strictObject({ batch: idSchema, number: z.string(), on: z.string(), text: z.string() }),
  ),
});

const list = z.strictObject({
  order: idSchema,
  number: z.number().int(),
  supplier: z.string(),
  made: daySchema,
  madeText: z.string(),
  by: z.string(),
  state: z.enum(['open', 'done']),
  lines: z.array(listLine),
  /** The sum of what has a price; absent where nothing has. */
  cost: z.string().optional(),
  /** Lines without a price. */
  unpriced: z.number().int(),
});
export type OrderList = z.output<typeof list>;

export const orderListCalls = {
  'write-order': writing(
    'An order list to one supplier. Medicines that only a vet decides on are refused. Nothing is sent to anybody.',
    {
      supplier: z.string().trim().max(120),
      lines: z
        .array(
          z.strictObject({
            medicine: idSchema,
            size: typed,
            count: z.number().int().min(1).max(200),
            price: z.string().trim().max(40).optional(),
          }),
        )
        .max(200),
    },
    z.strictObject({ order: idSchema, number: z.number().int() }),
  ),
  'close-order-line': writing(
    'What is still missing of a line of an order list does not come.',
    { order: idSchema, line: idSchema, why: longText.optional() },
    done,
  ),
  orders: reading(
    'Order lists, the newest first, each line with what came of it.',
    z.strictObject({ show: z.enum(['open', 'all']).default('open'), order: idSchema.optional() }),
    z.strictObject({ orders: z.array(list) }),
  ),
  'order-paper': reading(
    'An order list as a PDF.',
    z.strictObject({ order: idSchema, paper: z.enum(['a4', 'letter']).optional() }),
    z.strictObject({ paper: z.string(), checkCode: z.string() }),
  ),
  'order-file': reading(
    'An order list as comma-separated text.',
    z.strictObject({ order: idSchema }),
    z.strictObject({ name: z.string(), text: z.string() }),
  ),
};
