import type { DataOf } from '../../../src-shared/entries/all.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import type { Amount } from '../../../src-shared/quantity/amount.ts';
import type { Draw } from './shelf.ts';

/**
 * Splits what left each bottle into what went in, what leaked back and what was lost: leak and loss are booked on the
 * last bottle, or on the one before where that gave less. The sum stays what was drawn.
 */
export function drawsData(
  draws: readonly Draw[],
  kind: Amount['kind'],
  givenUnits: number,
  gone: { lost: number | undefined; why: string | undefined; leaked: number },
): Extract<DataOf<'administered'>['source'], { kind: 'ours' }>['draws'] {
  let stillGiven = givenUnits;
  let stillIn = givenUnits - gone.leaked;
  return draws.map((draw) => {
    const drawnUp = Math.min(stillGiven, draw.take);
    stillGiven -= drawnUp;
    const into = Math.min(stillIn, drawnUp);
    stillIn -= into;
    const leaked = drawnUp - into;
    const lost = draw.take - drawnUp;
    return {
      container: draw.container,
      batch: draw.batch,
      revision: draw.revision,
      amount: amountData(kind, into),
      ...(leaked > 0 ? { leaked: amountData(kind, leaked) } : {}),
      ...(lost > 0 && gone.lost !== undefined
        ? { lost: amountData(kind, lost), lostWhy: gone.why ?? 'lost' }
        : {}),
    };
  });
}
