import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, nameSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

export const EXPOSURES = ['injected', 'splashed', 'swallowed', 'breathed', 'skin', 'other'] as const;

/** A person came into contact with a medicine: for the doctor, the insurer and whoever treats that person next. */
export const exposure = entryKind({
  kind: 'exposure',
  version: 1,
  schema: z.strictObject({
    exposure: idSchema,
    /** The person, by name: not everybody who helps at the race is in the book. */
    who: nameSchema,
    how: z.enum(EXPOSURES),
    medicine: idSchema.optional(),
    /** The medicine's name as it stood, or what was said of it. */
    product: nameSchema,
    batch: z.string().trim().max(60).optional(),
    /** As far as it is known, in words: "about 0.5 mL", "a scratch". */
    amount: z.string().trim().max(120).optional(),
    /** On the body: "left thumb". */
    where: z.string().trim().max(200).optional(),
    /** What was done. */
    done: textSchema,
    /** Who was told: doctor, poison line, vet. */
    told: z.string().trim().max(400).optional(),
    session: idSchema.optional(),
  }),
  subjects: (data) => [subjectOf('exposure', data.exposure)],
  fold: (entry) => [recordRow('exposure', entry.data.exposure, entry.data.who, entry)],
  line: (data) => `${data.who} came into contact with ${data.product} (${data.how})`,
});
