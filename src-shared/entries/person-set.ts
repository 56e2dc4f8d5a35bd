import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, nameSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

export const ROLES = ['owner', 'keeper', 'shepherd', 'clerk', 'vet', 'contractor', 'supplier'] as const;

/** A person or firm the book names: who treats, who keeps, the vet, a supplier. */
export const personSet = entryKind({
  kind: 'person-set',
  version: 1,
  schema: z.strictObject({
    person: idSchema,
    name: nameSchema,
    roles: z.array(z.enum(ROLES)).min(1).max(7),
    address: z.string().trim().max(400).optional(),
    phone: z.string().max(60).optional(),
    email: z.string().max(120).optional(),
    /** Registration or approval number, where the law asks for one. */
    registration: z.string().max(60).optional(),
    active: z.boolean().default(true),
  }),
  subjects: (data) => [subjectOf('person', data.person)],
  fold: (entry) => [recordRow('person', entry.data.person, entry.data.name, entry)],
  line: (data) => `Person: ${data.name} (${data.roles.join(', ')})`,
});
