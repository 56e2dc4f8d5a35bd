import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, daySchema, headsSchema, idSchema, nameSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/**
 * Work that is foreseen, so that there is stock for it: which medicine, when, for whom. It treats nobody and holds
 * nobody; a session does that.
 */
export const workForeseen = entryKind({
  kind: 'work-foreseen',
  version: 1,
  schema: z.strictObject({
    work: idSchema,
    medicine: idSchema,
    /** What it is, for people: "Booster before lambing". */
    name: nameSchema,
    on: daySchema,
    group: idSchema.optional(),
    /** As typed; absent: as many as the group has when it is looked at. */
    heads: headsSchema.optional(),
    /** A head; absent: by the label and the weights of the group when it is looked at. */
    dose: amountSchema.optional(),
    doseLine: idSchema.optional(),
    state: z.enum(['foreseen', 'done', 'dropped']),
  }),
  subjects: (data) => [subjectOf('work', data.work)],
  fold: (entry) => [recordRow('work', entry.data.work, entry.data.name, entry)],
  line: ({ name, on, state }) => `Work ${state}: ${name}, ${on}`,
});
