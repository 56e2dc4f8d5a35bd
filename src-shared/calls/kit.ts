import { CONSUMABLES } from '../entries/consumable-set.ts';
import { idSchema, localSchema, reading, warning, workingLine, writing, z } from './call.ts';
import { planAsk } from './treat.ts';

/** What work at the race needs besides the medicine, and what is looked at before it starts. */

const sourced = z.strictObject({ text: z.string(), source: z.string().optional() });
const needleShown = z.strictObject({
  /** "lambs of 4 to 16 weeks". */
  who: z.string(),
  heads: z.number().int(),
  /** "18G 1/2 in". */
  text: z.string(),
  hub: z.string(),
  reasons: z.array(sourced),
  technique: z.string(),
  /** Guidance that disagrees, and what is taken of it. */
  conflicts: z.array(z.strictObject({ topic: z.string(), sides: z.array(z.string()), taken: z.string() })),
  warnings: z.array(warning),
});
const kitLine = z.strictObject({
  name: z.string(),
  route: z.string(),
  isInjected: z.boolean(),
  /** The syringe or gun it is given with. */
  givenWith: z.string(),
  needles: z.array(needleShown),
  noNeedle: z.array(
    z.strictObject({
      who: z.string(),
      heads: z.number().int(),
      text: z.string(),
      next: z.string().optional(),
    }),
  ),
  /** Of the routes without a needle. */
  guidance: z.strictObject({ steps: z.array(z.string()), source: z.string() }).optional(),
});
const kitItem = z.strictObject({
  what: z.enum(CONSUMABLES),
  text: z.string(),
  wanted: z.number().int(),
  /** "12", "not counted", "none kept". */
  leftText: z.string(),
  short: z.number().int(),
  why: z.string(),
});
const checkShown = z.strictObject({
  id: z.string(),
  says: z.string(),
  why: z.string().optional(),
  ticked: z.boolean(),
});

export const kitShown = z.strictObject({
  isInjected: z.boolean(),
  lines: z.array(kitLine),
  items: z.array(kitItem),
  /** When a needle is changed and how many there must be; absent where none is used. */
  change: z
    .strictObject({
      everyHeads: z.number().int(),
      total: z.number().int(),
      says: z.array(z.string()),
      sides: z.array(z.string()),
      taken: z.string(),
      working: z.array(workingLine),
    })
    .optional(),
  warnings: z.array(warning),
  checks: z.array(checkShown),
  /** Who ticked, and when. */
  checked: z.strictObject({ by: z.string(), local: z.string() }).optional(),
  /** Needles as they stand in an open session. */
  sharps: z
    .strictObject({ out: z.number().int().optional(), missing: z.number().int(), since: z.string() })
    .optional(),
});

export const kitCalls = {
  'session-kit': reading(
    'What a session needs besides the medicine: needles with the reasons, syringes, spares, sharps box, marks; what is short; the checks before starting.',
    z.strictObject({
      /** An open session: for those who wait. */
      session: idSchema.optional(),
      /** Or a plan, before anything is written. */
      plan: z.strictObject({ ...planAsk, on: localSchema.optional() }).optional(),
    }),
    kitShown,
  ),
  'check-session': writing(
    'What was looked at before starting: all that is ticked now.',
    { session: idSchema, ticked: z.array(z.string().min(1).max(40)).max(40) },
    z.strictObject({ open: z.array(z.string()) }),
  ),
};
