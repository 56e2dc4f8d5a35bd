import { z } from 'zod';
import { AT_FOOT_RULES } from '../withdrawal/young.ts';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, nameSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

export const LAWS = ['eu', 'ni', 'gb', 'nz', 'us', 'other'] as const;

/** A holding: number, address, zone, law, keeper, and the house settings that entries are decided under. */
export const holdingSet = entryKind({
  kind: 'holding-set',
  version: 1,
  schema: z.strictObject({
    holding: idSchema,
    name: nameSchema,
    /** The number the authority gave it. */
    number: z.string().trim().min(1).max(40),
    address: textSchema,
    zone: z.string().min(1).max(60),
    law: z.enum(LAWS),
    /** The person who keeps the animals here; owner of an animal may be another. */
    keeper: idSchema.optional(),
    weightUnit: z.enum(['kg', 'lb']).default('kg'),
    /** Milk for people is taken here; a meat-only farm keeps its milk clocks unseen. */
    milk: z.boolean().default(false),
    counting: z.enum(['24-hour', 'whole-days', 'later']).default('later'),
    /** Whole days the farm adds to every period of its own accord. */
    marginDays: z.number().int().min(0).max(60).default(0),
    /** Lambs at foot of a treated ewe; absent: held as long as she is. Never shorter than a label says of them. */
    atFoot: z.enum(AT_FOOT_RULES).optional(),
    certificates: z
      .array(z.strictObject({ name: nameSchema, number: z.string().max(60).optional() }))
      .max(10)
      .default([]),
    places: z.array(nameSchema).max(50).default([]),
    paper: z.enum(['a4', 'letter']).default('a4'),
  }),
  subjects: (data) => [subjectOf('holding', data.holding)],
  fold: (entry) => [recordRow('holding', entry.data.holding, entry.data.name, entry)],
  line: (data) => `Holding: ${data.name}, ${data.number}`,
});
