import { CHOSEN_PROFILES } from '../entries/record-rules-set.ts';
import { ITEM_IDS } from '../record/items.ts';
import { PROFILE_IDS } from '../record/profiles.ts';
import { entryName } from './book.ts';
import { daySchema, done, idSchema, longText, reading, writing, z } from './call.ts';
import { workId } from './work.ts';

const itemId = z.enum(ITEM_IDS);
const act = z.enum(['purchase', 'administration', 'disposal']);
const profile = z.strictObject({
  id: z.enum(PROFILE_IDS),
  name: z.string(),
  citation: z.string(),
  /** How far what it asks was confirmed: read, second-hand, practice. */
  confirmed: z.string(),
  notes: z.array(z.string()),
  keptYears: z.number().int(),
  withinHours: z.number().int().optional(),
});
const assurance = z.strictObject({
  items: z.array(itemId).max(60),
  own: z.array(z.string().trim().min(1).max(200)).max(30),
});

/** Something that a profile of the holding asks for and the book does not say. */
export const bookGap = z.strictObject({
  gap: z.string(),
  act,
  item: z.string(),
  /** "12 Mar 2026, Calverol drench, batch B4, Ewe 12: the supplier is not named." */
  text: z.string(),
  missing: z.string(),
  asked: z.array(z.string()),
  happened: z.string(),
  entry: entryName,
  /** The one step that mends it: which screen, and what it is about. */
  mend: z.strictObject({
    how: z.enum(['complete', 'correct', 'label', 'person', 'session', 'explain']),
    deed: z.string(),
    administration: idSchema.optional(),
    medicine: idSchema.optional(),
    person: idSchema.optional(),
    session: idSchema.optional(),
  }),
  explained: z.strictObject({ says: z.string(), by: z.string(), on: z.string() }).optional(),
});

export const recordCalls = {
  'record-rules': reading(
    'By what the book of a holding is kept: the profile of its law, its own assurance list, what each asks, how far confirmed.',
    z.strictObject({ holding: idSchema.optional() }),
    z.strictObject({
      holding: idSchema,
      law: z.string(),
      byLaw: z.enum(PROFILE_IDS),
      chosen: z.enum(CHOSEN_PROFILES).optional(),
      assurance: assurance.optional(),
      /** What the assurance list begins with. */
      usual: assurance,
      profiles: z.array(profile.extend({ items: z.array(itemId) })),
      items: z.array(z.strictObject({ item: itemId, act, name: z.string() })),
      /** Until when what happens today is kept at least. */
      keptUntil: daySchema,
    }),
  ),
  'set-record-rules': writing(
    'Chooses by what the book of a holding is kept, and edits its assurance list. Changes nothing that is written.',
    { holding: idSchema, profile: z.enum(CHOSEN_PROFILES).optional(), assurance: assurance.optional() },
    done,
  ),
  'book-gaps': reading(
    'What the profiles of a holding ask for and the book does not say, each with the step that mends it.',
    z.strictObject({
      holding: idSchema.optional(),
      from: daySchema.optional(),
      to: daySchema.optional(),
      limit: z.number().int().min(0).max(2000).default(500),
      work: workId.optional(),
    }),
    z.strictObject({
      profiles: z.array(profile),
      /** Newest first; those that are explained come last. */
      gaps: z.array(bookGap),
      open: z.number().int(),
      explained: z.number().int(),
      /** How many records were looked at. */
      looked: z.strictObject({
        purchase: z.number().int(),
        administration: z.number().int(),
        disposal: z.number().int(),
      }),
      keptUntil: daySchema,
    }),
  ),
  'explain-gap': writing(
    'Says why something is missing that cannot be filled in any more; the gap stays, with its explanation.',
    { gap: z.string().min(1).max(160), says: longText },
    done,
  ),
  'entry-to-complete': reading(
    'An entry with what it does not say yet: what may be filled in without changing anything that was decided.',
    z.strictObject({ entry: entryName }),
    z.strictObject({
      kind: z.string(),
      text: z.string(),
      blanks: z.array(
        z.enum(['supplier', 'supplierAddress', 'proof', 'how', 'where', 'batch', 'expiry', 'prescription']),
      ),
      /** Suppliers that were written before, to choose from. */
      suppliers: z.array(z.strictObject({ supplier: z.string(), supplierAddress: z.string() })),
      /** Prescriptions and orders for this medicine, as they may be named with it. */
      prescriptions: z.array(z.strictObject({ value: z.string(), label: z.string() })),
    }),
  ),
  'complete-entry': writing(
    'Fills in what an entry did not say: supplier, proof, how and where it was disposed of, batch, prescription. What it says already stays.',
    {
      entry: entryName,
      supplier: z.string().trim().min(1).max(120).optional(),
      supplierAddress: z.string().trim().min(1).max(400).optional(),
      proof: z.string().trim().min(1).max(400).optional(),
      how: z.string().trim().min(1).max(400).optional(),
      where: z.string().trim().min(1).max(400).optional(),
      batch: z.string().trim().min(1).max(40).optional(),
      expiry: z.string().trim().min(1).max(20).optional(),
      /** "prescription:ID" or "instruction:ID". */
      prescription: z
        .string()
        .regex(/^(prescription|instruction):.{1,60}$/)
        .optional(),
      reason: longText,
    },
    z.strictObject({ filled: z.array(z.string()) }),
  ),
};
