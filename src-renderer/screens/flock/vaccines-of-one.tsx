import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { listed } from '../../parts/words.ts';
import { OpenCourses } from '../treat/courses-open.tsx';
import { type CoverRow, sayState } from './cover-words.ts';
import type { SubjectPage } from './words.ts';

/** What one animal or lot is covered by, and its open courses of any medicine. Nothing on a farm with neither. */
export function SubjectVaccines({ page }: { page: SubjectPage }) {
  const { subject, present } = page.who;
  const coverage = useCall('coverage', { subject });
  const courses = useCall('courses', { subject });
  const isNothing =
    coverage.state === 'ready' &&
    courses.state === 'ready' &&
    coverage.value.rows.length + courses.value.courses.length === 0;
  if (isNothing) return null;
  return (
    <Section title="Vaccines and courses">
      <Await call={courses} what="Looking for open courses">
        {() => (
          <Await call={coverage} what="Reading its vaccines">
            {({ rows, on }) => (
              <Sentences label="Vaccines and courses">
                <OpenCourses subject={subject} today={on} />
                {rows
                  .filter((row) => row.state !== 'not-started' || row.mixed)
                  .map((row) => (
                    <Vaccine key={row.medicine} row={row} isHere={present} />
                  ))}
                <NotBegun rows={rows} />
              </Sentences>
            )}
          </Await>
        )}
      </Await>
    </Section>
  );
}

function Vaccine({ row, isHere }: { row: CoverRow; isHere: boolean }) {
  const { subject, medicine, next, state } = row;
  return (
    <Sentence
      mind={state === 'late' || state === 'lapsed' || state === 'unknown'}
      margin={sayState(state)}
      small={row.text}
      deed={
        isHere && next !== undefined ? (
          <DeedLink to="treat/one" query={{ subject, medicine, doseLine: next.doseLine }}>
            Write the next dose
          </DeedLink>
        ) : undefined
      }
    >
      <strong>{row.name}</strong>
    </Sentence>
  );
}

/** Vaccines it never had, in one line: most of them are not meant for it. */
function NotBegun({ rows }: { rows: readonly CoverRow[] }) {
  const none = rows.filter((row) => row.state === 'not-started' && !row.mixed);
  if (none.length === 0) return null;
  const notes = none
    .map((row) => row.text.replace(/^No dose is on record\.\s*/, ''))
    .filter((text) => text !== '');
  return (
    <Sentence margin="Not begun" small={notes.length === 0 ? undefined : notes.join(' ')}>
      No dose on record of {listed(none.map((row) => row.name))}.
    </Sentence>
  );
}
