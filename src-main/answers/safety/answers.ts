import type { safetyCalls } from '../../../src-shared/calls/safety.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Answers, write } from '../context.ts';
import { businessOf } from '../reading/holding.ts';
import { exposures, recordExposure } from './exposures.ts';
import { emergencyOf } from './hazards.ts';
import { emergencyPaper, reactionPaper } from './papers.ts';
import { reactionsOf, recordReaction } from './reactions.ts';

/** When somebody or an animal comes to harm: numbers, hazards, exposures, reactions, and their papers. */
export const safetyAnswers: Answers<keyof typeof safetyCalls> = {
  emergency: (context, asked) => emergencyOf(context.store.read, asked.session),
  'set-emergency-numbers'(context, asked) {
    return write<'set-emergency-numbers'>(context, asked, (act) => {
      const business = businessOf(act.tx);
      if (business === undefined) {
        throw new Refusal('no-business', 'The book has not been started yet.', {
          next: 'Write down the farm first.',
        });
      }
      const { call, doctor, hospital, poison, place } = asked;
      const given = Object.entries({ call, doctor, hospital, poison, place }).filter(
        ([, value]) => value !== undefined,
      );
      act.add('business-set', { ...business, emergency: Object.fromEntries(given) });
      return { done: true };
    });
  },
  'emergency-paper': emergencyPaper,
  'record-exposure': recordExposure,
  exposures,
  'record-reaction': recordReaction,
  reactions: (context, asked) => ({ reactions: reactionsOf(context, asked) }),
  'reaction-paper': reactionPaper,
};
