import { ATTACHED_MIMES, attachedToSchema, PAPER_KINDS } from '../entries/attached.ts';
import { entryName } from './book.ts';
import { fileSchema, idSchema, longText, reading, writing, z } from './call.ts';

const shownAttachment = z.strictObject({
  attachment: idSchema,
  /** The entry that keeps it with this thing: what is struck out to take it off. */
  entry: entryName,
  to: attachedToSchema,
  hash: z.string(),
  mime: z.enum(ATTACHED_MIMES),
  bytes: z.number().int(),
  /** "412 kB". */
  sizeText: z.string(),
  name: z.string(),
  paper: z.enum(PAPER_KINDS),
  why: z.string().optional(),
  by: z.string(),
  /** When it was put there, local to the holding. */
  on: z.string(),
});

export const attachmentCalls = {
  attach: writing(
    'Keeps a paper or a photo in the book, with the thing it belongs to. PDF, JPEG, PNG or WebP, 10 MB at most.',
    { to: attachedToSchema, file: fileSchema, paper: z.enum(PAPER_KINDS), why: longText.optional() },
    z.strictObject({ attachment: idSchema, hash: z.string() }),
  ),
  attachments: reading(
    'The papers and photos kept with one thing or several, in the order they were put there.',
    z.strictObject({ of: z.array(attachedToSchema).min(1).max(200) }),
    z.strictObject({ attachments: z.array(shownAttachment) }),
  ),
  attachment: reading(
    'One paper or photo with its bytes.',
    z.strictObject({ attachment: idSchema }),
    z.strictObject({ ...shownAttachment.shape, base64: z.string() }),
  ),
};
