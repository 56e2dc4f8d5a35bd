import { z } from 'zod';
import { parseTape, tapeWeight } from '../dose/tape.ts';
import { printWorking } from '../dose/working.ts';
import { weightQuestion } from '../quantity/weight.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({ girth: typedText, length: typedText });

export const weightTapeTopic = topic('What a sheep may weigh, from girth and length.', askSchema, (ask) => {
  const found = tapeWeight(parseTape(ask.girth, 'girth'), parseTape(ask.length, 'length'));
  const asked = weightQuestion(found.weight);
  return {
    kg: found.weight.value,
    estimate: found.estimate,
    working: printWorking(found.working),
    warnings: [
      ...(asked === undefined ? [] : [asked]),
      {
        code: 'estimate',
        text: 'This is an estimate: press the wool down, and weigh where a scale can be had.',
      },
    ],
  };
});
