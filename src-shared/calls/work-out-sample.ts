import { z } from 'zod';
import { heavierUnweighed, PICKED } from '../dose/sample.ts';
import { printWorking } from '../dose/working.ts';
import { toDecimal } from '../quantity/fraction.ts';
import { readCount, typedCount } from './work-out-count.ts';
import { topic } from './work-out-topic.ts';

const askSchema = z.strictObject({ heads: typedCount, weighed: typedCount, picked: z.enum(PICKED) });

export const sampleTopic = topic(
  'Whether a heavier animal may be among those that were not weighed.',
  askSchema,
  (ask) => {
    const found = heavierUnweighed({
      heads: readCount(ask.heads, 'heads'),
      weighed: readCount(ask.weighed, 'weighed'),
      picked: ask.picked,
    });
    return {
      ...(found.chancePercent === undefined ? {} : { chancePercent: toDecimal(found.chancePercent) }),
      says: found.says,
      working:
        found.working.length === 0 ? [{ code: 'sample', text: found.says }] : printWorking(found.working),
      warnings: [],
    };
  },
);
