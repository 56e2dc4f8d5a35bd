import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { laterLocal } from '../../../src-shared/time/local.ts';
import type { Reader } from '../../store/store.ts';
import { recordsOf } from '../reading/holding.ts';
import { newestRevision } from '../reading/revision.ts';
import { shownOf, subjectsOf } from '../reading/subjects.ts';
import type { Administered } from './core.ts';

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

type CourseOf = (
  subject: string,
  line: { medicine: string; doseLine?: string | undefined },
  local: string,
) => Administered['course'];

/**
 * The open course that a dose given in a session goes on with: the only one of this animal or lot by the same medicine
 * and dose line. With none, or more than one, the dose stands by itself.
 */
export function goingOn(tx: Reader): CourseOf {
  const open = new Map<string, DataOf<'course-set'>[]>();
  for (const course of recordsOf<DataOf<'course-set'>>(tx, 'course')) {
    if (course.state === 'open') open.set(course.subject, [...(open.get(course.subject) ?? []), course]);
  }
  return (subject, { medicine, doseLine }, local) => {
    const fits = open
      .get(subject)
      ?.filter((course) => course.medicine === medicine && course.doseLine === doseLine);
    const [only, second] = fits ?? [];
    return only === undefined || second !== undefined ? undefined : nextOf(tx, only, local);
  };
}

/** The place of the next dose in a course, held to its planned last one. */
export function nextOf(
  tx: Reader,
  { course, planned }: Pick<DataOf<'course-set'>, 'course' | 'planned'>,
  local: string,
): NonNullable<Administered['course']> {
  const given = tx.all('SELECT 1 FROM course_dose WHERE subject = ?', `course:${course}`).length;
  return {
    course,
    n: given + 1,
    of: Math.max(planned.length, given + 1),
    plannedLast: laterLocal(planned.at(-1) ?? local, local),
  };
}
