import { entryName } from './book.ts';
import { daySchema, done, idSchema, longText, reading, shownAmount, typed, writing, z } from './call.ts';

/** A prescription as it stands on the paper. */
const paper = {
  number: typed,
  vet: idSchema,
  medicine: idSchema,
  /** All of it, with its unit: "200 mL". */
  quantity: typed.optional(),
  written: daySchema,
  /** The last day on which it may be supplied. */
  validUntil: daySchema.optional(),
  animals: longText.optional(),
  dose: longText.optional(),
  period: longText.optional(),
  diagnosis: longText.optional(),
};

const receipt = z.strictObject({
  batch: idSchema,
  number: z.string(),
  /** The day it came in. */
  on: daySchema,
  amount: z.string(),
  /** "3 days after its last day", "2 days before it was written"; absent where it fits. */
  mind: z.string().optional(),
});

const shownPrescription = z.strictObject({
  prescription: idSchema,
  entry: entryName,
  number: z.string(),
  vet: idSchema,
  vetName: z.string(),
  medicine: idSchema,
  medicineName: z.string(),
  quantity: shownAmount.optional(),
  written: daySchema,
  validUntil: daySchema.optional(),
  animals: z.string().optional(),
  dose: z.string().optional(),
  period: z.string().optional(),
  diagnosis: z.string().optional(),
  state: z.enum(['open', 'expired', 'used-up']),
  /** What came in on it, with its unit: "none" before the first delivery. */
  drawn: z.string(),
  /** What may still be got on it; absent where it names no quantity. Never below none. */
  left: z.string().optional(),
  /** By how much more came in than it names. */
  over: z.string().optional(),
  receipts: z.array(receipt),
  /** How many copies of it are kept. */
  copies: z.number().int(),
  /** True once it was corrected. */
  corrected: z.boolean(),
});

export const prescriptionCalls = {
  'record-prescription': writing(
    'A prescription: who wrote it, for which medicine, how much, until when.',
    paper,
    z.strictObject({ prescription: idSchema }),
  ),
  'correct-prescription': writing(
    'Puts right what was typed of a prescription, the whole of it anew. What was written first stays in the journal.',
    { prescription: idSchema, ...paper, reason: longText },
    done,
  ),
  prescriptions: reading(
    'Prescriptions by the day they were written, newest first, with what came in on each and what is left of it.',
    z.strictObject({ medicine: idSchema.optional(), prescription: idSchema.optional() }),
    z.strictObject({
      today: daySchema,
      prescriptions: z.array(shownPrescription),
      /** Deliveries of medicines that need a prescription, with none named. */
      without: z.array(
        z.strictObject({
          batch: idSchema,
          number: z.string(),
          medicine: idSchema,
          medicineName: z.string(),
          on: daySchema,
          amount: z.string(),
        }),
      ),
    }),
  ),
  'name-prescription': writing(
    'Names the prescription a delivery came on, where none was named or another one.',
    { batch: idSchema, prescription: idSchema, reason: longText },
    done,
  ),
};
