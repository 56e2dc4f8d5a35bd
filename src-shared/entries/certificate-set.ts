import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { daySchema, idSchema, nameSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Whose rules a certificate stands for. `other`: a scheme whose rules the program does not know. */
export const CERTIFICATE_RULES = ['eu-organic', 'us-organic', 'other'] as const;

/** A certificate of a holding, of an animal or of a lot, and the days it is valid. */
export const certificateSet = entryKind({
  kind: 'certificate-set',
  version: 1,
  schema: z.strictObject({
    certificate: idSchema,
    /** "holding:ID", "animal:ID" or "lot:ID". */
    of: z.string().regex(/^(holding|animal|lot):.{1,60}$/),
    rules: z.enum(CERTIFICATE_RULES),
    name: nameSchema,
    number: z.string().trim().min(1).max(60).optional(),
    from: daySchema,
    /** The last day on which it is valid. */
    until: daySchema.optional(),
  }),
  subjects: (data) => [subjectOf('certificate', data.certificate)],
  fold: (entry) => [recordRow('certificate', entry.data.certificate, entry.data.of, entry)],
  line: (data) => `Certificate ${data.name}${data.number === undefined ? '' : ` ${data.number}`}`,
});
