import { daySchema, idSchema, longText, reading, typed, writing, z } from './call.ts';

const how = z.enum(['taught', 'seen']);

export const trainingCalls = {
  trainings: reading(
    'What people were taught or seen to do well, newest first, and what is to be looked at again.',
    z.strictObject({ person: idSchema.optional() }),
    z.strictObject({
      on: daySchema,
      trainings: z.array(
        z.strictObject({
          training: idSchema,
          person: idSchema,
          personName: z.string(),
          what: z.string(),
          how,
          with: z.string(),
          proof: z.string().optional(),
          note: z.string().optional(),
          day: daySchema,
          reviewOn: daySchema.optional(),
          /** "soon" and "over" only for the newest of its kind of somebody who is still with the farm. */
          review: z.enum(['none', 'later', 'soon', 'over', 'renewed']),
          entry: z.strictObject({ request: z.string(), n: z.number().int() }),
        }),
      ),
    }),
  ),
  'note-training': writing(
    'Notes what somebody was taught or seen to do well, by whom, and when to look again.',
    {
      person: idSchema,
      what: typed,
      how: how.default('taught'),
      with: typed,
      proof: z.string().trim().min(1).max(200).optional(),
      note: longText.optional(),
      reviewOn: daySchema.optional(),
    },
    z.strictObject({ training: idSchema }),
  ),
};
