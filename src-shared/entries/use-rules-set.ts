import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { recordRow } from './record-row.ts';

const kilograms = z.string().regex(/^\d{1,3}(\.\d{1,3})?$/);

/** By which weights use is counted, and after how many days the same reason again is a repeat. */
export const useRulesSet = entryKind({
  kind: 'use-rules-set',
  version: 1,
  schema: z.strictObject({
    /** Standard weight of a living and of a slaughtered sheep, kg. */
    livingKg: kilograms,
    slaughteredKg: kilograms,
    repeatDays: z.number().int().min(1).max(365),
  }),
  subjects: () => [subjectOf('use-rules', 'this')],
  fold: (entry) => [recordRow('use-rules', 'this', 'use', entry)],
  line: ({ livingKg, slaughteredKg, repeatDays }) =>
    `Use is counted by ${livingKg} kg a living and ${slaughteredKg} kg a slaughtered sheep; a repeat within ${repeatDays} d`,
});
