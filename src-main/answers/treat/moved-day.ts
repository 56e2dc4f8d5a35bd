import { administered } from '../../../src-shared/entries/administered.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { isOffLabelCode } from '../../../src-shared/withdrawal/off-label-deviations.ts';
import type { Reader, Store } from '../../store/store.ts';
import type { Act } from '../context.ts';
import { revisionOf } from '../reading/revision.ts';
import { decideAnew, type GivenRow } from './decide-anew.ts';
import type { Moved } from './doses-before.ts';
import { labelDeviations } from './outside-label.ts';
import { othersThatDay } from './same-day.ts';

type Administered = DataOf<'administered'>;
type Deviation = Administered['deviations'][number];
type Later = GivenRow & { medicine: string; heads: number; revision: string };

/**
 * Heads moved, and they or those they came to were dosed again afterwards: what was written of that dose did not know of
 * what the heads had had. Where it is too much for one day with that, or sooner or oftener than the label repeats it, it
 * is corrected by an entry, so that the book holds them by both. Otherwise nothing is written.
 */
export function judgeMoved(
  store: Pick<Store, 'entry'>,
  act: Act,
  from: string,
  to: string,
  happened: Happened,
): void {
  const { tx } = act;
  const moved = [{ subject: to, parent: from, at: happened.at }];
  const day = happened.local.slice(0, 10);
  for (const row of dosedAfter(tx, to, happened.at, day)) {
    const data = JSON.parse(row.data) as Administered;
    const { terms } = revisionOf(tx, row.revision);
    const isSameDay = row.local.slice(0, 10) === day;
    const thatDay = isSameDay ? othersThatDay(tx, doseOf(row), moved) : (data.thatDay ?? []);
    const anew = { ...data, ...(thatDay.length === 0 ? {} : { thatDay }) };
    const more = [
      ...repeatsWith(tx, terms, row, data, moved),
      ...(isSameDay ? overWith(store, tx, row, anew, data, terms) : []),
    ].filter(({ code }) => isOffLabelCode(code) && !data.deviations.some((known) => known.code === code));
    const entry = store.entry(row.seq);
    if (more.length === 0 || entry === undefined) continue;
    const { holds } = anewWith(store, tx, row, anew, moved);
    act.add(
      'replaced',
      {
        target: { request: entry.request, n: entry.n },
        kind: administered.kind,
        v: administered.version,
        happened: entry.happened,
        data: { ...anew, deviations: [...data.deviations, ...more], holds },
        reason: 'Heads came to it that had this medicine already',
      },
      { ...happened, at: act.now },
    );
  }
}

/** What they and whoever came out of them were given since, and on that very day without a time. */
function dosedAfter(tx: Reader, to: string, at: string, day: string): Later[] {
  return tx.all<Later>(
    `WITH RECURSIVE heirs(s, since) AS (
       SELECT ?, ?
       UNION
       SELECT lineage.subject, lineage.at
       FROM heirs JOIN lineage ON lineage.parent = heirs.s AND lineage.at >= heirs.since
     )
     SELECT a.id, a.seq, a.subject, a.at, a.local, a.data, a.medicine, a.heads, a.revision
     FROM heirs CROSS JOIN administration AS a ON a.subject = heirs.s
     WHERE a.at >= heirs.since OR a.local = ?
     GROUP BY a.id ORDER BY a.at, a.seq`,
    to,
    at,
    day,
  );
}

function doseOf({ id: administration, subject, medicine, heads, local, at }: Later) {
  return { administration, subjects: [subject], medicine, heads, happened: { local, at } };
}

/** How it departs from the repeats of its line with what the heads had had, and not without. */
function repeatsWith(
  tx: Reader,
  terms: LabelTerms,
  row: Later,
  { doseLine, route }: Administered,
  moved: readonly Moved[],
): Deviation[] {
  const line = terms.doseLines.find(({ id }) => id === doseLine);
  if (line?.repeats === undefined) return [];
  const departs = { ...doseOf(row), route };
  const without = labelDeviations(tx, terms, line, departs);
  return labelDeviations(tx, terms, line, { ...departs, moved }).filter(
    ({ code }) => !without.some((known) => known.code === code),
  );
}

/** Whether the doses of its day, with those the heads brought, are over the label's. */
function overWith(
  store: Pick<Store, 'entry'>,
  tx: Reader,
  row: Later,
  anew: Administered,
  { thatDay = [] }: Administered,
  { piece }: LabelTerms,
): Deviation[] {
  const others = anew.thatDay ?? [];
  if (JSON.stringify(others) === JSON.stringify(thatDay)) return [];
  if (!anewWith(store, tx, row, anew).overLabel) return [];
  const each = [...others, anew.dose].map((dose) => printAmount(amountOf(dose.kind, unitsOf(dose)), piece));
  const text = `${each.join(' and ')} on one day: heads came to it that had this medicine already`;
  return [{ code: 'over-label', text }];
}

function anewWith(
  store: Pick<Store, 'entry'>,
  tx: Reader,
  row: Later,
  anew: Administered,
  moved?: readonly Moved[],
) {
  const termsOf = (id: string) => revisionOf(tx, id).terms;
  return decideAnew(store, tx, { ...row, data: JSON.stringify(anew) }, termsOf, undefined, moved);
}
