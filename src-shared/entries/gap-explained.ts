import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { textSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/**
 * Why something is missing in the book that cannot be filled in any more: an invoice that was lost, an entry that was
 * written late. The gap stays a gap; its explanation stands beside it.
 */
export const gapExplained = entryKind({
  kind: 'gap-explained',
  version: 1,
  schema: z.strictObject({
    /** The entry and the item, as `gapKey` names them. */
    gap: z.string().min(1).max(160),
    says: textSchema,
  }),
  subjects: (data) => [subjectOf('gap', data.gap)],
  fold: (entry) => [recordRow('gap-said', entry.data.gap, entry.data.says.slice(0, 120), entry)],
  line: (data) => `Gap explained: ${data.says}`,
});
