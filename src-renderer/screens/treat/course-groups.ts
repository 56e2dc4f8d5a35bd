import type { Reply } from '../../../src-shared/calls/all.ts';

export type Course = Reply<'courses'>['courses'][number];

/** Open courses of one medicine that stand at the same dose and wait for the same day. */
export type CourseGroup = {
  /** Names it in an address. */
  key: string;
  courses: Course[];
  name: string;
  medicine: string;
  doseLine: string;
  /** The dose that comes next, and of how many; beyond `of` when all were given. */
  n: number;
  of: number;
  /** The day or time it is planned for; undefined when all were given. */
  next: string | undefined;
};

/** Open courses put together, those due first in front; what only waits to be closed comes last. */
export function courseGroups(courses: readonly Course[]): CourseGroup[] {
  const groups = new Map<string, CourseGroup>();
  for (const course of courses) {
    const n = course.given.length + 1;
    const of = course.planned.length;
    const next = course.planned[course.given.length];
    const key = [course.medicine, course.doseLine, n, of, next ?? 'all'].join('/');
    const group = groups.get(key);
    if (group) group.courses.push(course);
    else {
      const { name, medicine, doseLine } = course;
      groups.set(key, { key, courses: [course], name, medicine, doseLine, n, of, next });
    }
  }
  return [...groups.values()].toSorted((a, b) => (a.next ?? '9').localeCompare(b.next ?? '9'));
}
