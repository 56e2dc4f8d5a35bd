import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { addDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Context } from '../context.ts';
import { onlyHolding } from '../reading/holding.ts';
import { PRESENT } from '../reading/holds.ts';
import { shownOf, subjectsOf } from '../reading/subjects.ts';

type MarkRow = { subject: string; colour: string; place: string; lasts_until: string };

/**
 * Answers `marks-fading`: the newest mark of each colour and place on whoever is there, where it can be expected to
 * fade within so many days or has. One that faded longer than 30 days ago is nobody's news any more.
 */
export function marksFading(context: Context, { days }: Asked<'marks-fading'>): Reply<'marks-fading'> {
  const tx = context.store.read;
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const today = dayOf(parseInstant(context.now(), 'clock'), zone);
  const rows = tx.all<MarkRow>(
    `WITH present(s) AS (${PRESENT})
     SELECT mark.subject, colour, place, max(lasts_until) AS lasts_until
     FROM present JOIN mark ON mark.subject = present.s WHERE lasts_until IS NOT NULL
     GROUP BY mark.subject, colour, place HAVING max(lasts_until) BETWEEN ? AND ? ORDER BY 4, 1`,
    addDays(today, -30),
    addDays(today, days),
  );
  const shown = new Map(
    subjectsOf(tx, [...new Set(rows.map((row) => row.subject))]).map((row) => [row.subject, row] as const),
  );
  return {
    marks: rows.flatMap(({ subject, colour, place, lasts_until: lastsUntil }) => {
      const row = shown.get(subject);
      if (row === undefined) return [];
      const isPast = lastsUntil < today;
      const day = printDay(lastsUntil as Day);
      return [
        {
          ...shownOf(row),
          colour,
          place,
          lastsUntil,
          isPast,
          text: isPast
            ? `${row.shown}: the ${colour} mark on the ${place} could be read until about ${day}. Mark again, or give them tags.`
            : `${row.shown}: the ${colour} mark on the ${place} may fade by ${day}. Mark again, or give them tags.`,
        },
      ];
    }),
  };
}
