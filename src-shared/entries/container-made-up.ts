import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, idSchema, localSchema, unitsOf } from './parts.ts';
import { containerRow, movementRow, moveStock, stoodRow } from './stock-rows.ts';

/** Powder or concentrate plus water became a container with a strength of its own. */
export const containerMadeUp = entryKind({
  kind: 'container-made-up',
  version: 1,
  schema: z.strictObject({
    container: idSchema,
    label: z.string().trim().min(1).max(40),
    medicine: idSchema,
    revision: idSchema,
    amount: amountSchema,
    strength: z.string().max(80),
    unusableFrom: localSchema,
    /** What stands in the record as its batch: the numbers it was made from, or what was written on it. */
    batch: z.string().trim().min(1).max(40).optional(),
    store: z.string().trim().max(80).optional(),
    from: z.array(z.strictObject({ container: idSchema, amount: amountSchema })).max(10),
  }),
  subjects: (data) => [
    subjectOf('container', data.container),
    ...data.from.map((item) => subjectOf('container', item.container)),
  ],
  fold(entry, subject, read) {
    const { data } = entry;
    if (subject === subjectOf('container', data.container)) {
      const received = unitsOf(data.amount);
      return [
        containerRow(
          {
            id: data.container,
            label: data.label,
            batch: null,
            medicine: data.medicine,
            revision: data.revision,
            kind: data.amount.kind,
            received,
            unusableFrom: data.unusableFrom,
            store: data.store ?? null,
            strength: data.strength,
            batchText: data.batch ?? null,
          },
          read,
        ),
        movementRow(entry, 0, 'made-up', received),
        stoodRow(entry, data.store),
      ];
    }
    const used = data.from.filter((item) => subjectOf('container', item.container) === subject);
    return moveStock(
      entry,
      read,
      used.map((item) => ({ cause: 'used-to-make' as const, units: -unitsOf(item.amount) })),
    );
  },
  line: (data) => `Made up ${data.label}, ${data.strength}`,
});
