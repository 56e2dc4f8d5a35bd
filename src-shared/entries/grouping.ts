import { z } from 'zod';
import { PICKED } from '../dose/sample.ts';
import { amountSchema, weightSchema } from './parts.ts';

/** How a whole group is dosed: everyone to the heaviest of all, or drafted by weight into parts. */
export const GROUPED = ['heaviest', 'drafted'] as const;
export const MOST_PARTS_KEPT = 4;
const percentSchema = z.string().regex(/^\d{1,4}(\.\d{1,9})?$/);

/** One part of a group as it was planned: from its lightest to its heaviest, and what each of it gets. */
export const groupPartSchema = z.strictObject({
  from: weightSchema,
  to: weightSchema,
  /** Up to and including this weight an animal goes through the gate with this part. */
  gate: weightSchema.optional(),
  heads: z.number().int().min(1),
  dose: amountSchema,
  /** How much more than its own dose the lightest of the part gets, in percent. */
  overPercent: z.string().max(40),
});

/** How the animals of one line of work are dosed together. */
export const groupingSchema = z.strictObject({
  how: z.enum(GROUPED),
  /** The most an animal may get over its own exact dose, in percent. */
  capPercent: percentSchema,
  /** Heads in all, and how many of them stand for themselves with a weight. */
  heads: z.number().int().min(1),
  weighed: z.number().int().min(1),
  /** How those that were weighed were picked, when not all were. */
  picked: z.enum(PICKED).optional(),
  parts: z.array(groupPartSchema).min(1).max(MOST_PARTS_KEPT),
});
export type GroupingData = z.infer<typeof groupingSchema>;

/** By what an animal of a group was dosed: the heaviest of its part. */
export const dosedToSchema = z.strictObject({
  how: z.enum(GROUPED),
  weight: weightSchema,
  /** Its part, counted from 1, of so many. */
  part: z.number().int().min(1).max(MOST_PARTS_KEPT),
  of: z.number().int().min(1).max(MOST_PARTS_KEPT),
  capPercent: percentSchema,
});
export type DosedTo = z.infer<typeof dosedToSchema>;
