import { z } from 'zod';
import { searchKey } from '../search-key.ts';
import { entryKind, subjectOf } from './kind.ts';
import { classSchema, daySchema, idSchema, nameSchema } from './parts.ts';
import { weightSoFar } from './weight-so-far.ts';

/** A head count of unnamed animals of one class. Heads change by `lot-moved`, `departed` and a recount here. */
export const lotSet = entryKind({
  kind: 'lot-set',
  version: 1,
  schema: z.strictObject({
    lot: idSchema,
    holding: idSchema,
    name: nameSchema,
    class: classSchema,
    /** Heads now; 0 for a lot about to receive. */
    heads: z.number().int().min(0).max(1_000_000),
    born: daySchema.optional(),
    milking: z.boolean().default(false),
    origin: z.enum(['own', 'bought']).default('own'),
    cameOn: daySchema.optional(),
    import: idSchema.optional(),
    why: z.string().max(200).optional(),
  }),
  subjects: (data) => [subjectOf('lot', data.lot)],
  fold(entry, _subject, read) {
    const { data } = entry;
    const before = read.rows('lot')[0];
    return [
      {
        op: 'put',
        table: 'lot',
        row: {
          id: data.lot,
          holding: data.holding,
          name: data.name,
          name_key: searchKey(data.name),
          class: data.class,
          heads: data.heads,
          born: data.born ?? null,
          milking: data.milking ? 1 : 0,
          origin: data.origin,
          came_on: data.cameOn ?? null,
          ...weightSoFar(before, read),
          seq: before?.seq ?? entry.seq,
        },
      },
    ];
  },
  line: (data) => `Lot ${data.name}: ${data.heads} × ${data.class}`,
});
