import { z } from 'zod';
import { groupingSchema } from './grouping.ts';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, deviationSchema, idSchema, nameSchema, subjectSchema, textSchema } from './parts.ts';

/** Where what is given comes from. Only our own containers move. */
export const sourceKinds = ['ours', 'vet', 'contractor', 'earlier-keeper'] as const;

export const sessionLineSchema = z.strictObject({
  line: idSchema,
  medicine: idSchema,
  revision: idSchema,
  doseLine: idSchema,
  source: z.enum(sourceKinds),
  containers: z.array(idSchema).max(200),
  reason: textSchema,
  instruction: idSchema.optional(),
  prescription: idSchema.optional(),
  /** Batch of what the vet or a contractor brought. */
  batch: z.string().max(40).optional(),
  syringe: z.strictObject({ capacity: z.string(), graduation: z.string() }).optional(),
  /** The farm's own syringe or gun that is meant; `syringe` is filled from it. */
  equipment: idSchema.optional(),
  /** How the animals are dosed together; absent: each by its own weight. */
  grouping: groupingSchema.optional(),
});

/** Work at the race: planned, and open until it is closed. A printed work sheet is an open session. */
export const sessionOpened = entryKind({
  kind: 'session-opened',
  version: 1,
  schema: z.strictObject({
    session: idSchema,
    holding: idSchema,
    name: nameSchema,
    mode: z.enum(['each', 'mass']),
    lines: z.array(sessionLineSchema).min(1).max(10),
    subjects: z
      .array(
        z.strictObject({
          subject: subjectSchema,
          heads: z.number().int().min(1),
          /** Planned dose a head, one for each line; a line it gets nothing of is null. */
          doses: z.array(amountSchema.nullable()),
          /** Lines, counted from 0, whose dose waits for the weigher at the race: planned, and not yet known. */
          toWeigh: z.array(z.number().int().min(0).max(9)).max(10).optional(),
          /** For each line its part, counted from 0; null where it is dosed by itself or gets nothing. */
          parts: z.array(z.number().int().min(0).max(3).nullable()).max(10).optional(),
        }),
      )
      .max(50_000),
    leftOut: z.array(z.strictObject({ subject: subjectSchema, why: deviationSchema })).max(50_000),
    /** n of N in a lot get a mark that will be read later. */
    mark: z
      .strictObject({ colour: nameSchema, place: nameSchema, lastsDays: z.number().int().min(1).max(730) })
      .optional(),
    sharpsOut: z.number().int().min(0).optional(),
  }),
  subjects: (data) => [subjectOf('session', data.session)],
  fold(entry) {
    const { data } = entry;
    return [
      {
        op: 'put',
        table: 'session',
        row: {
          id: data.session,
          holding: data.holding,
          name: data.name,
          mode: data.mode,
          state: 'open',
          opened: entry.happened.local,
          at: entry.happened.at,
          planned: data.subjects.reduce((sum, item) => sum + item.heads, 0),
          closed: null,
          seq: entry.seq,
          data: JSON.stringify(data),
          closing: null,
        },
      },
    ];
  },
  line: (data) => `Session ${data.name} opened`,
});
