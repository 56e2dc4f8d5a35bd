import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';

type Named = DataOf<'group-set'>['dates'];
type Dates = { [N in keyof Named]: Day | undefined };

/** The dates of one group. Refuses (`no-such-group`). */
export function groupDatesOf(tx: Reader, group: string): Dates {
  const row = tx.get<{ dates: string }>('SELECT dates FROM flock_group WHERE id = ?', group);
  if (!row) throw new Refusal('no-such-group', 'This group is not in the book.', { field: 'group' });
  return JSON.parse(row.dates) as Dates;
}

export type GroupOf = { group: string; name: string; dates: Dates };

/** The group each animal and lot is in; of several the first by name. */
export function groupBySubject(tx: Reader): Map<string, GroupOf> {
  const rows = tx.all<{ member: string; group: string; name: string; dates: string }>(
    `SELECT m.member, g.id AS "group", g.name, g.dates FROM flock_group AS g
     JOIN member AS m ON m.subject = 'group:' || g.id WHERE g.active = 1 ORDER BY g.name_key DESC, g.id`,
  );
  const read = new Map<string, GroupOf>();
  const found = new Map<string, GroupOf>();
  // The first by name comes last, and stays.
  for (const { member, group, name, dates } of rows) {
    const one = read.get(group) ?? { group, name, dates: JSON.parse(dates) as Dates };
    read.set(group, one);
    found.set(member, one);
  }
  return found;
}
