import { daySchema, idSchema, longText, nothing, reading, subjectSchema, writing, z } from './call.ts';

const visitRow = z.strictObject({
  visit: idSchema,
  vet: idSchema,
  vetName: z.string(),
  what: z.string(),
  found: z.string().optional(),
  day: daySchema,
  next: daySchema.optional(),
  entry: z.strictObject({ request: z.string(), n: z.number().int() }),
});
const span = {
  holding: idSchema.optional(),
  /** The first day; absent: the day of the last visit, or a year back. */
  since: daySchema.optional(),
  /** The last day; absent: today. */
  to: daySchema.optional(),
};
const seenRow = z.strictObject({
  reaction: idSchema,
  shown: z.string(),
  product: z.string(),
  local: z.string(),
  seen: z.string(),
  heads: z.number().int().optional(),
  outcome: z.string(),
});
const usedRow = z.strictObject({ group: z.string(), name: z.string(), text: z.string(), mg: z.string() });

export const vetPageCalls = {
  'vet-visits': reading(
    'Visits of the vet, newest first.',
    nothing,
    z.strictObject({ visits: z.array(visitRow) }),
  ),
  'record-vet-visit': writing(
    'The vet was here: what for, what was found, when to come again.',
    { vet: idSchema, what: longText, found: longText.optional(), next: daySchema.optional() },
    z.strictObject({ visit: idSchema }),
  ),
  'vet-page': reading(
    'What the vet wants to know since the last visit: what was given and why, what came again, reactions, what was not as the label says, antimicrobials, lapsed vaccines, instructions not in writing.',
    z.strictObject(span),
    z.strictObject({
      since: daySchema,
      to: daySchema,
      /** Why it begins there. */
      because: z.string(),
      repeatDays: z.number().int(),
      given: z.array(
        z.strictObject({
          medicine: idSchema,
          name: z.string(),
          reason: z.string(),
          treatments: z.number().int(),
          heads: z.number().int(),
          first: daySchema,
          last: daySchema,
          isAntimicrobial: z.boolean(),
        }),
      ),
      /** The same animal or lot for the same reason again within the days that count as a repeat. */
      again: z.array(
        z.strictObject({
          subject: subjectSchema,
          shown: z.string(),
          reason: z.string(),
          days: z.number().int(),
          times: z.array(z.strictObject({ administration: idSchema, day: daySchema, product: z.string() })),
        }),
      ),
      noEffect: z.array(seenRow),
      reactions: z.array(seenRow),
      /** By medicine and by what was otherwise; what lies outside the label first. */
      otherwise: z.array(
        z.strictObject({
          name: z.string(),
          code: z.string(),
          isOffLabel: z.boolean(),
          text: z.string(),
          treatments: z.number().int(),
          heads: z.number().int(),
          who: z.string(),
          /** One of them, to open. */
          administration: idSchema,
        }),
      ),
      antimicrobials: z.array(usedRow),
      missing: z.array(z.string()),
      /** How it is today, whatever the days above. */
      vaccines: z.array(z.strictObject({ key: z.string(), text: z.string() })),
      notInWriting: z.array(
        z.strictObject({ instruction: idSchema, what: z.string(), vetName: z.string(), day: daySchema }),
      ),
    }),
  ),
  'vet-page-paper': reading(
    'The vet’s page as a PDF.',
    z.strictObject({ ...span, paper: z.enum(['a4', 'letter']).optional() }),
    z.strictObject({ paper: z.string(), checkCode: z.string() }),
  ),
};
