import { z } from 'zod';
import { CLASSES, KINDS, PRODUCE, ROUTES } from '../label/terms.ts';

/** Pieces that many kinds of entry are made of. Everything here is what was decided or typed, never a formula. */

export const idSchema = z.string().min(1).max(60);
export const nameSchema = z.string().trim().min(1).max(120);
export const textSchema = z.string().trim().min(1).max(2000);
export const daySchema = z.string().regex(/^\d{4}-\d{2}-\d{2}$/);
export const localSchema = z.string().regex(/^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2})?$/);
export const instantSchema = z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/);
export const classSchema = z.enum(CLASSES);
export const produceSchema = z.enum(PRODUCE);
export const routeSchema = z.enum(ROUTES);
export const kindSchema = z.enum(KINDS);
export const headsSchema = z.number().int().min(1).max(1_000_000);
const whole = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);

/** "animal:ID" or "lot:ID": the only two things that are dosed and that carry holds. */
export const subjectSchema = z.string().regex(/^(animal|lot):.{1,60}$/);

export const amountSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('volume'), microlitres: whole }),
  z.strictObject({ kind: z.literal('mass'), micrograms: whole }),
  z.strictObject({ kind: z.literal('pieces'), pieces: whole }),
]);
export type AmountData = z.infer<typeof amountSchema>;

/** The whole number of microlitres, micrograms or pieces. */
export function unitsOf(amount: AmountData): number {
  if (amount.kind === 'volume') return amount.microlitres;
  return amount.kind === 'mass' ? amount.micrograms : amount.pieces;
}

/** The amount of this kind with that many whole microlitres, micrograms or pieces. */
export function amountData(kind: AmountData['kind'], units: number): AmountData {
  if (kind === 'volume') return { kind, microlitres: units };
  return kind === 'mass' ? { kind, micrograms: units } : { kind, pieces: units };
}

/** Money in whole minor units. */
export const priceSchema = z.strictObject({
  minorUnits: z.number().int().min(0),
  currency: z.string().length(3),
});
export const weightSchema = z.strictObject({
  value: z.string().regex(/^\d{1,4}(\.\d{1,9})?$/),
  unit: z.enum(['kg', 'lb']),
});

export const stepSchema = z.strictObject({
  code: z.string(),
  values: z.record(z.string(), z.string()),
  source: z.string().optional(),
});

/**
 * What was decided about one produce: the hold itself. `until` is the instant from which it may be taken; the
 * other states never end by time.
 */
export const holdSchema = z.strictObject({
  produce: produceSchema,
  market: z.enum(['domestic', 'export']),
  clock: z.enum(['food', 'organic']),
  state: z.enum(['none', 'until', 'event', 'dormant', 'life', 'unknown']),
  until: instantSchema.optional(),
  event: z.enum(['lambing', 'removal', 'end-of-release', 'finding', 'statement', 'resolved']).optional(),
  /** As printed on the label or stated by the vet: "28 d". */
  period: z.string().optional(),
  says: z.string(),
  /** For the later of two: the other period, counted from the last dose. */
  periodFromDose: z.string().optional(),
  /** For a hold that waits for an event: what it is counted from besides, once the event has come. */
  anchor: z
    .strictObject({
      lastDose: localSchema,
      zone: z.string().min(1).max(60),
      marginDays: z.number().int().min(0).max(60),
    })
    .optional(),
  /** Other rows that count from the same event. */
  also: z
    .array(z.strictObject({ period: z.string(), periodFromDose: z.string().optional() }))
    .max(60)
    .optional(),
  /** It does not end before this, whatever the event. */
  atLeast: instantSchema.optional(),
  /** What a dormant milk hold becomes when the ewe comes into milk. */
  wakes: z.enum(['none', 'until', 'event', 'life', 'unknown']).optional(),
  counting: z.enum(['24-hour', 'whole-days', 'later']).optional(),
  /** Of meat: what the label says of lambs that suck her, where it has a word: in her place, or the later of the two. */
  young: z
    .strictObject({
      instead: z.boolean(),
      until: instantSchema,
      period: z.string(),
      working: z.array(stepSchema).default([]),
    })
    .optional(),
  rule: z.string(),
  working: z.array(stepSchema).default([]),
});
export type HoldDecision = z.infer<typeof holdSchema>;

export const deviationSchema = z.strictObject({ code: z.string(), text: z.string() });
