import { z } from 'zod';
import { entryKind } from './kind.ts';
import { entryNameSchema } from './voided.ts';

/** "2026-03-01", or "2026-03-01T08:00" with optional seconds. */
const LOCAL = /^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d{1,3})?)?)?$/;
/** UTC with exactly three decimals, so that instants sort as text. */
const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/;

/** Whether this is a real instant written the one way that sorts as text: "2026-03-01T08:00:00.000Z". */
export function isInstant(text: string): boolean {
  if (!INSTANT.test(text)) return false;
  const milliseconds = Date.parse(text);
  return Number.isFinite(milliseconds) && new Date(milliseconds).toISOString() === text;
}

export const happenedSchema = z.strictObject({
  local: z.string().regex(LOCAL),
  zone: z.string().min(1).max(80),
  at: z.string().refine(isInstant, 'must be UTC with milliseconds, such as 2026-03-01T08:00:00.000Z'),
});

export const replacedSchema = z.strictObject({
  target: entryNameSchema,
  /** The kind of the target: a replacement never changes what kind of thing was recorded. */
  kind: z.string().min(1).max(80),
  /** Version of `data`. */
  v: z.int().min(1),
  happened: happenedSchema,
  /** The whole new content, checked by the store against the schema of `kind`. */
  data: z.unknown(),
  reason: z.string().regex(/\S/).max(2000),
});

export type Replaced = z.infer<typeof replacedSchema>;

/**
 * Puts new content in the place of another entry's. What was written first stays in the book; from here on
 * the new content counts. Its subjects are those of the old and of the new content together, which only the
 * store can look up; the store also does its work, so `subjects` and `fold` are empty here.
 */
export const replaced = entryKind<Replaced>({
  kind: 'replaced',
  version: 1,
  schema: replacedSchema,
  subjects: () => [],
  fold: () => [],
  line: (data) => `Corrected: ${data.reason}`,
});
