import { DIFFERENCES } from '../stock/differences.ts';
import { CONTAINER_STATES } from './cabinet.ts';
import { idSchema, reading, shownAmount, typed, warning, workingLine, writing, z } from './call.ts';

const sheetRow = z.strictObject({
  container: idSchema,
  label: z.string(),
  medicine: idSchema,
  name: z.string(),
  batch: z.string(),
  useBy: z.string(),
  state: z.enum(CONTAINER_STATES),
  received: shownAmount,
  /** What the book says is left. */
  left: shownAmount,
  /** True where more went out than came in: whatever is counted then differs from the book. */
  isBelowNone: z.boolean(),
  /** The unit to count in: mL, g, mg, or what the medicine calls a piece. */
  unit: z.string(),
  piece: z.string().optional(),
  counted: z.string().optional(),
});

export const stocktakeCalls = {
  'stocktake-sheet': reading(
    'What the book says stands where: the containers of each store, to be counted.',
    z.strictObject({ store: z.string().max(80).optional() }),
    z.strictObject({
      /** An empty name stands for containers of which no store is written. */
      stores: z.array(z.strictObject({ store: z.string(), containers: z.array(sheetRow) })),
    }),
  ),
  'stocktake-paper': reading(
    'The sheet to take to the shelf, as a PDF: with or without what the book says is left.',
    z.strictObject({
      store: z.string().max(80).optional(),
      /** Without the amounts of the book nobody counts what they expect. */
      showBook: z.boolean().default(true),
      paper: z.enum(['a4', 'letter']).optional(),
    }),
    z.strictObject({ paper: z.string(), checkCode: z.string(), containers: z.number().int() }),
  ),
  'write-stocktake': writing(
    'What was counted, container by container; a difference from the book needs its cause.',
    {
      counts: z
        .array(
          z.strictObject({
            container: idSchema,
            amount: typed,
            difference: z.enum(DIFFERENCES).optional(),
            note: typed.optional(),
          }),
        )
        .min(1)
        .max(500),
    },
    z.strictObject({
      counted: z.number().int(),
      differed: z.number().int(),
      warnings: z.array(warning),
    }),
  ),
  drift: reading(
    'How counts differed from the book over time, by medicine, and what of the opened containers reached no animal.',
    z.strictObject({ medicine: idSchema.optional() }),
    z.strictObject({
      medicines: z.array(
        z.strictObject({
          medicine: idSchema,
          name: z.string(),
          /** All differences together, with a sign; "0 mL" where they cancel. */
          sum: z.string(),
          counts: z.array(
            z.strictObject({
              container: idSchema,
              label: z.string(),
              local: z.string(),
              book: z.string(),
              found: z.string(),
              /** With a sign: what was found less what the book had. */
              difference: z.string(),
              why: z.string(),
            }),
          ),
          wastage: z.strictObject({
            from: z.enum(['own', 'start', 'unclear']),
            containers: z.number().int(),
            ratePercent: z.string().optional(),
            factor: z.string().optional(),
            says: z.string(),
            working: z.array(workingLine),
          }),
        }),
      ),
    }),
  ),
};
