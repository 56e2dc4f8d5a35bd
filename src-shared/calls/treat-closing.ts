import { idSchema, longText, shownSubject, subjectSchema, warning, writing, z } from './call.ts';

/** The end of a session, and of what it left open. */
export const closingCalls = {
  'close-session': writing(
    'Closes by counting heads; what was planned and is not recorded leaves an animal held as possibly treated with it.',
    {
      session: idSchema,
      headsThrough: z.number().int().min(0).max(1_000_000),
      /** Planned animals known not to have come through. */
      notThrough: z.array(subjectSchema).max(50_000).default([]),
      /** Lines of which one surely got none, though they were planned for it; of a lot, its heads without a record. */
      gotNone: z
        .array(z.strictObject({ subject: subjectSchema, lines: z.array(idSchema).min(1).max(10) }))
        .max(50_000)
        .default([]),
      sharpsBack: z.number().int().min(0).optional(),
      note: longText.optional(),
    },
    z.strictObject({
      headsRecorded: z.number().int(),
      possibly: z.array(shownSubject.extend({ of: z.array(z.string()) })),
      /** The report that was opened because needles did not come back, and whom it holds. */
      needle: z.strictObject({ loss: idSchema, held: z.array(shownSubject), says: z.string() }).optional(),
      warnings: z.array(warning),
    }),
  ),
  'resolve-possible': writing(
    'An animal held as possibly treated: it was not, and how that is known. If it was, record the treatment with treat.',
    {
      hold: idSchema,
      subject: subjectSchema,
      how: z.enum(['not-treated', 'recorded-late', 'statement', 'finding', 'vet-word']),
      why: longText,
    },
    z.strictObject({ done: z.literal(true) }),
  ),
};
