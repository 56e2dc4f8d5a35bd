import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

export const CONSUMABLE_MOVES = ['received', 'counted', 'used', 'lost', 'disposed'] as const;

/** Pieces that came, went, or were counted. A count says how many there are; what went before it does not matter then. */
export const consumableMoved = entryKind({
  kind: 'consumable-moved',
  version: 1,
  schema: z.strictObject({
    move: idSchema,
    consumable: idSchema,
    cause: z.enum(CONSUMABLE_MOVES),
    pieces: z.number().int().min(0).max(100_000),
    why: textSchema.optional(),
  }),
  subjects: (data) => [subjectOf('consumable', data.consumable)],
  fold: (entry) => [recordRow('consumable-move', entry.data.move, entry.data.consumable, entry)],
  line: ({ cause, pieces }) => `${pieces} ${cause}`,
});
