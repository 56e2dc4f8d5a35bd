import { z } from 'zod';
import { entryKind } from './kind.ts';
import { headsSchema, idSchema, subjectSchema } from './parts.ts';

export const DEPARTED_HOW = ['slaughter', 'sold', 'died', 'killed-on-farm', 'moved', 'lost'] as const;

/** An animal, or some heads of a lot, left: where to and how. */
export const departed = entryKind({
  kind: 'departed',
  version: 1,
  schema: z.strictObject({
    subject: subjectSchema,
    heads: headsSchema.default(1),
    how: z.enum(DEPARTED_HOW),
    to: z.string().trim().max(200).optional(),
    declaration: idSchema.optional(),
  }),
  subjects: (data) => [data.subject],
  fold(entry, subject, read) {
    const { heads, how } = entry.data;
    const id = subject.slice(subject.indexOf(':') + 1);
    if (subject.startsWith('animal:')) {
      return [
        {
          op: 'change',
          table: 'animal',
          key: { id },
          set: { present: 0, left_on: entry.happened.local, left_how: how },
        },
      ];
    }
    const row = read.rows('lot')[0];
    if (!row) return [];
    return [
      { op: 'change', table: 'lot', key: { id }, set: { heads: Math.max(0, Number(row.heads) - heads) } },
    ];
  },
  line: (data) => `Left: ${data.how}${data.to ? ` to ${data.to}` : ''}`,
});
