import { ROUTES } from '../label/terms.ts';
import {
  daySchema,
  idSchema,
  localSchema,
  nothing,
  reading,
  subjectSchema,
  typed,
  warning,
  workingLine,
  z,
} from './call.ts';

const period = z.strictObject({ produce: z.string(), period: z.string() });

/** An instruction as it is chosen by: who, when, what, and whether it holds for the treatment in question. */
const choice = z.strictObject({
  instruction: idSchema,
  vetName: z.string(),
  given: daySchema,
  what: z.string(),
  form: z.enum(['told', 'written']),
  inWriting: z.boolean(),
  periods: z.array(period),
  /** Why its periods do not count for this treatment; nothing where they do. */
  why: z.string().optional(),
});

export const instructionCalls = {
  'vet-must-say': reading(
    'Whether a treatment, as it is about to be written down, is outside its label, what the vet must then state at the least, and which instructions hold for it. Writes nothing.',
    z.strictObject({
      subject: subjectSchema,
      /** In a session, with one of its lines; else the medicine and its dose line. */
      session: idSchema.optional(),
      line: idSchema.optional(),
      medicine: idSchema.optional(),
      doseLine: idSchema.optional(),
      source: z.enum(['ours', 'vet', 'contractor', 'earlier-keeper']).default('ours'),
      weight: typed.optional(),
      given: typed.optional(),
      route: z.enum(ROUTES).optional(),
      heads: z.number().int().min(1).optional(),
      happened: localSchema.optional(),
      course: idSchema.optional(),
      instruction: idSchema.optional(),
    }),
    z.strictObject({
      /** "Outside the label: dose, route"; absent: it is on the label. */
      outside: z.string().optional(),
      deviations: z.array(z.strictObject({ code: z.string(), text: z.string(), outside: z.boolean() })),
      /** For each produce the least that the vet may state, in words, with its working. Empty on the label. */
      least: z.array(
        z.strictObject({
          produce: z.enum(['meat', 'milk']),
          text: z.string(),
          period: z.string().optional(),
          working: z.array(workingLine),
          warnings: z.array(warning),
        }),
      ),
      /** Newest first: those that hold for it before those that do not. */
      instructions: z.array(choice),
      /** What would be held, in words, with the instruction that was named. */
      holds: z.array(z.string()),
    }),
  ),
  'instructions-for-run': reading(
    'For each medicine of a session the instructions of the vet that it may follow for those who are treated together.',
    z.strictObject({ session: idSchema, subjects: z.array(subjectSchema).max(50_000) }),
    z.strictObject({
      lines: z.array(
        z.strictObject({
          line: idSchema,
          name: z.string(),
          /** The one the session was planned with. */
          planned: idSchema.optional(),
          /** Newest first; what holds for nobody of them is left out, unless it was planned. */
          instructions: z.array(
            choice.extend({
              /** Heads it does not hold for, of all that were named; `why` is for the first of them. */
              notFor: z.number().int(),
            }),
          ),
        }),
      ),
      heads: z.number().int(),
    }),
  ),
  instruction: reading(
    "One of the vet's instructions, with the treatments that follow it.",
    z.strictObject({ instruction: idSchema }),
    z.strictObject({
      instruction: idSchema,
      entry: z.strictObject({ request: z.string(), n: z.number().int() }),
      vet: idSchema,
      vetName: z.string(),
      given: daySchema,
      what: z.string(),
      reason: z.string(),
      form: z.enum(['told', 'written']),
      inWriting: z.boolean(),
      medicine: idSchema.optional(),
      medicineName: z.string().optional(),
      subjects: z.array(z.strictObject({ subject: subjectSchema, shown: z.string() })),
      periods: z.array(period),
      validUntil: daySchema.optional(),
      /** Newest first. */
      treatments: z.array(
        z.strictObject({
          administration: idSchema,
          local: z.string(),
          shown: z.string(),
          product: z.string(),
          /** Why it does not count for this one; absent: it does. */
          why: z.string().optional(),
        }),
      ),
    }),
  ),
  'instructions-not-in-writing': reading(
    'What the vet only said: instructions that have no paper yet, oldest first.',
    nothing,
    z.strictObject({
      instructions: z.array(
        z.strictObject({
          instruction: idSchema,
          vetName: z.string(),
          given: daySchema,
          what: z.string(),
          treatments: z.number().int(),
        }),
      ),
    }),
  ),
};
