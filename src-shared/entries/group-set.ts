import { z } from 'zod';
import { searchKey } from '../search-key.ts';
import { entryKind, subjectOf } from './kind.ts';
import { daySchema, idSchema, nameSchema, subjectSchema } from './parts.ts';

const day = daySchema.optional();

/** The end of a membership that has not ended. */
export const STILL_IN = '9999-12-31T23:59:59.999Z';

/** A selection of animals and lots with its dates. A group carries nothing: no hold, no dose. */
export const groupSet = entryKind({
  kind: 'group-set',
  version: 1,
  schema: z.strictObject({
    group: idSchema,
    holding: idSchema,
    name: nameSchema,
    /** Members to add and to take out; the fold keeps the list. */
    add: z.array(subjectSchema).max(50_000).default([]),
    remove: z.array(subjectSchema).max(50_000).default([]),
    dates: z
      .strictObject({
        ramIn: day,
        ramOut: day,
        scanned: day,
        lambingFrom: day,
        lambingTo: day,
        shorn: day,
        dueAwayFrom: day,
        dueAwayTo: day,
      })
      .default({}),
    active: z.boolean().default(true),
  }),
  subjects: (data) => [subjectOf('group', data.group)],
  fold(entry) {
    const { data } = entry;
    return [
      {
        op: 'put',
        table: 'flock_group',
        row: {
          id: data.group,
          holding: data.holding,
          name: data.name,
          name_key: searchKey(data.name),
          active: data.active ? 1 : 0,
          dates: JSON.stringify(data.dates),
        },
      },
      ...data.remove.flatMap((member) => [
        { op: 'remove' as const, table: 'member', key: { member } },
        {
          op: 'change' as const,
          table: 'membership',
          key: { member, until_at: STILL_IN },
          set: { until_at: entry.happened.at },
        },
      ]),
      ...data.add.flatMap((member) => [
        { op: 'put' as const, table: 'member', row: { member } },
        {
          op: 'put' as const,
          table: 'membership',
          row: { member, from_at: entry.happened.at, until_at: STILL_IN },
        },
      ]),
    ];
  },
  line: (data) => `Group ${data.name}`,
});
