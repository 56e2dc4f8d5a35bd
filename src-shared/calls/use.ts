import { SUBSTANCE_GROUPS } from '../record/use-classes.ts';
import { done, idSchema, reading, typed, workingLine, writing, z } from './call.ts';

const year = z.number().int().min(1900).max(2200);
const group = z.enum(SUBSTANCE_GROUPS);

const heads = z.number().int().min(0).max(1_000_000).optional();
const ownHeads = z.strictObject({ holding: idSchema, year, living: heads, slaughtered: heads });

/** mg of one group, and of all together. Absent quotients: the weight they would be divided by is not known. */
const usedRow = z.strictObject({
  /** "not-said" for an antibiotic of a group that nobody has named. */
  group: z.string(),
  name: z.string(),
  /** Exact, plain decimal. */
  mg: z.string(),
  /** "12.4 g". */
  text: z.string(),
  mgPerKg: z.string().optional(),
  mgPerPcu: z.string().optional(),
});
const countRow = z.strictObject({
  /** A group of substances, or a vaccine's medicine. */
  key: z.string(),
  name: z.string(),
  /** Heads dosed, each time anew. */
  doses: z.number().int(),
  medicines: z.array(z.string()),
});
const yearRow = z.strictObject({
  year,
  /** The last day that is counted in: the end of the year, or today. */
  to: z.string(),
  isRunning: z.boolean(),
  antimicrobials: z.array(usedRow),
  total: usedRow.omit({ group: true, name: true }),
  /** Heads given an antimicrobial, each time anew. */
  doses: z.number().int(),
  /** What could not be counted in: the total is less than what was used. */
  missing: z.array(z.string()),
  weight: z.strictObject({
    /** The farm's own, kg. Absent when it is not known. */
    ownKg: z.string().optional(),
    ownText: z.array(z.string()),
    pcuKg: z.string(),
    /** Of the standard weights: by the farm's own word where it has given one, else by the book. */
    living: z.number().int(),
    slaughtered: z.number().int(),
    /** Where the farm's own word stands instead of what the book counts. */
    standardText: z.array(z.string()),
  }),
  parasites: z.array(countRow),
  vaccines: z.array(countRow),
  working: z.array(workingLine),
});
const substanceRow = z.strictObject({
  substance: z.string(),
  salt: z.string().optional(),
  group: group.optional(),
  iuToMg: z.string().optional(),
  saltFactor: z.string().optional(),
  /** The published factor that is used while the farm has typed none. */
  published: z
    .strictObject({ kind: z.enum(['iu', 'salt']), value: z.string(), source: z.string() })
    .optional(),
  /** The medicines that have it. */
  medicines: z.array(z.string()),
  /** What is still to be said before it can be counted right. */
  needs: z.array(z.enum(['group', 'iu', 'salt'])),
});

export const useCalls = {
  use: reading(
    'Antimicrobials used, in mg for each kg of the farm’s own weights and of standard weights, by year and group; remedies against parasites and vaccines as counts of doses.',
    z.strictObject({ holding: idSchema.optional(), from: year.optional(), to: year.optional() }),
    z.strictObject({
      rules: z.strictObject({
        livingKg: z.string(),
        slaughteredKg: z.string(),
        repeatDays: z.number().int(),
        source: z.string(),
        /** The farm's own numbers by holding and year, newest first. */
        heads: z.array(ownHeads),
      }),
      /** Newest first. */
      years: z.array(yearRow),
      substances: z.array(substanceRow),
    }),
  ),
  'use-paper': reading(
    'The use of some years as a PDF.',
    z.strictObject({
      holding: idSchema.optional(),
      from: year.optional(),
      to: year.optional(),
      paper: z.enum(['a4', 'letter']).optional(),
    }),
    z.strictObject({ paper: z.string(), checkCode: z.string() }),
  ),
  'set-substance': writing(
    'Says to which group an active substance belongs, and how its IU or its salt become mg.',
    {
      substance: z.string().trim().min(1).max(80),
      salt: z.string().trim().min(1).max(80).optional(),
      group,
      iuToMg: typed.optional(),
      saltFactor: typed.optional(),
    },
    done,
  ),
  'set-use-rules': writing(
    'Standard weights by which use is counted beside the farm’s own, and the days within which the same reason again is a repeat.',
    {
      livingKg: typed,
      slaughteredKg: typed,
      repeatDays: z.number().int().min(1).max(365),
    },
    done,
  ),
  'set-use-heads': writing(
    'The heads by which use is counted in a year, where the farm has better numbers than the book; without a number the book counts.',
    { holding: idSchema, year, living: heads, slaughtered: heads },
    done,
  ),
};
