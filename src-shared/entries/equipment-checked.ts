import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, idSchema, stepSchema, textSchema, weightSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** What a check found: right, or off by so much, or not the same from shot to shot, or too little to tell. */
export const VERDICTS = ['right', 'off', 'uneven', 'too-few'] as const;

const gun = z.strictObject({
  what: z.literal('gun'),
  /** What the gun stood at, and what was shot. */
  setTo: amountSchema,
  /** What it should give, where that was said apart. */
  wanted: amountSchema.optional(),
  shots: z.number().int().min(1).max(200),
  /** Either all shots in one vessel, or each by itself. */
  total: amountSchema.optional(),
  each: z.array(amountSchema).max(200).optional(),
  medicine: idSchema.optional(),
  product: z.string().max(120).optional(),
  /** Plain decimals as they were worked out: mL, and percent of the setting; the spread only where each shot is known. */
  mean: z.string().max(40),
  offPercent: z.string().max(40),
  spreadPercent: z.string().max(40).optional(),
  /** What to set it to, so that it gives what it stood at. */
  newSetting: z.string().max(40).optional(),
});
const weigher = z.strictObject({
  what: z.literal('weigher'),
  known: weightSchema,
  showed: weightSchema,
  /** Showed less known, with its unit. */
  difference: z.string().max(40),
  offPercent: z.string().max(40),
});

/** A gun shot into a vessel, or a known weight put on a weigher: what came of it, as it was decided then. */
export const equipmentChecked = entryKind({
  kind: 'equipment-checked',
  version: 1,
  schema: z.strictObject({
    check: idSchema,
    equipment: idSchema,
    found: z.discriminatedUnion('what', [gun, weigher]),
    verdict: z.enum(VERDICTS),
    /** The verdict as a sentence, with what to do. */
    says: textSchema,
    working: z.array(stepSchema).max(20).default([]),
  }),
  subjects: (data) => [subjectOf('equipment', data.equipment)],
  fold: (entry) => [recordRow('equipment-check', entry.data.check, entry.data.equipment, entry)],
  line: (data) => `${data.found.what === 'gun' ? 'Gun' : 'Weigher'} checked: ${data.says}`,
});
