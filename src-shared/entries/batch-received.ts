import { z } from 'zod';
import { printExpiry } from '../stock/use-by.ts';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, daySchema, idSchema, localSchema, textSchema, unitsOf } from './parts.ts';
import { containerRow, movementRow, stoodRow } from './stock-rows.ts';

/** A delivery of one batch: number, expiry, the revision in its box, and its containers. */
export const batchReceived = entryKind({
  kind: 'batch-received',
  version: 1,
  schema: z.strictObject({
    batch: idSchema,
    medicine: idSchema,
    revision: idSchema,
    number: z.string().trim().min(1).max(40),
    /** As printed, by month or by day, and the last day it may be used unopened. */
    expiry: z.strictObject({ printed: z.string().max(20), lastDay: daySchema }),
    supplier: z.string().trim().max(120).optional(),
    supplierAddress: z.string().trim().max(400).optional(),
    price: z.strictObject({ minorUnits: z.number().int().min(0), currency: z.string().length(3) }).optional(),
    prescription: idSchema.optional(),
    /** The line of an order list that it came on. */
    order: z.strictObject({ order: idSchema, line: idSchema }).optional(),
    /** Invoice or delivery note number; the paper itself by content hash. */
    proof: z.strictObject({ text: textSchema, attachment: z.string().length(64).optional() }).optional(),
    store: z.string().trim().max(80).optional(),
    containers: z
      .array(
        z.strictObject({
          container: idSchema,
          label: z.string().trim().min(1).max(40),
          amount: amountSchema,
          /** Of its pack code, where that carries one. */
          serial: z.string().min(1).max(20).optional(),
          /** First instant, as local time, at which it may no longer be used: the day after its last. */
          unusableFrom: localSchema,
        }),
      )
      .min(1)
      .max(500),
  }),
  subjects: (data) => [
    subjectOf('batch', data.batch),
    ...data.containers.map((item) => subjectOf('container', item.container)),
  ],
  fold(entry, subject, read) {
    const { data } = entry;
    if (subject === subjectOf('batch', data.batch)) {
      return [
        {
          op: 'put',
          table: 'batch',
          row: {
            id: data.batch,
            medicine: data.medicine,
            revision: data.revision,
            number: data.number,
            expiry: data.expiry.lastDay,
            received: entry.happened.local,
            seq: entry.seq,
            data: JSON.stringify(data),
          },
        },
      ];
    }
    const item = data.containers.find((each) => subjectOf('container', each.container) === subject);
    if (!item) return [];
    return [
      containerRow(
        {
          id: item.container,
          label: item.label,
          batch: data.batch,
          medicine: data.medicine,
          revision: data.revision,
          kind: item.amount.kind,
          received: unitsOf(item.amount),
          unusableFrom: item.unusableFrom,
          store: data.store ?? null,
          strength: null,
          batchText: null,
        },
        read,
      ),
      movementRow(entry, 0, 'received', unitsOf(item.amount)),
      stoodRow(entry, data.store),
    ];
  },
  line: (data) =>
    `Received batch ${data.number}, ${data.containers.length} ${data.containers.length === 1 ? 'container' : 'containers'}, use by ${printExpiry(data.expiry)}`,
});
