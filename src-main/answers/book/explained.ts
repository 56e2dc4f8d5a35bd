import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { BookLine } from '../../../src-shared/record/columns.ts';
import { gapKey } from '../../../src-shared/record/gaps.ts';
import { ITEM_IDS, itemOf } from '../../../src-shared/record/items.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { personName } from '../reading/holding.ts';

export type Explained = { says: string; by: string; on: string };

/** What was said of gaps that cannot be filled in any more, by the key of the gap. */
export function explanationsOf(tx: Reader): ReadonlyMap<string, Explained> {
  const rows = tx.all<{ id: string; data: string; at: string; by: string }>(
    `SELECT record.id, record.data, record.at, journal.line ->> '$.by' AS by FROM record
     JOIN journal ON journal.seq = record.seq WHERE record.what = 'gap-said'`,
  );
  return new Map(
    rows.map(({ id, data, at, by }) => [
      id,
      { says: (JSON.parse(data) as DataOf<'gap-explained'>).says, by: personName(tx, by), on: at },
    ]),
  );
}

/** What is printed beneath a line of what it does not say and why; nothing once it was filled in after all. */
export function explainedBeneath(
  line: BookLine,
  said: ReadonlyMap<string, Explained>,
  zone: string,
): string[] {
  if (said.size === 0 || line.state !== 'stands' || line.entry === '') return [];
  const words = (what: string, { says, by, on }: Explained) =>
    `${what} Explained by ${by} on ${printDay(dayOf(on as Instant, zone))}: ${says}`;
  const late = said.get(gapKey(line.entry, 'late'));
  return [
    ...ITEM_IDS.flatMap((id) => {
      const found = said.get(gapKey(line.entry, id));
      const { columns, missing } = itemOf(id);
      return found && columns.some((column) => line[column].trim() === '')
        ? [words(`Missing: ${missing}.`, found)]
        : [];
    }),
    ...(late === undefined ? [] : [words('Why it was written late.', late)]),
  ];
}
