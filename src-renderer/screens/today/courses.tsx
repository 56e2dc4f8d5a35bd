import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { OpenCourses } from '../treat/courses-open.tsx';

type Due = Reply<'vaccines-due'>['due'][number];

/** So many lines stand on Today; the others are in the list of who is covered. */
const most = 8;
const margins: Readonly<Record<Due['kind'], string>> = {
  late: 'Late',
  dose: 'Due',
  booster: 'Before long',
  lapsed: 'Lapsed',
};

/** Courses that are under way, and doses of vaccines that are due, late or lapsed. Nothing when there is none. */
export function Courses({ today }: { today: string }) {
  const open = useCall('courses', {});
  const due = useCall('vaccines-due', {});
  const isNothing =
    open.state === 'ready' && due.state === 'ready' && open.value.courses.length + due.value.due.length === 0;
  if (isNothing || (open.state === 'loading' && due.state === 'loading')) return null;
  return (
    <Section title="Courses and vaccines">
      <Await call={open} what="Looking for open courses">
        {() => (
          <Await call={due} what="Counting who is covered">
            {({ due: all }) => (
              <Sentences label="Courses and vaccines">
                <OpenCourses today={today} />
                {all.slice(0, most).map((one) => (
                  <DueLine key={one.key} due={one} today={today} />
                ))}
                {all.length <= most ? null : (
                  <Sentence
                    margin="More"
                    deed={<DeedLink to="flock/vaccines">See who is covered by what</DeedLink>}
                  >
                    {all.length - most} more are due or lapsed.
                  </Sentence>
                )}
              </Sentences>
            )}
          </Await>
        )}
      </Await>
    </Section>
  );
}

function DueLine({ due, today }: { due: Due; today: string }) {
  // A plan is of today: before the first day it would leave out everybody.
  const isToWait = due.mayFrom !== undefined && due.mayFrom > today;
  return (
    <Sentence
      mind={due.kind === 'late' || due.kind === 'lapsed'}
      margin={isToWait ? 'Soon' : margins[due.kind]}
      small={due.small}
      deed={
        <>
          {isToWait ? null : (
            <DeedLink to="treat/plan" query={{ due: due.key }}>
              Plan it
            </DeedLink>
          )}
          <DeedLink
            to="flock/vaccines"
            query={{
              medicine: due.medicine,
              ...(due.group === undefined ? {} : { group: due.group.group }),
            }}
          >
            See who
          </DeedLink>
        </>
      }
    >
      {due.text}
    </Sentence>
  );
}
