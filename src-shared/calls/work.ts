import { reading, z } from './call.ts';

/** The id a caller gives to long work, to ask about it and to end it. */
export const workId = z.uuid();

/** About long work that another call has begun: checking, printing, copying. */
export const workCalls = {
  'work-progress': reading(
    'How far long work has come that was begun with this id.',
    z.strictObject({ work: workId }),
    z.strictObject({
      isRunning: z.boolean(),
      done: z.number().min(0),
      /** 0 as long as it is not known how much there is. */
      total: z.number().min(0),
      /** What is being done just now, in words; “how far” is then of this step alone. */
      step: z.string().optional(),
    }),
  ),
  'cancel-work': reading(
    'Ends long work that was begun with this id; the call that began it is refused as cancelled. Nothing of it is left.',
    z.strictObject({ work: workId }),
    z.strictObject({ wasRunning: z.boolean() }),
  ),
};
