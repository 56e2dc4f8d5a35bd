import { z } from 'zod';
import { entryKind } from './kind.ts';

/** The lasting name of an entry: the request that wrote it and its place in that request, counted from 1. */
export const entryNameSchema = z.strictObject({
  request: z.string().min(1).max(80),
  n: z.int().min(1),
});

export type EntryName = z.infer<typeof entryNameSchema>;

export const voidedSchema = z.strictObject({
  target: entryNameSchema,
  /** Why, in the words of the person who struck it out. */
  reason: z.string().regex(/\S/).max(2000),
});

export type Voided = z.infer<typeof voidedSchema>;

/**
 * Strikes out another entry: it stays in the book and can be read, and counts for nothing. Its subjects are
 * those of its target, which only the store can look up; the store also does its work, so `subjects` and
 * `fold` are empty here.
 */
export const voided = entryKind<Voided>({
  kind: 'voided',
  version: 1,
  schema: voidedSchema,
  subjects: () => [],
  fold: () => [],
  line: (data) => `Struck out: ${data.reason}`,
});
