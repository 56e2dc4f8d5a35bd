import { administered } from '../../../src-shared/entries/administered.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import type { Store } from '../../store/store.ts';
import type { Act } from '../context.ts';
import { revisionOf } from '../reading/revision.ts';
import { decideAnew, type GivenRow } from './decide-anew.ts';
import { othersThatDay } from './same-day.ts';

/**
 * Heads moved on a day on which they, or those they came to, were dosed again afterwards: what was written of that
 * second dose did not know of the first. It is corrected by an entry, so that the book holds them by both. Nothing is
 * written where the doses of the day together are within the label's.
 */
export function judgeMoved(
  store: Pick<Store, 'entry'>,
  act: Act,
  from: string,
  to: string,
  happened: Happened,
): void {
  const { tx } = act;
  const { at } = happened;
  const moved = [{ subject: to, parent: from, at }];
  const later = tx.all<GivenRow & { medicine: string; heads: number; revision: string }>(
    `WITH RECURSIVE heirs(s, since) AS (
       SELECT ?, ?
       UNION
       SELECT lineage.subject, lineage.at
       FROM heirs JOIN lineage ON lineage.parent = heirs.s AND lineage.at >= heirs.since
     )
     SELECT a.id, a.seq, a.subject, a.at, a.local, a.data, a.medicine, a.heads, a.revision
     FROM heirs CROSS JOIN administration AS a ON a.subject = heirs.s
     WHERE substr(a.local, 1, 10) = ? AND (length(a.local) = 10 OR a.at >= heirs.since)
     GROUP BY a.id ORDER BY a.at, a.seq`,
    to,
    at,
    happened.local.slice(0, 10),
  );
  for (const row of later) {
    const { id: administration, subject, medicine, heads, local } = row;
    const data = JSON.parse(row.data) as DataOf<'administered'>;
    const thatDay = othersThatDay(
      tx,
      { administration, subjects: [subject], medicine, heads, happened: { local, at: row.at } },
      moved,
    );
    const isKnown = JSON.stringify(thatDay) === JSON.stringify(data.thatDay ?? []);
    if (isKnown || data.deviations.some(({ code }) => code === 'over-label')) continue;
    const termsOf = (id: string) => revisionOf(tx, id).terms;
    const { holds, overLabel } = decideAnew(
      store,
      tx,
      { ...row, data: JSON.stringify({ ...data, thatDay }) },
      termsOf,
    );
    const entry = store.entry(row.seq);
    if (!overLabel || entry === undefined) continue;
    const piece = termsOf(row.revision).piece;
    const each = [...thatDay, data.dose].map((dose) =>
      printAmount(amountOf(dose.kind, unitsOf(dose)), piece),
    );
    const text = `${each.join(' and ')} on one day: heads came to it that had this medicine already`;
    act.add(
      'replaced',
      {
        target: { request: entry.request, n: entry.n },
        kind: administered.kind,
        v: administered.version,
        happened: entry.happened,
        data: { ...data, thatDay, deviations: [...data.deviations, { code: 'over-label', text }], holds },
        reason: 'Heads came to it on that day that had this medicine already',
      },
      { ...happened, at: act.now },
    );
  }
}
