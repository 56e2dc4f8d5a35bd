import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, idSchema, subjectSchema, textSchema } from './parts.ts';

/** Heads counted through the race against heads recorded; the difference is held as possibly treated. */
export const sessionClosed = entryKind({
  kind: 'session-closed',
  version: 1,
  schema: z.strictObject({
    session: idSchema,
    headsThrough: z.number().int().min(0),
    headsRecorded: z.number().int().min(0),
    /** Subjects of whom something that was planned is not recorded and may have been given. */
    unread: z.array(subjectSchema).max(50_000),
    /** Planned subjects that surely did not come through, by the word of whoever closed. */
    notThrough: z.array(subjectSchema).max(50_000).optional(),
    /** Lines of which a subject surely got none, by the same word. */
    gotNone: z
      .array(z.strictObject({ subject: subjectSchema, lines: z.array(idSchema).min(1).max(10) }))
      .max(50_000)
      .optional(),
    used: z
      .array(z.strictObject({ line: idSchema, byGunOrLevel: amountSchema.optional() }))
      .max(10)
      .default([]),
    sharpsBack: z.number().int().min(0).optional(),
    note: textSchema.optional(),
  }),
  subjects: (data) => [subjectOf('session', data.session)],
  fold: (entry) => [
    {
      op: 'change',
      table: 'session',
      key: { id: entry.data.session },
      set: { state: 'closed', closed: entry.happened.local, closing: JSON.stringify(entry.data) },
    },
  ],
  line: (data) => `Session closed: ${data.headsThrough} through, ${data.headsRecorded} recorded`,
});
