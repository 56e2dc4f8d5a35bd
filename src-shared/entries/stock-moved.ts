import { z } from 'zod';
import { DIFFERENCES } from '../stock/differences.ts';
import { entryKind, subjectOf } from './kind.ts';
import { amountSchema, idSchema, textSchema, unitsOf } from './parts.ts';
import { containerOf, leftSoFar, moveStock, stoodRow } from './stock-rows.ts';

/** Anything that happens to a container besides a dose: loss, disposal, return, a count, quarantine and its end, another store. */
export const stockMoved = entryKind({
  kind: 'stock-moved',
  version: 1,
  schema: z.strictObject({
    container: idSchema,
    cause: z.enum(['lost', 'disposed', 'returned', 'counted', 'quarantined', 'released', 'carried']),
    /** What left, or for a count what is there. Quarantine, release and another store change no amount. */
    amount: amountSchema.optional(),
    /** dead space, priming, spill, leak, broken, found at count … */
    why: textSchema.optional(),
    /** Why a count differs from the book; absent where it does not, or nobody was asked. */
    difference: z.enum(DIFFERENCES).optional(),
    how: textSchema.optional(),
    where: textSchema.optional(),
    /** Carried: the store it stands in from then on. */
    store: z.string().trim().min(1).max(80).optional(),
  }),
  subjects: (data) => [subjectOf('container', data.container)],
  fold(entry, _subject, read) {
    const { cause, amount, why, how, where } = entry.data;
    const row = containerOf(read);
    const key = { id: entry.data.container };
    if (cause === 'carried') {
      const store = entry.data.store ?? null;
      // Written for a time before the delivery, it says nothing of where the delivery was put.
      if (!row) return [];
      return [stoodRow(entry, store ?? undefined), { op: 'change', table: 'container', key, set: { store } }];
    }
    // What happened before the delivery was entered still moves stock; only the state waits for a row to be in.
    if (!row && (cause === 'quarantined' || cause === 'released')) return [];
    if (cause === 'quarantined')
      return [{ op: 'change', table: 'container', key, set: { state: 'quarantined' } }];
    if (cause === 'released') {
      return [
        { op: 'change', table: 'container', key, set: { state: row?.opened == null ? 'sealed' : 'open' } },
      ];
    }
    const units = amount ? unitsOf(amount) : 0;
    const note = [why, how, where].filter((part) => part !== undefined).join('; ') || null;
    if (cause === 'counted') {
      const delta = units - leftSoFar(read);
      return moveStock(
        entry,
        read,
        [{ cause, units: delta, more: { note, difference: entry.data.difference ?? null } }],
        {
          counted: entry.happened.local,
        },
      );
    }
    const gone = cause === 'lost' ? {} : units >= leftSoFar(read) ? { state: cause } : {};
    return moveStock(entry, read, [{ cause, units: -units, more: { note } }], gone);
  },
  line: (data) =>
    `${data.cause}${data.store === undefined ? '' : ` to ${data.store}`}${data.why ? `: ${data.why}` : ''}`,
});
