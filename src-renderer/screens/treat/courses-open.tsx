import { useRef, useState } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Question } from '../../parts/question.tsx';
import { Sentence } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { type CourseGroup, courseGroups } from './course-groups.ts';
import { printDayOf, printWhen } from './words.ts';

/** So many are named; the others are counted. */
const named = 5;

/** Open courses as sentences, of one animal or of all: which dose comes when, to be given or closed. */
export function OpenCourses({ subject, today }: { subject?: string; today: string }) {
  const call = useCall('courses', subject === undefined ? {} : { subject });
  if (call.state !== 'ready') return null;
  return courseGroups(call.value.courses).map((group) => (
    <OneGroup key={group.key} group={group} today={today} isNamed={subject === undefined} />
  ));
}

function OneGroup({ group, today, isNamed }: { group: CourseGroup; today: string; isNamed: boolean }) {
  const [isClosing, setClosing] = useState(false);
  const { courses, name, n, of, next } = group;
  const [only, second] = courses;
  const isLate = next !== undefined && next.slice(0, 10) < today;
  const heads = courses.reduce((sum, course) => sum + course.heads, 0);
  const last = only?.given.at(-1);
  return (
    <Sentence
      mind={isLate}
      margin={
        next === undefined ? 'All given' : isLate ? 'Late' : next.slice(0, 10) === today ? 'Today' : 'Course'
      }
      small={
        second !== undefined
          ? namesOf(group)
          : last === undefined
            ? undefined
            : `The last dose was on ${printWhen(last)}. Until the course is closed, withdrawal counts from the last dose planned.`
      }
      deed={
        <>
          {next === undefined ? null : <GiveNext group={group} />}
          <Deed onDo={() => setClosing(true)}>
            {second === undefined ? 'Close the course' : 'Close these courses'}
          </Deed>
          {isClosing ? <Closing group={group} onEnd={() => setClosing(false)} /> : null}
        </>
      }
    >
      {!isNamed ? null : second === undefined ? (
        <>
          <strong>{only?.shown}</strong>:{' '}
        </>
      ) : (
        <>
          <strong>{count(heads, 'head', 'head')}</strong>:{' '}
        </>
      )}
      {next === undefined
        ? `${isNamed ? 'all' : 'All'} ${of} doses of ${name} are given, and the course is still open.`
        : `${isNamed ? 'dose' : 'Dose'} ${n} of ${of} of ${name} ${isLate ? 'was' : 'is'} planned for ${printWhen(next)}.`}
    </Sentence>
  );
}

function namesOf({ courses }: CourseGroup): string {
  const more = courses.length - named;
  const said = courses.slice(0, named).map((course) => course.shown);
  return `${said.join('; ')}${more > 0 ? `; and ${more.toLocaleString('en-GB')} more` : ''}.`;
}

function GiveNext({ group: { courses, medicine, doseLine, key } }: { group: CourseGroup }) {
  const [only, second] = courses;
  if (only === undefined) return null;
  if (second !== undefined) {
    return (
      <DeedLink to="treat/plan" query={{ courses: key }}>
        Plan it
      </DeedLink>
    );
  }
  return (
    <DeedLink to="treat/one" query={{ subject: only.subject, medicine, doseLine, course: only.course }}>
      Write the next dose
    </DeedLink>
  );
}

/** Ends courses: finished, or given up. From here on the hold counts from the last dose that was given. */
function Closing({ group, onEnd }: { group: CourseGroup; onEnd: () => void }) {
  const { courses, name, next } = group;
  const [first] = courses;
  const form = useForm(`treat/course/${first?.course ?? ''}`, {
    state: next === undefined ? 'finished' : '',
    why: next === undefined ? 'All doses were given' : '',
  });
  const { state, why } = form.values;
  const how = state === 'finished' || state === 'abandoned' ? state : undefined;
  // One after another: each is a line of its own in the book, and what fails leaves the others as they are.
  const waiting = useRef<string[]>([]);
  const step = () => {
    const course = waiting.current.shift();
    if (course === undefined || how === undefined) return void form.drop().then(onEnd);
    return void write.send({ course, state: how, why });
  };
  const write = useWrite('close-course', () => step());
  const send = () => {
    const problems = [
      ...(how === undefined ? [{ field: 'state', message: 'Choose how the course ends.' }] : []),
      ...(why.trim() === '' ? [{ field: 'why', message: 'Write why it ends.' }] : []),
    ];
    if (problems.length > 0) return form.show(problems);
    waiting.current = courses.map(({ course }) => course);
    step();
  };
  return (
    <Question
      title={
        courses.length === 1 ? `Close the course of ${name}` : `Close ${courses.length} courses of ${name}`
      }
      onNo={onEnd}
      deeds={<Deed onDo={onEnd}>Leave {courses.length === 1 ? 'it' : 'them'} open</Deed>}
    >
      <Form form={form} write={write} deed={courses.length === 1 ? 'Close it' : 'Close them'} onSend={send}>
        <Choice
          {...form.text('state')}
          label="How it ends"
          options={[
            { value: 'finished', label: 'Finished', hint: 'it had what it was to have' },
            { value: 'abandoned', label: 'Given up', hint: 'no more of it is given' },
          ]}
        />
        <Field {...form.text('why')} label="Why" size={36} lines={2} />
        <p className="hint">
          Withdrawal then counts from the last dose given
          {first?.given.at(-1) === undefined ? '' : `, ${printDayOf(first.given.at(-1) ?? '')}`}, and no
          longer from the last one planned.
        </p>
      </Form>
    </Question>
  );
}
