import { z } from 'zod';
import { entryKind } from './kind.ts';
import { holdSchema, idSchema, instantSchema, subjectSchema } from './parts.ts';

/**
 * When a hold ends for those to whom an event happened: the hold itself stays as it was decided, because others may
 * carry it to whom nothing has happened yet. It stands at the time of the event, and reading it asks who was there.
 */
export const holdSettled = entryKind({
  kind: 'hold-settled',
  version: 1,
  schema: z.strictObject({
    event: idSchema,
    /** To whom the event happened. */
    subject: subjectSchema,
    /** What the hold comes from: "administration:ID" or "hold:ID". */
    source: z.string().regex(/^(administration|hold):.{1,60}$/),
    /** When the hold began. */
    since: instantSchema,
    holds: z.array(holdSchema).min(1).max(20),
  }),
  subjects: (data) => [data.subject],
  fold: (entry) =>
    entry.data.holds.map((hold) => ({
      op: 'put' as const,
      table: 'settled',
      row: {
        event: entry.data.event,
        source: entry.data.source,
        produce: hold.produce,
        market: hold.market,
        clock: hold.clock,
        since: entry.data.since,
        seq: entry.seq,
        data: JSON.stringify(hold),
      },
    })),
  line: () => 'What a hold waited for has come: its end is known',
});
