import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** What was looked at before starting: the checks that are ticked, all of them each time. Who and when are the entry's. */
export const sessionChecked = entryKind({
  kind: 'session-checked',
  version: 1,
  schema: z.strictObject({
    session: idSchema,
    ticked: z.array(z.string().min(1).max(40)).max(40),
    /** Those that were asked for by then and are not ticked. */
    open: z.array(z.string().min(1).max(40)).max(40),
  }),
  subjects: (data) => [subjectOf('session', data.session)],
  fold: (entry) => [recordRow('session-check', entry.data.session, entry.data.session, entry)],
  line: ({ ticked, open }) =>
    `Checks before starting: ${ticked.length} ticked${open.length === 0 ? '' : `, ${open.length} not`}`,
});
