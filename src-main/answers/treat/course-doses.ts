import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { Reader, Store } from '../../store/store.ts';
import type { Act } from '../context.ts';
import { revisionOf } from '../reading/revision.ts';
import type { Administered } from './core.ts';
import { decideAnew, type GivenRow } from './decide-anew.ts';

/** The doses of a course that are in the book, in the order in which they were given. */
export function dosesOfCourse(tx: Reader, course: string): GivenRow[] {
  return tx.all<GivenRow>(
    `SELECT a.id, a.seq, a.subject, a.at, a.local, a.data FROM course_dose AS c
     JOIN administration AS a ON a.id = c.administration WHERE c.subject = ? ORDER BY a.at, a.seq`,
    `course:${course}`,
  );
}

/** Writes what holds each dose from here on, as its course is closed or opened again. */
export function decideDosesAnew(
  store: Pick<Store, 'entry'>,
  act: Act,
  doses: readonly GivenRow[],
  {
    turning,
    why,
    happened,
  }: { turning: { course: string; to: 'open' | 'closed' }; why: string; happened: Happened },
): { dose: GivenRow; data: Administered; holds: HoldDecision[] }[] {
  const { tx } = act;
  return doses.map((dose) => {
    const { holds } = decideAnew(store, tx, dose, (id) => revisionOf(tx, id).terms, turning);
    act.add(
      'reassessed',
      { source: `administration:${dose.id}`, subject: dose.subject, holds, why },
      happened,
    );
    return { dose, data: JSON.parse(dose.data) as Administered, holds };
  });
}

/** The end of a course is struck out: it is open again, and its doses hold to the last one planned. */
export function openCourseAgain(
  store: Pick<Store, 'entry'>,
  act: Act,
  { course, state }: DataOf<'course-set'>,
): void {
  if (state === 'open') return;
  const now = { ...act.happened(undefined), at: act.now };
  decideDosesAnew(store, act, dosesOfCourse(act.tx, course), {
    turning: { course, to: 'open' },
    why: 'The end of the course was struck out',
    happened: now,
  });
}
