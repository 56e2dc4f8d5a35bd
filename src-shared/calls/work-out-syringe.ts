import { z } from 'zod';
import { syringeError } from '../dose/syringes.ts';
import { printWorking } from '../dose/working.ts';
import { parseAmount } from '../quantity/amount.ts';
import { toDecimal } from '../quantity/fraction.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({ capacity: typedText, volume: typedText });

export const syringeTopic = topic('How far a syringe may be off with a dose in it.', askSchema, (ask) => {
  const capacity = parseAmount(ask.capacity, 'capacity');
  const volume = parseAmount(ask.volume, 'volume');
  const found = syringeError(capacity, volume);
  return {
    errorMl: toDecimal(found.errorMl),
    errorPercent: toDecimal(found.errorPercent),
    deadSpaceMl: toDecimal(found.deadSpaceMl),
    scaleMl: toDecimal(found.scaleMl),
    working: printWorking(found.working),
    warnings: [],
  };
});
