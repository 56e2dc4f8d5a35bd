import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** What a paper or a photo can be kept with. */
export const ATTACHED_TO = [
  'medicine',
  'revision',
  'batch',
  'container',
  'prescription',
  'instruction',
  'subject',
  'declaration',
  'treatment',
  'storage',
] as const;

/** What kind of paper it is, as the farm would call it. */
export const PAPER_KINDS = [
  'insert',
  'prescription',
  'invoice',
  'statement',
  'instruction',
  'proof',
  'photo',
  'readings',
  'other',
] as const;

/** What a file can be, by its content. Nothing that a browser would run. */
export const ATTACHED_MIMES = [
  'application/pdf',
  'image/jpeg',
  'image/png',
  'image/webp',
  'text/csv',
] as const;

/** One thing a paper is kept with; a subject by its whole name, "animal:…" or "lot:…". */
export const attachedToSchema = z.strictObject({ what: z.enum(ATTACHED_TO), id: z.string().min(1).max(70) });

/** A paper or a photo that is kept with something. The bytes lie in the book by their SHA-256; this says of what they are. */
export const attached = entryKind({
  kind: 'attached',
  version: 1,
  schema: z.strictObject({
    attachment: idSchema,
    to: attachedToSchema,
    /** SHA-256 of the bytes, in lower-case hex. */
    hash: z.string().regex(/^[0-9a-f]{64}$/),
    mime: z.enum(ATTACHED_MIMES),
    bytes: z.number().int().min(1),
    /** The file's own name, only ever shown. */
    name: z.string().min(1).max(120),
    paper: z.enum(PAPER_KINDS),
    why: textSchema.optional(),
  }),
  subjects: (data) => [subjectOf('attachment', data.attachment)],
  // Found again by what it is kept with, so that is its name among the records.
  fold: (entry) => [
    recordRow('attachment', entry.data.attachment, `${entry.data.to.what}:${entry.data.to.id}`, entry),
  ],
  line: (data) => `Kept with the ${data.to.what}: ${data.name}`,
});
