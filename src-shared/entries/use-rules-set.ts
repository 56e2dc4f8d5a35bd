import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { recordRow } from './record-row.ts';

const kilograms = z.string().regex(/^\d{1,3}(\.\d{1,3})?$/);

const count = z.number().int().min(0).max(1_000_000);

/** By which weights and heads use is counted, and after how many days the same reason again is a repeat. */
export const useRulesSet = entryKind({
  kind: 'use-rules-set',
  version: 1,
  schema: z.strictObject({
    /** Standard weight of a living and of a slaughtered sheep, kg. */
    livingKg: kilograms,
    slaughteredKg: kilograms,
    repeatDays: z.number().int().min(1).max(365),
    /** The farm's own numbers, where it does not count by the book: each newest year first, one of each holding. */
    heads: z
      .array(
        z.strictObject({
          holding: z.string(),
          year: z.number().int().min(1900).max(2200),
          living: count.optional(),
          slaughtered: count.optional(),
        }),
      )
      .max(1000)
      .optional(),
  }),
  subjects: () => [subjectOf('use-rules', 'this')],
  fold: (entry) => [recordRow('use-rules', 'this', 'use', entry)],
  line: ({ livingKg, slaughteredKg, repeatDays, heads = [] }) =>
    [
      `Use is counted by ${livingKg} kg a living and ${slaughteredKg} kg a slaughtered sheep; a repeat within ${repeatDays} d`,
      ...heads.map(
        ({ year, living, slaughtered }) =>
          `${year}: ${living ?? 'as the book counts'} living, ${slaughtered ?? 'as the book counts'} slaughtered`,
      ),
    ].join('; '),
});
