import { z } from 'zod';
import { type Period, parsePeriod, printPeriod } from '../quantity/period.ts';
import { parseDay } from '../time/day.ts';
import { offLabelMinimum } from '../withdrawal/off-label.ts';
import { OFF_LABEL_LAWS } from '../withdrawal/off-label-laws.ts';
import { printClearanceWorking } from '../withdrawal/working.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  law: z.enum(OFF_LABEL_LAWS),
  on: typedText,
  produce: z.enum(['meat', 'milk']),
  species: typedText.optional(),
  longest: typedText.optional(),
  notAuthorised: z.boolean().optional(),
  zero: z.boolean().optional(),
  otherFamily: z.boolean().optional(),
});

export const offLabelTopic = topic(
  'The least withdrawal period that a vet may state for a treatment outside its label, by law and day.',
  askSchema,
  (ask) => {
    const read = (text: string | undefined, field: string): Period | undefined =>
      text === undefined ? undefined : parsePeriod(text, field);
    const answer = offLabelMinimum({
      ...ask,
      on: parseDay(ask.on, 'on'),
      species: read(ask.species, 'species'),
      longest: read(ask.longest, 'longest'),
    });
    const said =
      'minimum' in answer
        ? { minimum: printPeriod(answer.minimum) }
        : {
            vetMustState: true,
            ...(answer.floor === undefined ? {} : { floor: printPeriod(answer.floor) }),
          };
    return { ...said, working: printClearanceWorking(answer.working), warnings: answer.warnings };
  },
);
