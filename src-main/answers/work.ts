import type { workCalls } from '../../src-shared/calls/work.ts';
import type { Answers } from './context.ts';
import { optional } from './optional.ts';

/** How far long work is, and its end. */
export const workAnswers: Answers<keyof typeof workCalls> = {
  'work-progress': ({ board }, { work }) => {
    const found = board.progress(work);
    return {
      isRunning: found !== undefined,
      done: found?.done ?? 0,
      total: found?.total ?? 0,
      ...optional('step', found?.step),
    };
  },
  'cancel-work': ({ board }, { work }) => ({ wasRunning: board.cancel(work) }),
};
