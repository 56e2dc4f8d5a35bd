import { z } from 'zod';
import { searchKey } from '../search-key.ts';
import { entryKind, subjectOf } from './kind.ts';
import { classSchema, daySchema, idSchema, nameSchema } from './parts.ts';
import { weightSoFar } from './weight-so-far.ts';

/** A named animal: entered, or changed (a new tag keeps the old numbers findable). */
export const animalSet = entryKind({
  kind: 'animal-set',
  version: 1,
  schema: z.strictObject({
    animal: idSchema,
    holding: idSchema,
    /** What people call it: the tag as written, else the chip, else the management number. */
    shown: nameSchema,
    tag: z.string().max(40).optional(),
    chip: z
      .string()
      .regex(/^\d{15}$/)
      .optional(),
    management: z.string().max(40).optional(),
    /** Every key a reader or a person may find it by. */
    keys: z.array(z.string().min(1).max(60)).min(1).max(6),
    class: classSchema,
    sex: z.enum(['female', 'male', 'castrated']).optional(),
    born: daySchema.optional(),
    dam: z.string().max(40).optional(),
    atFootUntil: daySchema.optional(),
    milking: z.boolean().default(false),
    owner: idSchema.optional(),
    origin: z.enum(['own', 'bought']).default('own'),
    cameOn: daySchema.optional(),
    /** The import that brought it, so that one act can withdraw the import. */
    import: idSchema.optional(),
  }),
  subjects: (data) => [subjectOf('animal', data.animal)],
  fold(entry, _subject, read) {
    const { data } = entry;
    const before = read.rows('animal')[0];
    return [
      {
        op: 'put',
        table: 'animal',
        row: {
          id: data.animal,
          holding: data.holding,
          shown: data.shown,
          shown_key: searchKey(data.shown),
          tag: data.tag ?? null,
          chip: data.chip ?? null,
          management: data.management ?? null,
          class: data.class,
          sex: data.sex ?? null,
          born: data.born ?? null,
          dam: data.dam ?? null,
          at_foot_until: data.atFootUntil ?? null,
          milking: data.milking ? 1 : 0,
          owner: data.owner ?? null,
          origin: data.origin,
          came_on: data.cameOn ?? null,
          import: data.import ?? before?.import ?? null,
          present: before?.present ?? 1,
          left_on: before?.left_on ?? null,
          left_how: before?.left_how ?? null,
          ...weightSoFar(before, read),
          seq: before?.seq ?? entry.seq,
        },
      },
      ...data.keys.map((key) => ({ op: 'put' as const, table: 'identity', row: { key, seq: entry.seq } })),
    ];
  },
  line: (data) => `${data.shown}, ${data.class}`,
});
