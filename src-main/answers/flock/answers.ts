import type { flockCalls } from '../../../src-shared/calls/flock.ts';
import type { Answers } from '../context.ts';
import { animalAnswers } from './animals.ts';
import { animalsFileAnswers } from './animals-file.ts';
import { findAnswers } from './find.ts';
import { groupAnswers } from './groups.ts';
import { lotAnswers } from './lots.ts';
import { weighingsFileAnswers } from './weighings-file.ts';
import { withdrawAnswers } from './withdraw.ts';

/** Answers about the flock: files that come in, animals, lots, weights, groups and departures. */
export const flockAnswers: Answers<keyof typeof flockCalls> = {
  ...animalsFileAnswers,
  ...weighingsFileAnswers,
  ...withdrawAnswers,
  ...animalAnswers,
  ...findAnswers,
  ...lotAnswers,
  ...groupAnswers,
};
