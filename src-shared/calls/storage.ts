import { daySchema, fileSchema, idSchema, reading, subjectSchema, typed, writing, z } from './call.ts';
import { filePreview, fileRow, fileTotals } from './flock.ts';

export const LOGGER_COLUMNS = ['at', 'time', 'degrees'] as const;

const loggerAsk = {
  file: fileSchema,
  /** Counted from 0; -1 says that no column holds this. */
  columns: z.partialRecord(z.enum(LOGGER_COLUMNS), z.number().int().min(-1).max(200)).optional(),
  options: z
    .strictObject({
      dateOrder: z.enum(['dmy', 'mdy', 'ymd']).optional(),
      degrees: z.enum(['C', 'F']).optional(),
      /** How its clock ran: with the farm's, as when it was started, or in UTC. */
      clock: z.enum(['farm', 'kept', 'utc']).optional(),
    })
    .default({}),
};

/** Set aside by a reading. */
const setAside = z.array(z.strictObject({ container: idSchema, label: z.string(), name: z.string() }));
/** Given since the last reading that was within the label, out of containers this one was not. */
const given = z.array(
  z.strictObject({ subject: subjectSchema, shown: z.string(), name: z.string(), on: z.string() }),
);

/** What a series of readings says. Degrees are Celsius, to the tenth below for a least and above for a most. */
const series = z.strictObject({
  readings: z.number().int(),
  since: z.string(),
  until: z.string(),
  leastC: z.string(),
  mostC: z.string(),
  /** "every 15 minutes"; absent with too few readings. */
  interval: z.string().optional(),
  unit: z.enum(['C', 'F']),
  days: z.array(
    z.strictObject({ day: daySchema, leastC: z.string(), mostC: z.string(), readings: z.number().int() }),
  ),
  /** "No reading from 3 May 2026, 10:15 until 3 May 2026, 14:00 (3 h 45 min)." */
  gaps: z.array(z.string()),
});

export const storageCalls = {
  'record-storage': writing(
    'The least and the most the thermometer of a store showed. What its label does not allow is set aside, and who got it since the last good reading is named.',
    { store: typed, least: typed, most: typed },
    z.strictObject({
      setAside,
      given,
      says: z.array(z.string()),
    }),
  ),
  'preview-logger': reading(
    'What a logger’s file says, before it is taken: its readings, gaps and questions, and what would follow for a store.',
    z.strictObject({ ...loggerAsk, store: typed.optional() }),
    z.strictObject({
      ...filePreview.shape,
      /** Absent while a question is open or no line can be read. */
      series: series.optional(),
      /** What would follow, where a store is named: sentences first. */
      follows: z.strictObject({ says: z.array(z.string()), setAside, given }).optional(),
    }),
  ),
  'take-logger': writing(
    'Takes the readings of a logger as what a store was like. What its label does not allow is set aside, and who got it since the last good reading is named.',
    { ...loggerAsk, store: typed },
    z.strictObject({
      reading: idSchema,
      series,
      totals: fileTotals,
      refused: z.array(fileRow),
      setAside,
      given,
      says: z.array(z.string()),
    }),
  ),
  'storage-reading': reading(
    'One reading of a thermometer; of a logger’s file its days, its gaps and where it was outside what a label allows.',
    z.strictObject({ reading: idSchema }),
    z.strictObject({
      reading: idSchema,
      store: z.string(),
      local: z.string(),
      leastC: z.string(),
      mostC: z.string(),
      outside: z.number().int(),
      series: series.optional(),
      excursions: z.array(z.string()),
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
          /** Where it was a logger's file: since when, how many readings, how many gaps. */
          log: z
            .strictObject({ since: z.string(), readings: z.number().int(), gaps: z.number().int() })
            .optional(),
        }),
      ),
    }),
  ),
};
