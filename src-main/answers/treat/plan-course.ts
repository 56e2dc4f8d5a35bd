import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { DoseLine } from '../../../src-shared/label/terms.ts';
import { parsePeriod } from '../../../src-shared/quantity/period.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { instantOf, localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { recordsOf } from '../reading/holding.ts';

type Course = DataOf<'course-set'>;

/**
 * When the doses of a course follow that come after the one that is planned: those of the open course it goes on with,
 * else those that were said, else as the label repeats it, counted from the planned dose.
 * @param said local days of every dose of the course that begins, as a person planned it
 */
export function courseDays(tx: Reader, when: Happened, said: readonly string[] | undefined) {
  const open = Map.groupBy(
    recordsOf<Course>(tx, 'course').filter(({ state }) => state === 'open'),
    ({ subject }) => subject,
  );
  const given = (course: string) =>
    tx.all('SELECT 1 FROM course_dose WHERE subject = ?', `course:${course}`).length;
  return {
    /** @param turn which dose of the line this one is, where that is known of a vaccine */
    after(subject: string, medicine: string, line: DoseLine, turn: number | undefined): readonly string[] {
      const own = (open.get(subject) ?? []).filter(
        (course) => course.medicine === medicine && course.doseLine === line.id,
      );
      const [only, second] = own;
      // With more than one nobody knows which it goes on with: no day is planned by either.
      if (second !== undefined) return [];
      if (only !== undefined) return only.planned.toSorted().slice(given(only.course) + 1);
      if (said !== undefined) return said.toSorted().slice(1);
      return asRepeated(line, when, turn ?? 1);
    },
  };
}

/** The days by the label's own repeats; by the hour where it repeats within a day. */
function asRepeated({ repeats }: DoseLine, when: Happened, turn: number): string[] {
  if (repeats === undefined) return [];
  const { value, unit } = parsePeriod(repeats.due, 'due');
  const hours = unit === 'd' ? value * 24 : value;
  const left = Math.max(0, repeats.doses - turn);
  return Array.from({ length: left }, (_, n) => {
    const later = hours * (n + 1);
    if (later % 24 === 0) return addDays(when.local.slice(0, 10) as Day, later / 24);
    const start = Date.parse(instantOf(when.local, when.zone, 'start'));
    return localOf(parseInstant(new Date(start + later * 3_600_000).toISOString(), 'at'), when.zone);
  });
}
