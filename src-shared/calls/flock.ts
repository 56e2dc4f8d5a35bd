import { DEPARTED_HOW } from '../entries/departed.ts';
import { classSchema } from '../entries/parts.ts';
import { WEIGHED_HOW } from '../entries/weighed.ts';
import {
  daySchema,
  done,
  fileSchema,
  idSchema,
  reading,
  shownHold,
  shownSubject,
  subjectSchema,
  typed,
  warning,
  workingLine,
  writing,
  z,
} from './call.ts';

export const ANIMAL_COLUMNS = [
  'tag',
  'chip',
  'management',
  'class',
  'sex',
  'born',
  'dam',
  'group',
  'weight',
  'weighedOn',
  'from',
  'note',
] as const;
export const WEIGH_COLUMNS = ['identity', 'weight', 'on', 'time', 'note'] as const;

/** Counted from 0. In a request -1 says that no column holds this, whatever its name makes one guess. */
const column = z.number().int().min(-1).max(200);
const readOptions = {
  dateOrder: z.enum(['dmy', 'mdy', 'ymd']).optional(),
  weightUnit: z.enum(['kg', 'lb']).optional(),
  decimal: z.enum(['.', ',', 'both']).optional(),
  /** The unit stands as given, though the file looks as if it were the other. */
  unitIsSure: z.boolean().optional(),
};
const previewRow = z.strictObject({
  line: z.number().int(),
  state: z.enum(['taken', 'refused', 'already-there']),
  shown: z.string(),
  field: z.string().optional(),
  message: z.string().optional(),
  /** Refused only as long as a question is open. */
  waiting: z.literal(true).optional(),
});
const totals = z.strictObject({
  in: z.number().int(),
  taken: z.number().int(),
  refused: z.number().int(),
  alreadyThere: z.number().int(),
});
const question = z.strictObject({
  code: z.string(),
  field: z.string().optional(),
  message: z.string(),
  choices: z.array(z.string()),
  /** The word of the file that is asked about. */
  word: z.string().optional(),
  lines: z.array(z.number().int()).default([]),
});
const preview = z.strictObject({
  encoding: z.string(),
  delimiter: z.string(),
  header: z.array(z.string()),
  columns: z.record(z.string(), column),
  notes: z.array(z.string()),
  questions: z.array(question),
  totals,
  /** Refused rows first, then the others; at most 500. */
  rows: z.array(previewRow),
});
const animalsAsk = z.strictObject({
  file: fileSchema,
  columns: z.partialRecord(z.enum(ANIMAL_COLUMNS), column).optional(),
  options: z
    .strictObject({
      ...readOptions,
      defaultClass: classSchema.optional(),
      /** What unknown words stand for; `refuse` refuses their rows. */
      classWords: z.record(z.string(), z.union([classSchema, z.literal('refuse')])).optional(),
      sexWords: z.record(z.string(), z.enum(['female', 'male', 'castrated', 'refuse'])).optional(),
      /** What becomes of weights no such sheep has. */
      oddWeights: z.enum(['take', 'without', 'refuse']).optional(),
    })
    .default({}),
});
const weighAsk = z.strictObject({
  file: fileSchema,
  columns: z.partialRecord(z.enum(WEIGH_COLUMNS), column).optional(),
  options: z
    .strictObject({
      ...readOptions,
      day: daySchema.optional(),
      /** What becomes of weights no sheep has. */
      oddWeights: z.enum(['take', 'refuse']).optional(),
      /** What becomes of weights far from the last one; `ask` asks, though odd weights are refused. */
      jumps: z.enum(['take', 'refuse', 'ask']).optional(),
    })
    .default({}),
});
const animalRow = shownSubject.extend({
  tag: z.string().optional(),
  chip: z.string().optional(),
  management: z.string().optional(),
  sex: z.string().optional(),
  born: z.string().optional(),
  milking: z.boolean(),
  present: z.boolean(),
  weight: z.string().optional(),
  weighedOn: z.string().optional(),
  /** How it is known: crate, scale, tape or eye. */
  weighedHow: z.string().optional(),
});
/** Whether a produce may be taken now; `until` only when time ends everything that bars it. */
const verdict = z.strictObject({
  produce: z.enum(['meat', 'milk']),
  /** `not-in-milk`: it gives no milk now, and what it was given would hold the milk if it came into milk. */
  state: z.enum(['clear', 'until', 'no-end', 'not-in-milk', 'not-known']),
  until: z.string().optional(),
  big: z.string(),
  why: z.array(z.string()),
  working: z.array(workingLine),
});
/** `subject` is the one the hold was put on: the same, or a lot whose heads these were. */
const waitingHold = z.strictObject({
  hold: idSchema,
  subject: subjectSchema,
  on: z.string(),
  cause: z.string(),
  text: z.string(),
});
const imported = z.strictObject({ import: idSchema, totals, refused: z.array(previewRow) });
/** What the keeper says about earlier treatments of animals that come into the book. */
const standing = z.enum(['none-running', 'unknown']);
const dates = z
  .strictObject({
    ramIn: daySchema.optional(),
    ramOut: daySchema.optional(),
    scanned: daySchema.optional(),
    lambingFrom: daySchema.optional(),
    lambingTo: daySchema.optional(),
    shorn: daySchema.optional(),
    dueAwayFrom: daySchema.optional(),
    dueAwayTo: daySchema.optional(),
  })
  .default({});
const groupRow = z.strictObject({
  group: idSchema,
  name: z.string(),
  heads: z.number().int(),
  subjects: z.number().int(),
  dates,
});

export const flockCalls = {
  'preview-animals': reading('Reads a flock file and says what would come of each row.', animalsAsk, preview),
  'import-animals': writing(
    'Takes the rows of a flock file that can be taken.',
    { holding: idSchema, ...animalsAsk.shape, standing },
    imported,
  ),
  'preview-weighings': reading(
    'Reads a weigh-crate file and says what would come of each row.',
    weighAsk,
    preview,
  ),
  'import-weighings': writing('Takes the weighings of a weigh-crate file.', weighAsk.shape, imported),
  imports: reading(
    'Files that were taken in.',
    z.strictObject({}),
    z.strictObject({
      imports: z.array(
        z.strictObject({
          import: idSchema,
          what: z.enum(['animals', 'weighings']),
          on: z.string(),
          rows: z.number().int(),
        }),
      ),
    }),
  ),
  'withdraw-import': writing(
    'Takes an import back; animals that have later entries stay and are listed.',
    { import: idSchema, reason: typed },
    z.strictObject({
      withdrawn: z.number().int(),
      left: z.array(z.strictObject({ subject: subjectSchema, shown: z.string(), why: z.string() })),
    }),
  ),
  'set-animal': writing(
    'Adds a named animal, or changes one.',
    {
      holding: idSchema,
      animal: idSchema.optional(),
      tag: typed.optional(),
      chip: typed.optional(),
      management: typed.optional(),
      class: classSchema,
      sex: z.enum(['female', 'male', 'castrated']).optional(),
      born: daySchema.optional(),
      dam: typed.optional(),
      milking: z.boolean().default(false),
      origin: z.enum(['own', 'bought']).default('own'),
      cameOn: daySchema.optional(),
      standing: standing.default('none-running'),
    },
    z.strictObject({ animal: idSchema, shown: z.string() }),
  ),
  'find-subject': reading(
    'The animal or lot behind what a reader sent or a person typed.',
    z.strictObject({ read: typed }),
    z.strictObject({ found: z.array(animalRow) }),
  ),
  animals: reading(
    'Named animals, by number; a page at a time.',
    z.strictObject({
      search: z.string().max(120).default(''),
      class: classSchema.optional(),
      group: idSchema.optional(),
      present: z.boolean().default(true),
      /** `next` of the page before. */
      after: z.string().max(200).optional(),
      limit: z.number().int().min(1).max(25_000).default(200),
    }),
    z.strictObject({ animals: z.array(animalRow), next: z.string().optional(), total: z.number().int() }),
  ),
  subject: reading(
    'One animal or lot: who it is, its weights, its treatments and what holds it.',
    z.strictObject({ subject: subjectSchema }),
    z.strictObject({
      /** The instant the verdicts are about, ISO in UTC. */
      now: z.string(),
      /** What it may weigh today by its last two weighings: a prediction, said as one, and no weight to dose by. */
      predicted: z.string().optional(),
      who: animalRow,
      holding: idSchema,
      /** Numbers it had before, as written. */
      before: z.array(z.string()),
      dam: z.string().optional(),
      origin: z.enum(['own', 'bought']),
      cameOn: z.string().optional(),
      left: z.strictObject({ on: z.string(), text: z.string() }).optional(),
      /** Meat, and milk where the holding takes it, at this moment. */
      verdicts: z.array(verdict),
      /** Holds that wait for somebody's word and not for time. */
      waits: z.array(waitingHold),
      holds: z.array(shownHold),
      weighings: z.array(z.strictObject({ local: z.string(), weight: z.string(), how: z.string() })),
      treatments: z.array(
        z.strictObject({
          administration: idSchema,
          local: z.string(),
          product: z.string(),
          quantity: z.string(),
          reason: z.string(),
          until: z.string(),
        }),
      ),
      groups: z.array(z.strictObject({ group: idSchema, name: z.string() })),
      marks: z.array(
        z.strictObject({
          colour: z.string(),
          place: z.string(),
          local: z.string(),
          lastsUntil: z.string().optional(),
        }),
      ),
    }),
  ),
  weigh: writing(
    'A weight, with how it is known.',
    {
      subject: subjectSchema,
      /** As read off; of a tape it may be left out, and is worked out from girth and length. */
      weight: typed.optional(),
      tape: z.strictObject({ girth: typed, length: typed }).optional(),
      how: z.enum(WEIGHED_HOW),
    },
    z.strictObject({ weight: z.string(), warnings: z.array(warning) }),
  ),
  lots: reading(
    'Lots: head counts of unnamed animals.',
    z.strictObject({ search: z.string().max(120).default(''), empty: z.boolean().default(false) }),
    z.strictObject({ lots: z.array(animalRow) }),
  ),
  'set-lot': writing(
    'Adds a lot, or changes its name, class or counted heads.',
    {
      holding: idSchema,
      lot: idSchema.optional(),
      name: typed,
      class: classSchema,
      heads: z.number().int().min(0).max(1_000_000),
      born: daySchema.optional(),
      milking: z.boolean().default(false),
      origin: z.enum(['own', 'bought']).default('own'),
      cameOn: daySchema.optional(),
      standing: standing.default('none-running'),
      why: typed.optional(),
    },
    z.strictObject({ lot: idSchema }),
  ),
  'move-heads': writing(
    'Heads from one lot to another (new or standing), or one head that gets a tag.',
    {
      from: idSchema,
      heads: z.number().int().min(1).max(1_000_000),
      to: z.union([
        z.strictObject({ lot: idSchema }),
        z.strictObject({ newLot: typed }),
        z.strictObject({ tag: typed.optional(), chip: typed.optional(), management: typed.optional() }),
      ]),
    },
    z.strictObject({ to: subjectSchema }),
  ),
  depart: writing(
    'Animals or heads of a lot left: where to and how.',
    {
      subjects: z
        .array(z.strictObject({ subject: subjectSchema, heads: z.number().int().min(1).default(1) }))
        .min(1)
        .max(5000),
      how: z.enum(DEPARTED_HOW),
      to: z.string().trim().max(200).optional(),
    },
    done,
  ),
  groups: reading(
    'Groups: selections of animals and lots, with dates.',
    z.strictObject({}),
    z.strictObject({ groups: z.array(groupRow) }),
  ),
  group: reading(
    'One group and its members.',
    z.strictObject({ group: idSchema }),
    z.strictObject({ group: groupRow, members: z.array(shownSubject) }),
  ),
  'set-group': writing(
    'Makes a group, or changes its name, dates and members.',
    {
      holding: idSchema,
      group: idSchema.optional(),
      name: typed,
      add: z.array(subjectSchema).max(50_000).default([]),
      remove: z.array(subjectSchema).max(50_000).default([]),
      dates,
      active: z.boolean().default(true),
    },
    z.strictObject({ group: idSchema }),
  ),
};
export {
  animalRow,
  preview as filePreview,
  previewRow,
  previewRow as fileRow,
  totals as fileTotals,
  verdict,
  waitingHold,
};
