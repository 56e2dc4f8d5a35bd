import { z } from 'zod';
import { sayField } from '../quantity/field.ts';
import { parseDecimal, toDecimal } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import { typedText } from './work-out-topic.ts';

/** A count as typed or as a number. */
export const typedCount = z.union([typedText, z.number()]);

/** Reads a count; what it may be is for whoever counts to say. Refuses (`bad-count`, `bad-number`) what is not whole. */
export function readCount(count: z.output<typeof typedCount>, field: string): number {
  const value = typeof count === 'number' ? count : Number(toDecimal(parseDecimal(count, field)));
  if (Number.isSafeInteger(value)) return value;
  throw new Refusal('bad-count', `${sayField(field)}: give a whole number.`, { field });
}
