import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { nameSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Who the book belongs to. There is one business in a book. */
export const businessSet = entryKind({
  kind: 'business-set',
  version: 1,
  schema: z.strictObject({
    name: nameSchema,
    address: textSchema,
    phone: z.string().max(60).optional(),
    email: z.string().max(120).optional(),
    /** A demonstration: every paper and screen says so and nothing can be declared from it. */
    demo: z.boolean().default(false),
  }),
  subjects: () => [subjectOf('business', 'this')],
  fold: (entry) => [recordRow('business', 'this', entry.data.name, entry)],
  line: (data) => `Business: ${data.name}`,
});
