import { amountOf } from '../../../src-shared/quantity/amount.ts';
import type { UsedUp } from '../../../src-shared/stock/wastage.ts';
import type { Reader } from '../../store/store.ts';
import { countsOf } from './counts.ts';
import { stockRows } from './stock.ts';

/**
 * The containers of a medicine that were opened and are used up: what was in them, and what of that reached no animal.
 * Given, made into another, or given and not written down is not lost; all else is. Containers of which the book has
 * more going out than came in say nothing about losses, and are only counted.
 * @param thrownAway `left-out`: what was disposed of or returned is neither opened nor lost, for whoever reckons by
 * himself with containers that end before they are empty
 */
export function usedUpOf(
  tx: Reader,
  medicine: string,
  thrownAway: 'lost' | 'left-out' = 'lost',
): { usedUp: UsedUp[]; unclear: number } {
  const wastedByCounts = new Map<string, number>();
  for (const one of countsOf(tx, medicine)) {
    if (one.isWasted) continue;
    wastedByCounts.set(one.container, (wastedByCounts.get(one.container) ?? 0) - one.units);
  }
  const used = new Map(
    tx
      .all<{ subject: string; units: number }>(
        `SELECT m.subject, sum(m.units) AS units FROM movement AS m JOIN container AS c ON c.subject = m.subject
         WHERE c.medicine = ? AND m.cause IN ('drawn', 'used-to-make') GROUP BY m.subject`,
        medicine,
      )
      .map(({ subject, units }) => [subject, -units]),
  );
  const gone =
    thrownAway === 'lost'
      ? new Map<string, number>()
      : new Map(
          tx
            .all<{ subject: string; units: number }>(
              `SELECT m.subject, sum(m.units) AS units FROM movement AS m JOIN container AS c ON c.subject = m.subject
               WHERE c.medicine = ? AND m.cause IN ('disposed', 'returned') GROUP BY m.subject`,
              medicine,
            )
            .map(({ subject, units }) => [subject, -units]),
        );
  const usedUp: UsedUp[] = [];
  let unclear = 0;
  for (const row of stockRows(tx, medicine)) {
    const isGone = row.state === 'disposed' || row.state === 'returned';
    if (row.opened === null || (!isGone && row.left_units > 0)) continue;
    const useful = (used.get(`container:${row.id}`) ?? 0) + (wastedByCounts.get(row.id) ?? 0);
    const opened = row.received - (gone.get(`container:${row.id}`) ?? 0);
    const lost = opened - useful;
    if (lost < 0 || opened === 0) unclear += 1;
    else usedUp.push({ opened: amountOf(row.kind, opened), lost: amountOf(row.kind, lost) });
  }
  return { usedUp, unclear };
}
