import type { ReactNode } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { Notice } from '../../parts/notice.tsx';
import { useLocation } from '../../router.tsx';
import { courseGroups } from './course-groups.ts';
import { emptyLine, type PlanValues, printAnimal } from './plan-values.ts';

/** What a plan begins with, and the name its unfinished form is kept under. */
export type PlanStarted = { key: string; values: Partial<PlanValues> };

/** Fills a plan with the animals and the medicine it was opened for: a group, doses that are due, open courses. */
export function PlanStart({ children }: { children: (start: PlanStarted) => ReactNode }) {
  const { group, due, courses } = useLocation().query;
  if (due !== undefined) return <FromDue due={due}>{children}</FromDue>;
  if (courses !== undefined) return <FromCourses wanted={courses}>{children}</FromCourses>;
  return children(
    // A plan that begins with a group is another unfinished form than the one begun with nobody chosen.
    group === undefined
      ? { key: 'treat/plan', values: {} }
      : { key: `treat/plan/${group}`, values: { groups: [group] } },
  );
}

type Subjects = readonly { subject: string; shown: string }[];

function started(key: string, of: Subjects, medicine: string, doseLine: string, name: string): PlanStarted {
  return {
    key: `treat/plan/${key}`,
    values: {
      name,
      lots: of.filter(({ subject }) => subject.startsWith('lot:')).map(({ subject }) => subject),
      animals: of
        .filter(({ subject }) => subject.startsWith('animal:'))
        .map(({ subject, shown }) => printAnimal(subject, shown)),
      lines: [JSON.stringify({ ...emptyLine, medicine, doseLine })],
    },
  };
}

function FromDue({ due, children }: { due: string; children: (start: PlanStarted) => ReactNode }) {
  const call = useCall('vaccines-due', {});
  return (
    <Await call={call} what="Looking for who is due">
      {({ due: all }) => {
        const one = all.find(({ key }) => key === due);
        if (one === undefined) return <NothingDue>{children({ key: 'treat/plan', values: {} })}</NothingDue>;
        const { group, doseLine = '', medicine, name } = one;
        const start = started(due, one.subjects, medicine, doseLine, name);
        return children(
          group?.whole === true
            ? { ...start, values: { ...start.values, groups: [group.group], animals: [], lots: [] } }
            : start,
        );
      }}
    </Await>
  );
}

function FromCourses({ wanted, children }: { wanted: string; children: (start: PlanStarted) => ReactNode }) {
  const call = useCall('courses', {});
  return (
    <Await call={call} what="Looking for open courses">
      {({ courses }) => {
        const one = courseGroups(courses).find(({ key }) => key === wanted);
        if (one === undefined) return <NothingDue>{children({ key: 'treat/plan', values: {} })}</NothingDue>;
        return children(started(wanted, one.courses, one.medicine, one.doseLine, one.name));
      }}
    </Await>
  );
}

function NothingDue({ children }: { children: ReactNode }) {
  return (
    <>
      <Notice>
        <p>What this plan was for is no longer due: it was done or written since.</p>
      </Notice>
      {children}
    </>
  );
}
