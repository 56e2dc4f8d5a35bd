import { z } from 'zod';

/** To what the book is narrowed; nothing: all of it. */
export const bookFilter = z.strictObject({
  medicine: z.string().optional(),
  /** "animal:ID" or "lot:ID". */
  subject: z.string().optional(),
  group: z.string().optional(),
  batch: z.string().optional(),
  /** Who gave it, or who wrote it down. */
  person: z.string().optional(),
});
export type BookFilter = z.output<typeof bookFilter>;
