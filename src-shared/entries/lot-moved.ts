import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { headsSchema, idSchema, subjectSchema } from './parts.ts';

/**
 * Heads move between lots, or one head gets a tag and becomes a named animal. Whatever hold the giving lot
 * carried at that time follows to the receiver, who keeps its own as well.
 */
export const lotMoved = entryKind({
  kind: 'lot-moved',
  version: 1,
  schema: z.strictObject({
    from: idSchema,
    to: subjectSchema,
    heads: headsSchema,
    why: z.enum(['split', 'merge', 'tagged', 'marked', 'recount']),
  }),
  subjects: (data) => [subjectOf('lot', data.from), data.to],
  fold(entry, subject, read) {
    const { from, to, heads } = entry.data;
    const giver = subjectOf('lot', from);
    if (giver === to) return [];
    const row = read.rows('lot')[0];
    const heads_ = (by: number) =>
      row
        ? [
            {
              op: 'change' as const,
              table: 'lot',
              key: { id: row.id ?? null },
              set: { heads: Math.max(0, Number(row.heads) + by) },
            },
          ]
        : [];
    if (subject === giver) return heads_(-heads);
    const line = {
      op: 'put' as const,
      table: 'lineage',
      row: { parent: giver, at: entry.happened.at, seq: entry.seq, heads },
    };
    return [...heads_(heads), line];
  },
  line: (data) => `${data.heads} moved out of the lot (${data.why})`,
});
