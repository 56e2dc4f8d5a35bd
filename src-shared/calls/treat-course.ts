import { idSchema, longText, reading, shownHold, shownSubject, subjectSchema, writing, z } from './call.ts';

/** Courses that are under way, and their end. */
export const courseCalls = {
  courses: reading(
    'Open courses: which doses were given and which are still planned.',
    z.strictObject({ subject: subjectSchema.optional() }),
    z.strictObject({
      courses: z.array(
        shownSubject.extend({
          course: idSchema,
          medicine: idSchema,
          name: z.string(),
          doseLine: idSchema,
          /** Local days or times, earliest first. */
          planned: z.array(z.string()),
          given: z.array(z.string()),
        }),
      ),
    }),
  ),
  'close-course': writing(
    'A course is finished or abandoned; its holds are decided anew from the last dose given.',
    { course: idSchema, state: z.enum(['finished', 'abandoned']), why: longText },
    z.strictObject({ holds: z.array(shownHold) }),
  ),
};
