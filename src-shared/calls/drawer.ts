import { CONSUMABLE_MOVES } from '../entries/consumable-moved.ts';
import { CONSUMABLES } from '../entries/consumable-set.ts';
import { LENGTH_NAMES } from '../needle/needle.ts';
import { GAUGES } from '../needle/tubing.ts';
import { done, idSchema, longText, nothing, reading, typed, writing, z } from './call.ts';

/** What is used up and counted by its size, and what the farm has settled on for needles. */

const pieces = z.number().int().min(0).max(100_000);
const consumableRow = z.strictObject({
  consumable: idSchema,
  what: z.enum(CONSUMABLES),
  name: z.string(),
  size: z.strictObject({ gauge: z.enum(GAUGES), lengthIn: z.enum(LENGTH_NAMES) }).optional(),
  /** Hub colour of a needle, in a word. */
  hub: z.string().optional(),
  least: z.number().int().optional(),
  active: z.boolean(),
  /** Absent until it was counted or received. */
  left: z.number().int().optional(),
  /** "12", "not counted". */
  leftText: z.string(),
  /** Fewer than the farm wants to have. */
  isShort: z.boolean(),
  counted: z.string().optional(),
});
const side = z.strictObject({ rule: z.string(), says: z.string(), source: z.string(), mark: z.string() });
const needleRule = z.strictObject({ gauge: typed.optional(), lengthIn: typed.optional() });
const houseRules = z.strictObject({
  skin: needleRule.optional(),
  muscle: needleRule.optional(),
  changeEvery: z.number().int().optional(),
  spacingIn: z.number().int().optional(),
  maxPerSite: z.string().optional(),
});

export const drawerCalls = {
  consumables: reading(
    'Needles by gauge and length, syringes, spares for guns, boxes for sharps and marking sprays, each with its count.',
    nothing,
    z.strictObject({ consumables: z.array(consumableRow) }),
  ),
  'set-consumable': writing(
    'Adds something that is counted by its size, or changes it.',
    {
      consumable: idSchema.optional(),
      what: z.enum(CONSUMABLES),
      /** A needle is named by its size. */
      name: typed.optional(),
      gauge: typed.optional(),
      lengthIn: typed.optional(),
      least: pieces.optional(),
      active: z.boolean().default(true),
      /** How many there are now. */
      count: pieces.optional(),
    },
    z.strictObject({ consumable: idSchema }),
  ),
  'move-consumable': writing(
    'Pieces received, counted, used, lost or disposed of.',
    { consumable: idSchema, cause: z.enum(CONSUMABLE_MOVES), pieces, why: longText.optional() },
    z.strictObject({ left: z.number().int().optional(), leftText: z.string() }),
  ),
  'house-rules': reading(
    'What the farm has settled on for needles, beside the guidance that disagrees.',
    z.strictObject({ holding: idSchema.optional() }),
    z.strictObject({
      holding: idSchema.optional(),
      rules: houseRules,
      /** Guidance side by side, by what it is about. */
      guidance: z.array(
        z.strictObject({
          topic: z.enum(['skin', 'muscle', 'change', 'spacing', 'per-site']),
          sides: z.array(side),
          /** What is taken when the farm says nothing. */
          taken: z.string(),
        }),
      ),
    }),
  ),
  'set-house-rules': writing(
    'What the farm settles on for needles: within what a source says, and never over a label.',
    {
      holding: idSchema,
      skin: needleRule.optional(),
      muscle: needleRule.optional(),
      changeEvery: z.number().int().optional(),
      spacingIn: z.number().int().optional(),
      maxPerSite: typed.optional(),
    },
    done,
  ),
};
