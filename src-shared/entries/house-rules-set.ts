import { z } from 'zod';
import { LENGTH_NAMES } from '../needle/needle.ts';
import { GAUGES } from '../needle/tubing.ts';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, idSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

const needle = z.strictObject({
  gauge: z.enum(GAUGES).optional(),
  lengthIn: z.enum(LENGTH_NAMES).optional(),
});

/** What a holding has settled on where guidance about needles disagrees. What is absent is left to the strictest. */
export const houseRulesSet = entryKind({
  kind: 'house-rules-set',
  version: 1,
  schema: z.strictObject({
    holding: idSchema,
    skin: needle.optional(),
    muscle: needle.optional(),
    /** A new needle after so many animals. */
    changeEvery: z.number().int().min(1).max(50).optional(),
    /** Inches between two places on one side. */
    spacingIn: z.number().int().min(1).max(12).optional(),
    maxPerSite: amountSchema.optional(),
  }),
  subjects: (data) => [subjectOf('house-rules', data.holding)],
  fold: (entry) => [recordRow('house-rules', entry.data.holding, 'needles', entry)],
  line: ({ changeEvery }) =>
    `House rules for needles${changeEvery === undefined ? '' : `: a new one after ${changeEvery}`}`,
});
