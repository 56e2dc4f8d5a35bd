import { z } from 'zod';
import { compare, type Fraction, fraction, ONE, parseDecimal } from '../quantity/fraction.ts';
import { parsePeriod } from '../quantity/period.ts';
import { Refusal } from '../refusal.ts';
import { checkZone, isoWithOffset } from '../time/zone.ts';
import { COUNTINGS, clearAt } from '../withdrawal/clearance.ts';
import { printClearanceWorking } from '../withdrawal/working.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  lastDose: typedText,
  zone: typedText,
  period: typedText,
  counting: z.enum(COUNTINGS).default('later'),
  milkingHours: z.union([typedText, z.number()]).optional(),
});

export const clearanceTopic = topic(
  'When a withdrawal period ends, by each way of counting.',
  askSchema,
  (ask) => {
    const zone = checkZone(ask.zone, 'zone');
    const milkingHours = ask.milkingHours === undefined ? undefined : readHours(String(ask.milkingHours));
    const {
      clearAt: clear,
      firstMilkingKept,
      working,
    } = clearAt({
      lastDose: ask.lastDose,
      zone,
      period: parsePeriod(ask.period, 'period'),
      counting: ask.counting,
      ...(milkingHours === undefined ? {} : { milkingHours }),
    });
    return {
      clearAt: isoWithOffset(clear, zone),
      ...(firstMilkingKept === undefined ? {} : { firstMilkingKept }),
      working: printClearanceWorking(working),
      warnings: [],
    };
  },
);

const MOST_HOURS = fraction(72);

function readHours(text: string): Fraction {
  const hours = parseDecimal(text, 'milkingHours');
  if (compare(hours, ONE) < 0 || compare(hours, MOST_HOURS) > 0) {
    throw new Refusal('bad-input', 'Milking hours: give the hours between milkings, from 1 to 72.', {
      field: 'milkingHours',
    });
  }
  return hours;
}
