import { entryName } from './book.ts';
import { idSchema, reading, shownSubject, subjectSchema, z } from './call.ts';

/** One treatment as the organic courses count it. */
const courseRow = z.strictObject({
  administration: idSchema,
  subject: subjectSchema,
  shown: z.string(),
  product: z.string(),
  local: z.string(),
  reason: z.string(),
  /** Whether it counts as a course. */
  counts: z.boolean(),
  /** "a vaccine is not counted"; absent where it counts. */
  why: z.string().optional(),
  /** It counted and was left out: why, by whom and when that was written, and the entry to take it back by. */
  excepted: z.strictObject({ why: z.string(), by: z.string(), on: z.string(), entry: entryName }).optional(),
});

export const organicCalls = {
  'organic-courses': reading(
    'Which treatments count as organic courses: of an animal or lot in 12 months, or one treatment; and all that were left out, with the reason.',
    z.strictObject({ subject: subjectSchema.optional(), administration: idSchema.optional() }),
    z.strictObject({
      /** How the one that is asked about stands; absent where no certificate with known rules covers it. */
      of: shownSubject
        .extend({ rules: z.enum(['eu-organic', 'us-organic']), isLost: z.boolean(), text: z.string() })
        .optional(),
      /** Newest first. */
      courses: z.array(courseRow),
      /** Everything in the book that was left out of the courses, newest first; at most 500. */
      excepted: z.array(courseRow),
    }),
  ),
};
