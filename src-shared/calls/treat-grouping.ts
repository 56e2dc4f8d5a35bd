import { PICKED } from '../dose/sample.ts';
import { GROUPED, MOST_PARTS_KEPT } from '../entries/grouping.ts';
import { idSchema, shownAmount, typed, workingLine, z } from './call.ts';

/** How a line of work doses its animals, when not each by its own weight. */
export const groupingAsk = z.discriminatedUnion('how', [
  z.strictObject({
    how: z.literal('heaviest'),
    /** How those that were weighed were picked. Said, the others are dosed with them. */
    picked: z.enum(PICKED).optional(),
    /** Weights of a sample that stand in the book under no name ("41.5 kg"). */
    sample: z.array(typed).max(500).default([]),
    capPercent: typed.optional(),
  }),
  z.strictObject({
    how: z.literal('drafted'),
    parts: z.number().int().min(2).max(MOST_PARTS_KEPT),
    capPercent: typed.optional(),
    /** The steps in which the gate can be set. */
    gate: typed.optional(),
  }),
]);

/** One part as a plan or a session shows it. */
export const groupPart = z.strictObject({
  /** Counted from 1. */
  part: z.number().int(),
  of: z.number().int(),
  from: z.string(),
  to: z.string(),
  gate: z.string().optional(),
  heads: z.number().int(),
  dose: shownAmount,
  /** How much more the lightest gets than its own dose, in percent. */
  over: z.string(),
  byItself: z.boolean(),
  /** "20 to 38 kg: 12 lambs, 7.6 mL each; set the gate at 38.5 kg". */
  says: z.string(),
});

/** How a group is dosed, with what the other ways would cost. */
export const groupShown = z.strictObject({
  how: z.enum(GROUPED),
  capPercent: z.string(),
  parts: z.array(groupPart),
  total: shownAmount,
  worstOver: z.string(),
  /** The ends of the trade: least product and least worst overdose in as many parts, all to the heaviest. */
  ends: z
    .array(
      z.strictObject({
        code: z.enum(['least-product', 'least-worst', 'to-heaviest']),
        says: z.string(),
        total: shownAmount,
        worstOver: z.string(),
      }),
    )
    .default([]),
  /** When not all were weighed: how many, and what can be said of a heavier one among the rest. */
  sample: z
    .strictObject({
      weighed: z.number().int(),
      heads: z.number().int(),
      picked: z.enum(PICKED).optional(),
      chancePercent: z.string().optional(),
      says: z.string(),
    })
    .optional(),
  working: z.array(workingLine).default([]),
});

/** Which of the farm's syringes a plan is drawn up in, and what it may be off by. */
export const syringeShown = z.strictObject({
  equipment: idSchema,
  name: z.string(),
  capacity: z.string(),
  graduation: z.string(),
  /** True when the line of work names it already. */
  isTaken: z.boolean(),
  /** By ISO 7886-1; of a gun nothing is said by it. */
  errorPercent: z.string().optional(),
  says: z.string(),
  /** Where its marks are more than 5 % off: the smallest that is not. */
  finer: z
    .strictObject({
      equipment: idSchema,
      name: z.string(),
      capacity: z.string(),
      graduation: z.string(),
      says: z.string(),
    })
    .optional(),
  working: z.array(workingLine).default([]),
});
