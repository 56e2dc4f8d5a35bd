import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, textSchema } from './parts.ts';

/** A declaration is never deleted; it is cancelled, and the paper stays as it was. */
export const declarationCancelled = entryKind({
  kind: 'declaration-cancelled',
  version: 1,
  schema: z.strictObject({ declaration: idSchema, why: textSchema }),
  subjects: (data) => [subjectOf('declaration', data.declaration)],
  fold: (entry) => [
    { op: 'change', table: 'declaration', key: { id: entry.data.declaration }, set: { state: 'cancelled' } },
  ],
  line: (data) => `Declaration cancelled: ${data.why}`,
});
