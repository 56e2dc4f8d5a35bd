import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { daySchema, idSchema, instantSchema, localSchema, nameSchema } from './parts.ts';
import { recordRow } from './record-row.ts';
import { degreesSchema } from './storage-read.ts';

/**
 * What a logger wrote down in a store: day by day the least and the most, where it read nothing, and where it was
 * outside what a label allows. The file itself is kept beside it by its hash. It happened when the last reading was
 * taken, and counts as a reading of the store from then on.
 */
export const storageLogged = entryKind({
  kind: 'storage-logged',
  version: 1,
  schema: z.strictObject({
    reading: idSchema,
    store: nameSchema,
    /** To the tenth below and above. */
    leastC: degreesSchema,
    mostC: degreesSchema,
    /** Containers whose label was not kept to by it: what was decided then. */
    outside: z.array(idSchema).max(5000),
    /** The first reading, local to the holding. */
    since: localSchema,
    readings: z.number().int().min(1),
    refused: z.number().int().min(0),
    /** Minutes between readings, where there were enough to tell. */
    interval: z.number().int().min(1).optional(),
    /** The unit of the file. */
    unit: z.enum(['C', 'F']),
    days: z
      .array(
        z.strictObject({
          day: daySchema,
          leastC: degreesSchema,
          mostC: degreesSchema,
          readings: z.number().int().min(1),
        }),
      )
      .min(1)
      .max(4000),
    gaps: z
      .array(z.strictObject({ from: instantSchema, until: instantSchema, minutes: z.number().int().min(1) }))
      .max(2000),
    excursions: z
      .array(
        z.strictObject({
          /** What the label allows, in degrees Celsius. */
          limits: z.strictObject({ leastC: z.number().optional(), mostC: z.number().optional() }),
          first: instantSchema,
          last: instantSchema,
          leastC: degreesSchema,
          mostC: degreesSchema,
        }),
      )
      .max(2000),
    /** SHA-256 of the file. */
    file: z.string().length(64),
  }),
  subjects: (data) => [subjectOf('storage-read', data.reading)],
  // A reading like one by hand to everything that looks for the last good one.
  fold: (entry) => [recordRow('storage-read', entry.data.reading, entry.data.store, entry)],
  line: (data) =>
    `${data.store}: ${data.readings} readings of a logger, between ${data.leastC} and ${data.mostC} °C`,
});
