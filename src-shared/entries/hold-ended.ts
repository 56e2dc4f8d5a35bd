import { z } from 'zod';
import { entryKind } from './kind.ts';
import { idSchema, subjectSchema, textSchema } from './parts.ts';

/** A hold that waited for something other than time has got it: a statement, a finding, an answer. */
export const holdEnded = entryKind({
  kind: 'hold-ended',
  version: 1,
  schema: z.strictObject({
    hold: idSchema,
    subject: subjectSchema,
    how: z.enum(['not-treated', 'recorded-late', 'statement', 'finding', 'vet-word']),
    why: textSchema,
  }),
  subjects: (data) => [data.subject],
  fold: (entry, _subject, read) =>
    read.rows('hold', { source: `hold:${entry.data.hold}` }).map((row) => ({
      op: 'change',
      table: 'hold',
      key: {
        source: row.source ?? null,
        produce: row.produce ?? null,
        market: row.market ?? null,
        clock: row.clock ?? null,
      },
      set: { state: 'none', until: entry.happened.at },
    })),
  line: (data) => `Hold ended (${data.how}): ${data.why}`,
});
