import type { Reply } from '../../../src-shared/calls/all.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { medicineName, termsReader } from '../reading/labels.ts';
import type { Move } from './moves.ts';
import type { UnitPrice } from './prices.ts';

type Unknown = Reply<'cost'>['unknown'];
type Sum = { name: string; batch: string; batchId: string | null; text: string };

/** What was taken from deliveries without a price. */
export function withoutPrice(
  tx: Reader,
  moves: readonly Move[],
  priceOf: (container: string) => UnitPrice | undefined,
): Unknown {
  const open = moves.filter(({ container }) => priceOf(container) === undefined);
  return sumsOf(tx, open).map(({ name, batch, batchId, text }) => ({
    kind: 'no-price' as const,
    text: `${name}${batch}: ${text} left ${batchId === null ? 'a bottle made up of what has no price' : 'bottles without a price'}.`,
    ...optional('batch', batchId ?? undefined),
  }));
}

/** Found at a count to have been given and not written down: it went into somebody, and nobody knows whom. */
export function notWritten(tx: Reader, moves: readonly Move[]): Unknown {
  const open = moves.filter(({ cause, difference }) => cause === 'counted' && difference === 'not-written');
  return sumsOf(tx, open).map(({ name, batch, text }) => ({
    kind: 'not-written' as const,
    text: `${name}${batch}: ${text} were given and not written down, so they are in no sum.`,
  }));
}

function sumsOf(tx: Reader, moves: readonly Move[]): Sum[] {
  const termsOf = termsReader(tx);
  const sums = new Map<string, { move: Move; units: number }>();
  for (const move of moves) {
    const key = JSON.stringify([move.medicine, move.batchId ?? move.batch, move.kind]);
    const so = sums.get(key);
    if (so) so.units += move.units;
    else sums.set(key, { move, units: move.units });
  }
  return [...sums.values()]
    .filter(({ units }) => units > 0)
    .map(({ move, units }) => ({
      name: medicineName(tx, move.medicine),
      batch: move.batch === null ? '' : `, batch ${move.batch}`,
      batchId: move.batchId,
      text: printAmount(amountOf(move.kind, units), termsOf(move.revision)?.piece),
    }));
}

/** What others brought stands on their bill. */
export function fromOthers(tx: Reader, from: string, to: string): Unknown {
  return tx
    .all<{ medicine: string; heads: number }>(
      `SELECT medicine, sum(heads) AS heads FROM administration
       WHERE data ->> '$.source.kind' IN ('vet', 'contractor') AND substr(local, 1, 10) BETWEEN ? AND ?
       GROUP BY medicine ORDER BY medicine`,
      from,
      to,
    )
    .map(({ medicine, heads }) => ({
      kind: 'on-a-bill' as const,
      text: `${medicineName(tx, medicine)}: ${heads} head had it from the bottle of the vet or a contractor; its price is on their bill.`,
    }));
}
