import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, localSchema, subjectSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Repeats of one dose line on one subject: what is planned, and whether it is open, finished or abandoned. */
export const courseSet = entryKind({
  kind: 'course-set',
  version: 1,
  schema: z.strictObject({
    course: idSchema,
    subject: subjectSchema,
    medicine: idSchema,
    doseLine: idSchema,
    planned: z.array(localSchema).min(1).max(60),
    state: z.enum(['open', 'finished', 'abandoned']),
    why: textSchema.optional(),
  }),
  subjects: (data) => [subjectOf('course', data.course)],
  fold: (entry) => [recordRow('course', entry.data.course, entry.data.subject, entry)],
  line: (data) => `Course of ${data.planned.length} doses ${data.state}`,
});
