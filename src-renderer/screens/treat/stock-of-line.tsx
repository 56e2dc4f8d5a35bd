import type { Reply } from '../../../src-shared/calls/all.ts';
import { Notice } from '../../parts/notice.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

/** What the plan of many heads says of its stock; of one animal it is said with its course. */
export const SAID_OF_STOCK: ReadonlySet<string> = new Set(['course-short', 'priming-not-measured']);

type Line = Reply<'plan-session'>['lines'][number];

/** ": 100 mL from B4-1, use by 28 May 2026; then 46.8 mL from B4-2, use by 31 Mar 2027". */
export function sayBottles(draws: Line['draws']): string {
  if (draws.length === 0) return '';
  return `: ${draws.map((draw) => `${draw.take.text} from ${draw.label}, use by ${draw.useBy}`).join('; then ')}`;
}

/** What is lost besides the doses, and whether the whole course is there. Nothing where neither has anything to say. */
export function StockOfLine({ line }: { line: Line }) {
  const { withLosses, course, name } = line;
  if (withLosses === undefined && course === undefined) return null;
  return (
    <>
      {withLosses?.short === undefined || line.short !== undefined ? null : (
        <Notice kind="mind" word="Just enough">
          <p>
            {name} is enough for the animals alone, but <strong>{withLosses.short.text} short</strong> of what
            is lost as well: have another bottle at hand.
          </p>
        </Notice>
      )}
      <Sentences label={`What is taken of ${name}`}>
        {withLosses === undefined ? null : (
          <Sentence
            margin="Losses"
            small={withLosses.working.map((step) => <span key={step.code}>{step.text}. </span>)}
          >
            {withLosses.says}.
          </Sentence>
        )}
        {course === undefined ? null : <Course course={course} />}
      </Sentences>
    </>
  );
}

function Course({ course }: { course: NonNullable<Line['course']> }) {
  return (
    <Sentence
      margin="Course"
      mind={course.noneFrom !== undefined}
      small={
        <details>
          <summary>Day by day</summary>
          <ul>
            {course.days.map((day) => (
              <li key={day.local}>
                {day.on}: {day.needs.text}
                {sayBottles(day.draws)}
                {day.short === undefined ? '' : `; ${day.short.text} is missing`}.
              </li>
            ))}
          </ul>
        </details>
      }
    >
      {course.says}.
    </Sentence>
  );
}
