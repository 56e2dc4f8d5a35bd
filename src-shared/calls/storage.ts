import { idSchema, reading, subjectSchema, typed, writing, z } from './call.ts';

export const storageCalls = {
  'record-storage': writing(
    'The least and the most the thermometer of a store showed. What its label does not allow is set aside, and who got it since the last good reading is named.',
    { store: typed, least: typed, most: typed },
    z.strictObject({
      /** Set aside by this reading. */
      setAside: z.array(z.strictObject({ container: idSchema, label: z.string(), name: z.string() })),
      /** Given since the last reading that was within the label, out of containers this one was not. */
      given: z.array(
        z.strictObject({ subject: subjectSchema, shown: z.string(), name: z.string(), on: z.string() }),
      ),
      says: z.array(z.string()),
    }),
  ),
  'storage-log': reading(
    'Readings of the thermometers, newest first, and the stores there are.',
    z.strictObject({}),
    z.strictObject({
      stores: z.array(z.string()),
      readings: z.array(
        z.strictObject({
          reading: idSchema,
          store: z.string(),
          local: z.string(),
          leastC: z.string(),
          mostC: z.string(),
          outside: z.number().int(),
        }),
      ),
    }),
  ),
};
