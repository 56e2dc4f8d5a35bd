import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, nameSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Degrees Celsius as a plain decimal: "2.5", "-1". */
export const degreesSchema = z.string().regex(/^-?\d{1,2}(\.\d)?$/);

/** The least and the most a thermometer of a store has shown since it was last read. */
export const storageRead = entryKind({
  kind: 'storage-read',
  version: 1,
  schema: z.strictObject({
    reading: idSchema,
    store: nameSchema,
    leastC: degreesSchema,
    mostC: degreesSchema,
    /** Containers whose label was not kept to by it: what was decided then. */
    outside: z.array(idSchema).max(5000),
  }),
  subjects: (data) => [subjectOf('storage-read', data.reading)],
  fold: (entry) => [recordRow('storage-read', entry.data.reading, entry.data.store, entry)],
  line: (data) => `${data.store}: between ${data.leastC} and ${data.mostC} °C`,
});
