import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { headsSchema, idSchema, subjectSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/**
 * Animals and lots moved from one holding of the farm to another, as a transfer paper said. Whatever holds them goes
 * along, because it is theirs and not the holding's. Heads of a lot that stays were split off first.
 */
export const holdingMoved = entryKind({
  kind: 'holding-moved',
  version: 1,
  schema: z.strictObject({
    move: idSchema,
    /** The transfer paper they moved by. */
    declaration: idSchema,
    from: idSchema,
    to: idSchema,
    moved: z
      .array(z.strictObject({ subject: subjectSchema, heads: headsSchema }))
      .min(1)
      .max(5000),
  }),
  subjects: (data) => [
    subjectOf('declaration', data.declaration),
    ...data.moved.map(({ subject }) => subject),
  ],
  fold(entry, subject) {
    const { declaration, to } = entry.data;
    if (subject === subjectOf('declaration', declaration)) {
      return [recordRow('holding-moved', entry.data.move, declaration, entry)];
    }
    const table = subject.startsWith('lot:') ? 'lot' : 'animal';
    const id = subject.slice(subject.indexOf(':') + 1);
    return [{ op: 'change', table, key: { id }, set: { holding: to } }];
  },
  line: ({ moved }) =>
    `${moved.reduce((sum, { heads }) => sum + heads, 0)} head moved to another holding of the farm`,
});
