import type { DataOf } from '../../../src-shared/entries/all.ts';
import { GESTATION } from '../../../src-shared/label/not-if-breeding.ts';
import type { GroupDates } from '../../../src-shared/label/not-if-facts.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { KIN } from './holds.ts';

type Row = { subject: string; name: string; dates: string; until: string };
type Dates = DataOf<'group-set'>['dates'];

/**
 * The dates of every group that tells something about each subject: those it is in, and those that it, or a lot it
 * came out of, had been in when the dates began. A ewe that left the ram's group was with the ram all the same.
 * @param zone the holding's, in which the day it left is counted
 */
export function groupDatesOn(
  tx: Reader,
  subjects: readonly string[],
  zone: string,
): Map<string, GroupDates[]> {
  // CROSS JOIN keeps the order of the tables: from the animal to its groups, and not every group to its members.
  const rows = tx.all<Row>(
    `WITH RECURSIVE wanted(s) AS (SELECT value FROM json_each(?)), ${KIN}
     SELECT kin.subject, g.name, g.dates, max(min(kin.cut, m.until_at)) AS until
     FROM kin_once AS kin CROSS JOIN membership AS m ON m.member = kin.ancestor
     CROSS JOIN flock_group AS g ON g.id = substr(m.subject, 7)
     GROUP BY kin.subject, g.id ORDER BY kin.subject, g.name_key, g.id`,
    JSON.stringify(subjects),
  );
  const found = new Map<string, GroupDates[]>();
  for (const row of rows) {
    const dates = begunBy(JSON.parse(row.dates) as Dates, leftOn(row.until, zone));
    const list = found.get(row.subject) ?? [];
    list.push({ name: row.name, ...dates });
    found.set(row.subject, list);
  }
  return found;
}

function leftOn(until: string, zone: string): Day | undefined {
  return until.startsWith('9999-') ? undefined : dayOf(until as Instant, zone);
}

/** What had begun on the day it left the group; all dates of a group it is still in. */
function begunBy(dates: Dates, left: Day | undefined): Omit<GroupDates, 'name'> {
  const { ramIn, ramOut, lambingFrom, lambingTo, shorn } = dates as Record<string, Day | undefined>;
  const isBegun = (day: Day | undefined) => day !== undefined && (left === undefined || day <= left);
  const mated = ramIn ?? (lambingFrom === undefined ? ramOut : addDays(lambingFrom, -GESTATION.most));
  return {
    ...(isBegun(mated ?? lambingTo) ? { ramIn, ramOut, lambingFrom, lambingTo } : {}),
    ...(isBegun(shorn) ? { shorn } : {}),
  };
}
