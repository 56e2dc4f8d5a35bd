import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import type { DoseCount } from '../../../src-shared/stock/fillings.ts';
import { addDays, type Day, daysBetween } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';

/** So far back use is looked at: a year of seasons (practice). */
const BACK_DAYS = 365;
/** Known for less than this, use says nothing yet (practice). */
const LEAST_DAYS = 28;

export type PastUse = {
  days: number;
  routes: { route: string; doses: DoseCount[] }[];
  /** What was made up from it, in base units. */
  madeInto: number;
  /** Days on which it was used. */
  occasions: number;
};

/**
 * What was used of a medicine besides planned work: treatments outside sessions and courses, out of the farm's own
 * containers, and what was made up from it. Nothing while the book knows the medicine for less than four weeks.
 * Doses of a vaccine are all work that falls due, so besides it there are none.
 */
export function pastUseOf(tx: Reader, medicine: string, terms: LabelTerms, today: Day): PastUse | undefined {
  const firsts = [
    tx.get<{ local: string | null }>(
      'SELECT min(local) AS local FROM administration WHERE medicine = ?',
      medicine,
    ),
    tx.get<{ local: string | null }>(
      `SELECT min(m.local) AS local FROM movement AS m JOIN container AS c ON c.subject = m.subject
       WHERE c.medicine = ?`,
      medicine,
    ),
  ];
  const [first] = firsts.flatMap((row) => row?.local ?? []).sort();
  if (first === undefined) return undefined;
  const back = addDays(today, -BACK_DAYS);
  const since = first.slice(0, 10) > back ? (first.slice(0, 10) as Day) : back;
  const days = daysBetween(since, today);
  if (days < LEAST_DAYS) return undefined;
  const rows =
    terms.purpose === 'vaccine'
      ? []
      : tx.all<{ day: string; route: string; units: number; heads: number }>(
          `SELECT substr(local, 1, 10) AS day, route, total / heads AS units, heads FROM administration
           WHERE medicine = ? AND kind = ? AND session IS NULL AND local >= ? AND local < ?
             AND data ->> '$.source.kind' = 'ours' AND data ->> '$.course' IS NULL ORDER BY route, units`,
          medicine,
          terms.kind,
          since,
          today,
        );
  const made = tx.all<{ day: string; units: number }>(
    `SELECT substr(m.local, 1, 10) AS day, sum(m.units) AS units
     FROM movement AS m JOIN container AS c ON c.subject = m.subject
     WHERE c.medicine = ? AND c.kind = ? AND m.cause = 'used-to-make' AND m.local >= ? AND m.local < ? GROUP BY 1`,
    medicine,
    terms.kind,
    since,
    today,
  );
  const byRoute = Map.groupBy(rows, ({ route }) => route);
  return {
    days,
    routes: [...byRoute].map(([route, all]) => ({
      route,
      doses: counted(all),
    })),
    madeInto: made.reduce((sum, { units }) => sum - units, 0),
    occasions: new Set([...rows, ...made].map(({ day }) => day)).size,
  };
}

/** Doses of one size together. */
function counted(rows: readonly DoseCount[]): DoseCount[] {
  const sizes = new Map<number, number>();
  for (const { units, heads } of rows) sizes.set(units, (sizes.get(units) ?? 0) + heads);
  return [...sizes].map(([units, heads]) => ({ units, heads }));
}
