import { CONTAINER_STATES } from './cabinet.ts';
import { idSchema, longText, reading, shownAmount, subjectSchema, typed, writing, z } from './call.ts';

const foundBatch = z.strictObject({
  /** Absent where the number only stands with doses that did not come from our cabinet. */
  batch: idSchema.optional(),
  number: z.string(),
  medicine: idSchema,
  name: z.string(),
  expiry: z.string().optional(),
  /** When it first came in. */
  received: z.string().optional(),
  supplier: z.string().optional(),
});

/** Where some of the heads are that got it. */
const placeSchema = z.strictObject({
  subject: subjectSchema,
  shown: z.string(),
  class: z.string(),
  /** Heads that are there now: for a lot all of it, as nobody can say which of them got it. */
  heads: z.number().int(),
  isHere: z.boolean(),
  /** "here", or when, how and where to it left; of a lot both. */
  says: z.string(),
  /** How its meat, and its milk where the holding takes milk, stand now; absent once nobody of it is here. */
  holds: z.array(z.string()),
});

const gotIt = z.strictObject({
  subject: subjectSchema,
  shown: z.string(),
  class: z.string(),
  /** The most heads that one of the treatments was of. */
  heads: z.number().int(),
  /** True where a session ended without a record of it: it counts as treated. */
  isPossible: z.boolean(),
  given: z.array(
    z.strictObject({
      administration: idSchema.optional(),
      local: z.string(),
      /** What of this batch went into it, with its unit; nothing where that is not known. */
      amount: z.string(),
      from: z.string(),
    }),
  ),
  now: z.array(placeSchema),
});

const paperSize = z.enum(['a4', 'letter']).optional();

export const recallCalls = {
  'find-batch': reading(
    'Batches by their number or the name of the medicine, newest first; batches of doses from elsewhere too.',
    z.strictObject({ search: z.string().max(2000).default('') }),
    z.strictObject({ batches: z.array(foundBatch) }),
  ),
  recall: reading(
    'Where one batch went: what came in, what is left, who got it and where they are now. Every delivery of the number is one batch.',
    z.strictObject({
      batch: idSchema.optional(),
      /** As printed; with `medicine` where two medicines have a batch of this number. */
      number: typed.optional(),
      medicine: idSchema.optional(),
    }),
    z.strictObject({
      number: z.string(),
      medicine: idSchema,
      name: z.string(),
      /** The first delivery, for the deeds on the batch; absent when none came to our cabinet. */
      batch: idSchema.optional(),
      deliveries: z.array(
        z.strictObject({
          batch: idSchema,
          received: z.string(),
          expiry: z.string(),
          supplier: z.string().optional(),
          proof: z.string().optional(),
          containers: z.number().int(),
        }),
      ),
      /** What came in and where it went, one line a cause; they add up to what is left. */
      balance: z.array(z.strictObject({ cause: z.string(), text: z.string() })),
      containers: z.array(
        z.strictObject({
          container: idSchema,
          label: z.string(),
          left: shownAmount,
          state: z.enum(CONTAINER_STATES),
          store: z.string().optional(),
          /** True for what was made up on the farm from this batch. */
          isMadeUp: z.boolean(),
        }),
      ),
      got: z.array(gotIt),
      /** The whole in a few sentences. */
      says: z.array(z.string()),
    }),
  ),
  'recall-paper': reading(
    'Where one batch went, as a PDF.',
    z.strictObject({
      batch: idSchema.optional(),
      number: typed.optional(),
      medicine: idSchema.optional(),
      paper: paperSize,
    }),
    z.strictObject({ paper: z.string(), checkCode: z.string() }),
  ),
  'set-batch-aside': writing(
    'Sets aside every container of a batch that is still here, and what was made up from it.',
    { batch: idSchema, why: longText },
    z.strictObject({ setAside: z.array(z.string()) }),
  ),
};
