import {
  daySchema,
  done,
  idSchema,
  localSchema,
  longText,
  reading,
  shownHold,
  subjectSchema,
  typed,
  workingLine,
  writing,
  z,
} from './call.ts';
import { leakedAsk } from './treat.ts';
import { workId } from './work.ts';

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
  /** "dosed to 38 kg, part 1 of 3", when it was dosed with its group and not by its own weight. */
  dosedTo: z.string().optional(),
  quantity: z.string(),
  route: z.string(),
  reason: z.string(),
  givenBy: z.string(),
  source: z.string(),
  period: z.string(),
  until: z.string(),
  /** The instant at which the meat is clear, when a time is what ends it. */
  untilAt: z.string().optional(),
  milkPeriod: z.string(),
  milkUntil: z.string(),
  deviations: z.array(z.string()),
  state: z.enum(['stands', 'voided', 'replaced']),
  correction: z.strictObject({ reason: z.string(), by: z.string(), recorded: z.string() }).optional(),
});

/** What a treatment took out of one container. */
const bookDraw = z.strictObject({
  container: idSchema,
  label: z.string(),
  batch: z.string(),
  amount: z.string(),
  /** What was drawn for the animal and ran out again. */
  leaked: z.string().optional(),
  /** What was lost with it, with the reason. */
  lost: z.string().optional(),
  /** What is in the container then. */
  left: z.string(),
});
const deviation = z.strictObject({ code: z.string(), text: z.string() });
/** What a correction may change; whatever is left out stays as it was written. */
const correction = {
  subject: z.string().max(80).optional(),
  weight: typed.optional(),
  given: typed.optional(),
  heads: z.number().int().min(1).optional(),
  local: localSchema.optional(),
  why: longText.optional(),
  /** Who gave it. */
  givenBy: idSchema.optional(),
  /** The vet's instruction it follows, also one that came after it; null: it follows none. */
  instruction: idSchema.nullable().optional(),
  containers: z.array(idSchema).max(20).optional(),
  /** What ran out again; no drops says that nothing did. */
  leaked: leakedAsk.optional(),
};

/** To what the book is narrowed. */
const narrowed = {
  medicine: idSchema.optional(),
  subject: subjectSchema.optional(),
  /** Those who were in this group when it happened. */
  group: idSchema.optional(),
  /** Part of a batch number. */
  batch: z.string().trim().min(1).max(40).optional(),
  /** Who gave it or wrote it down. */
  person: idSchema.optional(),
};

export const bookCalls = {
  book: reading(
    'The treatment record of a period: what went into whom, with the date it is held until.',
    z.strictObject({
      holding: idSchema.optional(),
      from: daySchema,
      to: daySchema,
      ...narrowed,
      search: z.string().max(120).default(''),
      corrections: z.boolean().default(true),
      after: z.string().max(200).optional(),
      limit: z.number().int().min(1).max(20_000).default(500),
    }),
    z.strictObject({ rows: z.array(bookRow), next: z.string().optional() }),
  ),
  treatment: reading(
    'One line of the treatment record with all that was decided for it, every version of it, and what striking it out would do.',
    /** By itself, or by the entry that wrote it: needed once it is struck out. */
    z
      .strictObject({ administration: idSchema.optional(), entry: entryName.optional() })
      .refine((asked) => asked.administration !== undefined || asked.entry !== undefined, {
        message: 'must name the treatment or its entry',
      }),
    z.strictObject({
      administration: idSchema,
      entry: entryName,
      /** Number of the entry that wrote it, when that was, by whom. */
      seq: z.number().int(),
      recorded: z.string(),
      by: z.string(),
      clock: z.enum(['believed', 'doubted']),
      /** Every version in the order written; the last one stands, unless it is struck out. */
      versions: z.array(bookRow),
      stands: z.boolean(),
      zone: z.string(),
      /** As a correction takes them. */
      subject: subjectSchema,
      medicine: idSchema,
      givenBy: idSchema,
      local: localSchema,
      weight: z.string().optional(),
      weightHow: z.string().optional(),
      /** When it was weighed, where that was not at the treatment. */
      weightOn: localSchema.optional(),
      planned: z.string().optional(),
      sites: z.array(z.string()),
      site: z.string().optional(),
      side: z.string().optional(),
      needle: z.string().optional(),
      /** The farm's own syringe or gun, by name. */
      equipment: z.string().optional(),
      /** How much ran out again, in words. */
      leaked: z.string().optional(),
      course: z.strictObject({ n: z.number().int(), of: z.number().int() }).optional(),
      /** The vet's instruction it follows, and in words how it departs from the label. */
      instruction: z.strictObject({ instruction: idSchema, says: z.string() }).optional(),
      outside: z.string().optional(),
      session: z.strictObject({ session: idSchema, name: z.string() }).optional(),
      draws: z.array(bookDraw),
      deviations: z.array(deviation),
      holds: z.array(shownHold),
      working: z.array(workingLine),
      /** Sentences that say what follows when it is struck out; none when it is already. */
      ifStruck: z.array(z.string()),
    }),
  ),
  'preview-correction': reading(
    'What a correction of a treatment would make of it: dose, stock, holds, and whom it would have to be told. Writes nothing.',
    z.strictObject({ administration: idSchema, ...correction }),
    z.strictObject({
      shown: z.string(),
      heads: z.number().int(),
      dose: z.string(),
      quantity: z.string(),
      until: z.string(),
      draws: z.array(bookDraw),
      deviations: z.array(deviation),
      holds: z.array(shownHold),
      working: z.array(workingLine),
      /** What will be asked before it is written. */
      questions: z.array(z.string()),
      notices: z.array(z.string()),
    }),
  ),
  'book-paper': reading(
    'The book of a period as PDF: the treatment record, the whole book, a page an animal, or a page a medicine with its balance.',
    z.strictObject({
      holding: idSchema,
      from: daySchema,
      to: daySchema,
      form: z.enum(['treatments', 'whole', 'animals', 'medicines']).default('treatments'),
      ...narrowed,
      paper: z.enum(['a4', 'letter']).optional(),
      work: workId.optional(),
    }),
    z.strictObject({
      /** The first volume. */
      paper: z.string(),
      rows: z.number().int(),
      checkCode: z.string(),
      /** A book of more than 20,000 rows has several; `name` goes before the ending of a saved file. */
      volumes: z.array(z.strictObject({ paper: z.string(), rows: z.number().int(), name: z.string() })),
    }),
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
      ...correction,
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
    z.strictObject({ work: workId.optional() }),
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
    z.strictObject({ head: z.string().max(60).optional(), work: workId.optional() }),
    z.strictObject({
      ok: z.boolean(),
      entries: z.number().int(),
      checkCode: z.string(),
      problems: z.array(z.string()),
      says: z.string(),
    }),
  ),
  'make-backup': reading(
    'Copies the book to a file, proves the copy, and holds it to be saved like a paper, once. Writes nothing in the journal.',
    z.strictObject({ work: workId.optional() }),
    z.strictObject({
      /** To be fetched like a paper; the copy is removed when it has been. */
      file: z.string().length(64),
      name: z.string(),
      bytes: z.number().int(),
      entries: z.number().int(),
      checkCode: z.string(),
    }),
  ),
  'book-table': reading(
    'Every line of the book of a period, every version of it, as comma-separated text with one set of columns; it reads back without loss.',
    z.strictObject({
      holding: idSchema,
      from: daySchema,
      to: daySchema,
      ...narrowed,
      work: workId.optional(),
    }),
    z.strictObject({ name: z.string(), text: z.string(), rows: z.number().int() }),
  ),
  'make-pack': reading(
    "The inspector's pack: one ZIP with the book as PDF and CSV, papers, declarations, the journal, and how to check it; held to be saved like a paper, once. Writes nothing.",
    z.strictObject({
      holding: idSchema,
      from: daySchema,
      to: daySchema,
      paper: z.enum(['a4', 'letter']).optional(),
      work: workId.optional(),
    }),
    z.strictObject({
      /** To be fetched like a paper; it is removed when it has been. */
      file: z.string().length(64),
      name: z.string(),
      bytes: z.number().int(),
      entries: z.number().int(),
      /** Rows of the book, and files in the pack. */
      rows: z.number().int(),
      files: z.number().int(),
      checkCode: z.string(),
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
