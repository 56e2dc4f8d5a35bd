import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { nameSchema, textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

const number = z.string().trim().min(1).max(120);
/** What is rung in an emergency, and what is told to whoever comes. */
export const emergencyNumbers = z.strictObject({
  /** The country's emergency call. */
  call: number.optional(),
  doctor: number.optional(),
  hospital: number.optional(),
  poison: number.optional(),
  /** How to find the farm: a grid reference, the gate. */
  place: z.string().trim().min(1).max(300).optional(),
});
export type EmergencyNumbers = z.infer<typeof emergencyNumbers>;

/** Who the book belongs to. There is one business in a book. */
export const businessSet = entryKind({
  kind: 'business-set',
  version: 1,
  schema: z.strictObject({
    name: nameSchema,
    address: textSchema,
    phone: z.string().max(60).optional(),
    email: z.string().max(120).optional(),
    emergency: emergencyNumbers.optional(),
    /** A demonstration: every paper and screen says so and nothing can be declared from it. */
    demo: z.boolean().default(false),
  }),
  subjects: () => [subjectOf('business', 'this')],
  fold: (entry) => [recordRow('business', 'this', entry.data.name, entry)],
  line: (data) => `Business: ${data.name}`,
});
