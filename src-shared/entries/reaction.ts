import { z } from 'zod';
import { entryKind } from './kind.ts';
import { idSchema, nameSchema, subjectSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** A reaction, one that is only suspected, or a medicine that did not do what it was given for. */
export const REACTIONS = ['reaction', 'suspected', 'no-effect'] as const;
export const OUTCOMES = [
  'well-again',
  'getting-better',
  'not-better',
  'died',
  'killed',
  'not-known',
] as const;

/** What came of one treatment that should not have, or did not come and should have. */
export const reaction = entryKind({
  kind: 'reaction',
  version: 1,
  schema: z.strictObject({
    reaction: idSchema,
    administration: idSchema,
    subject: subjectSchema,
    medicine: idSchema,
    /** Name and batch as they stood in the treatment. */
    product: nameSchema,
    batch: z.string().max(200),
    what: z.enum(REACTIONS),
    /** How many of the heads treated, where it was a lot. */
    heads: z.number().int().min(1).max(1_000_000).optional(),
    /** In the words of whoever saw it. */
    seen: textSchema,
    outcome: z.enum(OUTCOMES),
    /** What was done for it. */
    done: textSchema.optional(),
    /** Who was told: vet, maker, authority. */
    told: z.string().trim().max(400).optional(),
  }),
  subjects: (data) => [data.subject],
  fold: (entry) => [recordRow('reaction', entry.data.reaction, entry.data.product, entry)],
  line: (data) =>
    data.what === 'no-effect'
      ? `No effect of ${data.product}: ${data.seen}`
      : `${data.what === 'suspected' ? 'Suspected reaction' : 'Reaction'} to ${data.product}: ${data.seen}`,
});
