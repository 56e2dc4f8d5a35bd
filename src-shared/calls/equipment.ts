import { VERDICTS } from '../entries/equipment-checked.ts';
import { EQUIPMENT } from '../entries/equipment-set.ts';
import { idSchema, nothing, reading, typed, warning, workingLine, writing, z } from './call.ts';

const checkRow = z.strictObject({
  check: idSchema,
  local: z.string(),
  /** How long ago, in words: "today", "12 days ago". */
  ago: z.string(),
  verdict: z.enum(VERDICTS),
  says: z.string(),
  /** What was done: "10 shots at 5 mL gave 50.5 mL", "40 kg showed 39.5 kg". */
  found: z.string(),
  by: z.string(),
});

export const equipmentRow = z.strictObject({
  equipment: idSchema,
  what: z.enum(EQUIPMENT),
  name: z.string(),
  capacity: z.string().optional(),
  graduation: z.string().optional(),
  drawsBack: z.boolean().optional(),
  priming: z.string().optional(),
  active: z.boolean(),
  /** The last check by when it happened, and its age in words; absent when it was never checked. */
  last: checkRow.optional(),
  /** Guns: shots given with it since that check, or ever. */
  shotsSince: z.number().int(),
  /** Why it should be checked before it is used: never checked, 200 shots since, found wrong, or long ago. */
  due: warning.optional(),
});

export const equipmentCalls = {
  equipment: reading(
    "The farm's own syringes, guns and weighers, with the last check of each.",
    nothing,
    z.strictObject({ equipment: z.array(equipmentRow) }),
  ),
  'equipment-checks': reading(
    'One syringe, gun or weigher and every check of it, newest first.',
    z.strictObject({ equipment: idSchema }),
    z.strictObject({
      equipment: equipmentRow,
      checks: z.array(checkRow.extend({ working: z.array(workingLine) })),
    }),
  ),
  'set-equipment': writing(
    'Adds a syringe, a gun or a weigher, changes one, or says that it is used no more.',
    {
      equipment: idSchema.optional(),
      what: z.enum(EQUIPMENT),
      name: typed,
      /** Syringes and guns: "30 mL" and "0.5 mL". */
      capacity: typed.optional(),
      graduation: typed.optional(),
      drawsBack: z.boolean().optional(),
      /** Guns: what one priming takes, hose and all, as measured; absent: it was not measured. */
      priming: typed.optional(),
      active: z.boolean().default(true),
    },
    z.strictObject({ equipment: idSchema }),
  ),
  'check-gun': writing(
    'Shots of a gun into a measure: whether it gives what it stands at, and what to set it to.',
    {
      equipment: idSchema,
      /** What the gun stands at. */
      setTo: typed,
      /** What it should give, when that is not what it stands at. */
      wanted: typed.optional(),
      /** Either how many shots and what they gave in all … */
      shots: z.number().int().min(1).max(200).optional(),
      total: typed.optional(),
      /** … or each shot by itself. */
      each: z.array(typed).max(200).optional(),
      medicine: idSchema.optional(),
    },
    z.strictObject({
      check: idSchema,
      verdict: z.enum(VERDICTS),
      says: z.string(),
      working: z.array(workingLine),
    }),
  ),
  'check-weigher': writing(
    'A known weight on a weigher: how far it is off.',
    { equipment: idSchema, known: typed, showed: typed },
    z.strictObject({ check: idSchema, verdict: z.enum(VERDICTS), says: z.string() }),
  ),
};
