import type { flockCalls } from '../../src-shared/calls/flock.ts';
import type { Answers } from './context.ts';
import { animalAnswers } from './flock-animals.ts';
import { animalsFileAnswers } from './flock-animals-file.ts';
import { findAnswers } from './flock-find.ts';
import { groupAnswers } from './flock-groups.ts';
import { lotAnswers } from './flock-lots.ts';
import { weighingsFileAnswers } from './flock-weighings-file.ts';
import { withdrawAnswers } from './flock-withdraw.ts';

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
