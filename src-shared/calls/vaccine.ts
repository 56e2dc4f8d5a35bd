import { COVER_STATES } from '../dose/coverage.ts';
import { daySchema, idSchema, nothing, reading, shownSubject, subjectSchema, z } from './call.ts';

const state = z.enum(COVER_STATES);
const nextDose = z.strictObject({
  doseLine: idSchema,
  n: z.number().int(),
  of: z.number().int(),
  earliest: daySchema.optional(),
  due: daySchema,
  latest: daySchema.optional(),
});
const coverRow = shownSubject.extend({
  medicine: idSchema,
  name: z.string(),
  state,
  /** Covered to this day and with it. */
  until: daySchema.optional(),
  /** Late or lapsed since. */
  since: daySchema.optional(),
  next: nextDose.optional(),
  /** The last dose on record. */
  last: daySchema.optional(),
  /** Its heads, or those of the lot it came out of, did not all have the same: this is the worst of them. */
  mixed: z.boolean(),
  /** How it stands, in whole sentences: what the label says and no more. */
  text: z.string(),
});
const vaccine = z.strictObject({
  medicine: idSchema,
  name: z.string(),
  /** Heads in each state. */
  heads: z.record(state, z.number().int()),
  /** On the days of the group: how many heads are covered then, by what they have had so far. */
  onDates: z.array(
    z.strictObject({ what: z.string(), on: daySchema, covered: z.number().int(), of: z.number().int() }),
  ),
});
const due = z.strictObject({
  /** Names these animals and this dose to the planner: `treat/plan?due=…`. */
  key: z.string(),
  kind: z.enum(['dose', 'late', 'booster', 'lapsed']),
  medicine: idSchema,
  name: z.string(),
  doseLine: idSchema.optional(),
  group: z.strictObject({ group: idSchema, name: z.string(), whole: z.boolean() }).optional(),
  /** The first day that the label allows one of them the dose; until then there is nothing to plan. */
  mayFrom: daySchema.optional(),
  heads: z.number().int(),
  subjects: z.array(z.strictObject({ subject: subjectSchema, shown: z.string() })),
  /** "18 of Hill ewes: dose 2 of 2 of … is due 3 to 10 Dec 2026". */
  text: z.string(),
  small: z.string().optional(),
});

export const vaccineCalls = {
  coverage: reading(
    'How far each animal is covered by each vaccine, by the doses in the book and what the label says. The same medicine only.',
    z.strictObject({
      /** By the doses up to this day; absent today. */
      on: daySchema.optional(),
      medicine: idSchema.optional(),
      subject: subjectSchema.optional(),
      group: idSchema.optional(),
      /** Only these in `rows`; the counts are of all. */
      states: z.array(state).max(COVER_STATES.length).optional(),
    }),
    z.strictObject({ on: daySchema, vaccines: z.array(vaccine), rows: z.array(coverRow) }),
  ),
  'vaccines-due': reading(
    'Doses of vaccines that are due soon, late, or lapsed, by group and vaccine, each with its animals.',
    nothing,
    z.strictObject({ on: daySchema, due: z.array(due) }),
  ),
};
