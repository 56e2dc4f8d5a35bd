import { z } from 'zod';
import { amountSchema, daySchema, idSchema, localSchema, subjectSchema } from '../entries/parts.ts';

/**
 * A call between a screen and the desk. A writing call carries a `request` id made by the caller: the same id
 * with the same request is answered again as it was, and never written twice.
 */
export type CallSpec<Q = unknown, R = unknown> = {
  writes: boolean;
  /** What it is for, in one sentence: printed by the command host. */
  about: string;
  request: z.ZodType<Q>;
  reply: z.ZodType<R>;
};

/** A call that only reads. */
export function reading<Q extends z.ZodType, R extends z.ZodType>(about: string, request: Q, reply: R) {
  return { writes: false as const, about, request, reply };
}

/** The fields every writing call carries. */
const writingFields = {
  /** UUIDv7 made by the caller. */
  request: z.uuid(),
  /** The person at the keyboard. */
  by: idSchema,
  /** When it happened, local to the holding: a day or a day and time. Absent: now. */
  happened: localSchema.optional(),
  /** Codes of the questions that were asked and answered yes ("ask:…" refusals name them). */
  confirmed: z.array(z.string().max(80)).max(20).default([]),
};

/** A call that writes; its request shape gets the fields that every writing call carries. */
export function writing<S extends z.ZodRawShape, R extends z.ZodType>(about: string, shape: S, reply: R) {
  return { writes: true as const, about, request: z.strictObject({ ...writingFields, ...shape }), reply };
}

/** What people type, bounded; the areas parse it. */
export const typed = z.string().trim().min(1).max(120);
export const longText = z.string().trim().min(1).max(2000);
export const nothing = z.strictObject({});
export const done = z.strictObject({ done: z.literal(true) });

/** A file that came by file input: a token from the desk, or the bytes themselves. */
export const fileSchema = z.union([
  z.strictObject({ token: z.string().min(1).max(80) }),
  z.strictObject({ name: z.string().max(200), base64: z.string().max(90_000_000) }),
]);

/** An amount with its text, so that no screen has to print quantities its own way. */
export const shownAmount = z.strictObject({ amount: amountSchema, text: z.string() });

export const workingLine = z.strictObject({
  code: z.string(),
  text: z.string(),
  source: z.string().optional(),
});
export const warning = z.strictObject({ code: z.string(), text: z.string() });

/** A subject as a list shows it. */
export const shownSubject = z.strictObject({
  subject: subjectSchema,
  shown: z.string(),
  class: z.string(),
  heads: z.number().int(),
});

/** A hold as people read it. `text` is the whole sentence; `until` the instant with offset. */
export const shownHold = z.strictObject({
  produce: z.string(),
  market: z.string(),
  clock: z.string(),
  state: z.enum(['none', 'until', 'event', 'dormant', 'life', 'unknown']),
  until: z.string().optional(),
  untilText: z.string().optional(),
  text: z.string(),
  cause: z.string(),
  product: z.string().optional(),
  from: z.string().optional(),
  source: z.string(),
  working: z.array(workingLine).default([]),
});

export { amountSchema, daySchema, idSchema, localSchema, subjectSchema, z };
