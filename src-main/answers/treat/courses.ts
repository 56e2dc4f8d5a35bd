import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Reader } from '../../store/store.ts';
import { recordsOf } from '../reading/holding.ts';
import { newestRevision } from '../reading/revision.ts';
import { shownOf, subjectsOf } from '../reading/subjects.ts';

/** The courses that are open, of one subject or of all, the one due longest first. */
export function openCourses(tx: Reader, subject?: string): Reply<'courses'>['courses'] {
  const open = recordsOf<DataOf<'course-set'>>(tx, 'course').filter(
    (course) => course.state === 'open' && (subject === undefined || course.subject === subject),
  );
  return open
    .flatMap((course) => {
      const [row] = subjectsOf(tx, [course.subject]);
      if (row === undefined) return [];
      const doses = tx.all<{ local: string }>(
        'SELECT local FROM course_dose WHERE subject = ? ORDER BY local, n',
        `course:${course.course}`,
      );
      return [
        {
          ...shownOf(row),
          course: course.course,
          medicine: course.medicine,
          name: newestRevision(tx, course.medicine).terms.name,
          doseLine: course.doseLine,
          planned: [...course.planned],
          given: doses.map((dose) => dose.local),
        },
      ];
    })
    .toSorted((a, b) => ((a.planned[a.given.length] ?? '') < (b.planned[b.given.length] ?? '') ? -1 : 1));
}
