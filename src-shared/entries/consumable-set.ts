import { z } from 'zod';
import { LENGTH_NAMES } from '../needle/needle.ts';
import { GAUGES } from '../needle/tubing.ts';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, nameSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

export const CONSUMABLES = ['needle', 'syringe', 'gun-spare', 'sharps-box', 'marking-spray'] as const;

/** Something that is used up and counted by its size: needles by gauge and length, syringes by what they hold. */
export const consumableSet = entryKind({
  kind: 'consumable-set',
  version: 1,
  schema: z.strictObject({
    consumable: idSchema,
    what: z.enum(CONSUMABLES),
    /** As it is said: "18G 1 in", "10 mL", "blue". */
    name: nameSchema,
    /** Needles. */
    size: z.strictObject({ gauge: z.enum(GAUGES), lengthIn: z.enum(LENGTH_NAMES) }).optional(),
    /** Fewer than this and it is said; absent: never said. */
    least: z.number().int().min(0).max(100_000).optional(),
    /** False once it is not kept any more. */
    active: z.boolean().default(true),
  }),
  subjects: (data) => [subjectOf('consumable', data.consumable)],
  fold: (entry) => [recordRow('consumable', entry.data.consumable, entry.data.name, entry)],
  line: ({ what, name, active }) =>
    `Kept in the drawer: ${what.replace('-', ' ')} ${name}${active ? '' : ', no more'}`,
});
