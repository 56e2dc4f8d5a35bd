import { daySchema, done, idSchema, localSchema, longText, reading, typed, writing, z } from './call.ts';

export const entryName = z.strictObject({ request: z.string().max(60), n: z.number().int().min(1) });

/** One line of the treatment record. */
export const bookRow = z.strictObject({
  administration: idSchema,
  entry: entryName,
  local: z.string(),
  recorded: z.string(),
  subject: z.string(),
  shown: z.string(),
  class: z.string(),
  heads: z.number().int(),
  product: z.string(),
  batch: z.string(),
  expiry: z.string(),
  dose: z.string(),
  quantity: z.string(),
  route: z.string(),
  reason: z.string(),
  givenBy: z.string(),
  source: z.string(),
  period: z.string(),
  until: z.string(),
  milkPeriod: z.string(),
  milkUntil: z.string(),
  deviations: z.array(z.string()),
  state: z.enum(['stands', 'voided', 'replaced']),
  correction: z.strictObject({ reason: z.string(), by: z.string(), recorded: z.string() }).optional(),
});

export const bookCalls = {
  book: reading(
    'The treatment record of a period: what went into whom, with the date it is held until.',
    z.strictObject({
      holding: idSchema.optional(),
      from: daySchema,
      to: daySchema,
      medicine: idSchema.optional(),
      search: z.string().max(120).default(''),
      corrections: z.boolean().default(true),
      after: z.string().max(200).optional(),
      limit: z.number().int().min(1).max(20_000).default(500),
    }),
    z.strictObject({ rows: z.array(bookRow), next: z.string().optional() }),
  ),
  'book-paper': reading(
    'The treatment record of a period as a PDF.',
    z.strictObject({
      holding: idSchema,
      from: daySchema,
      to: daySchema,
      paper: z.enum(['a4', 'letter']).optional(),
    }),
    z.strictObject({ paper: z.string(), rows: z.number().int(), checkCode: z.string() }),
  ),
  entries: reading(
    'The journal itself, newest first: what was written, when, by whom.',
    z.strictObject({
      before: z.number().int().min(1).optional(),
      limit: z.number().int().min(1).max(500).default(100),
    }),
    z.strictObject({
      entries: z.array(
        z.strictObject({
          seq: z.number().int(),
          entry: entryName,
          kind: z.string(),
          text: z.string(),
          happened: z.string(),
          recorded: z.string(),
          by: z.string(),
          state: z.enum(['stands', 'voided', 'replaced']),
          clock: z.enum(['believed', 'doubted']),
        }),
      ),
      next: z.number().int().optional(),
    }),
  ),
  void: writing(
    'Strikes an entry out with a reason: everything follows, and both stay in the journal.',
    { entry: entryName, reason: longText },
    z.strictObject({ done: z.literal(true), notices: z.array(z.string()) }),
  ),
  'correct-treatment': writing(
    'Replaces a treatment by what really happened; the dose, stock and holds follow.',
    {
      administration: idSchema,
      reason: longText,
      /** Only what changes. */
      subject: z.string().max(80).optional(),
      weight: typed.optional(),
      given: typed.optional(),
      heads: z.number().int().min(1).optional(),
      local: localSchema.optional(),
      why: longText.optional(),
      containers: z.array(idSchema).max(20).optional(),
    },
    z.strictObject({
      administration: idSchema,
      quantity: z.string(),
      until: z.string(),
      notices: z.array(z.string()),
    }),
  ),
  recheck: reading(
    "Which holds today's rules would decide otherwise. Changes nothing.",
    z.strictObject({}),
    z.strictObject({
      checked: z.number().int(),
      different: z.array(
        z.strictObject({
          administration: idSchema,
          shown: z.string(),
          produce: z.string(),
          written: z.string(),
          today: z.string(),
        }),
      ),
    }),
  ),
  paper: reading(
    'The bytes of a paper that was made, by its content hash.',
    z.strictObject({ paper: z.string().length(64) }),
    z.strictObject({ name: z.string(), mime: z.string(), base64: z.string() }),
  ),
  verify: reading(
    'Checks every line of the journal and every projection; with a check code from a paper, also that nothing was cut off.',
    z.strictObject({ head: z.string().max(60).optional() }),
    z.strictObject({
      ok: z.boolean(),
      entries: z.number().int(),
      checkCode: z.string(),
      problems: z.array(z.string()),
      says: z.string(),
    }),
  ),
  draft: reading(
    'An unfinished form that was kept.',
    z.strictObject({ form: typed }),
    z.strictObject({ value: z.unknown() }),
  ),
  'keep-draft': reading(
    'Keeps an unfinished form, or drops it when the value is null. Never evidence; not in the journal.',
    z.strictObject({ form: typed, value: z.unknown() }),
    done,
  ),
  'work-out': reading(
    'Any of the work-out topics, without a book.',
    z.strictObject({ topic: typed, ask: z.unknown() }),
    z.record(z.string(), z.unknown()),
  ),
};
