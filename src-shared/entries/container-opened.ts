import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, localSchema } from './parts.ts';
import { containerOf } from './stock-rows.ts';

/** The container was broached; from now on the earlier of its expiry and its in-use life governs. */
export const containerOpened = entryKind({
  kind: 'container-opened',
  version: 1,
  schema: z.strictObject({
    container: idSchema,
    /** The label's in-use life at that time ("28 d"), or nothing when the label is silent. */
    inUse: z.string().optional(),
    /** First local time at which it may no longer be used. */
    unusableFrom: localSchema,
  }),
  subjects: (data) => [subjectOf('container', data.container)],
  fold(entry, _subject, read) {
    const row = containerOf(read);
    if (!row) return [];
    return [
      {
        op: 'change',
        table: 'container',
        key: { id: entry.data.container },
        set: {
          state: row.state === 'sealed' ? 'open' : (row.state ?? 'open'),
          opened: entry.happened.local,
          unusable_from: entry.data.unusableFrom,
        },
      },
    ];
  },
  line: (data) => `Opened; not to be used from ${data.unusableFrom.replace('T', ' ')}`,
});
