import { z } from 'zod';
import { entryKind } from './kind.ts';
import { daySchema, idSchema, nameSchema, subjectSchema } from './parts.ts';

/** A mark on the animal: colour, place and how long it can be expected to be read. */
export const marked = entryKind({
  kind: 'marked',
  version: 1,
  schema: z.strictObject({
    subject: subjectSchema,
    colour: nameSchema,
    place: nameSchema,
    lastsUntil: daySchema.optional(),
    session: idSchema.optional(),
  }),
  subjects: (data) => [data.subject],
  fold: (entry) => [
    {
      op: 'put',
      table: 'mark',
      row: {
        seq: entry.seq,
        colour: entry.data.colour,
        place: entry.data.place,
        local: entry.happened.local,
        lasts_until: entry.data.lastsUntil ?? null,
      },
    },
  ],
  line: (data) => `Marked ${data.colour} on the ${data.place}`,
});
