import { useEffect, useRef, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { go, useLocation } from '../../router.tsx';
import { sayLocal } from '../flock/words.ts';

type Page = Reply<'organic-courses'>;
type Row = Page['courses'][number];

/**
 * Which treatments count as organic courses, of one animal or lot or of one treatment, with the deed that leaves one
 * out; and everything that was left out, with its reason and the deed that takes it back.
 */
export default function OrganicScreen() {
  const { query } = useLocation();
  const { subject, administration } = query;
  const call = useCall('organic-courses', {
    ...(subject === undefined ? {} : { subject }),
    ...(administration === undefined ? {} : { administration }),
  });
  return (
    <Screen
      title="Organic courses"
      lead="What counts against an organic animal, and what was left out because a compulsory scheme asked for it. The dates until when it is held stay as they are."
      deeds={<DeedLink to="farm/certificates">Certificates</DeedLink>}
    >
      <Await call={call} what="Reading the courses">
        {(page) => (
          <>
            {subject === undefined && administration === undefined ? null : (
              <Counted page={page} isOne={administration !== undefined} />
            )}
            <Section title="Of which animal or lot">
              <SubjectPicker
                name="subject"
                label="Tag or lot"
                hint="Its treatments of 12 months, and what counts of them."
                onPick={(row) => go({ to: 'farm/organic', query: { subject: row.subject } })}
              />
            </Section>
            <Excepted page={page} />
          </>
        )}
      </Await>
    </Screen>
  );
}

function Counted({ page, isOne }: { page: Page; isOne: boolean }) {
  const { of, courses } = page;
  const [first] = courses;
  const [asked, setAsked] = useState(isOne ? first?.administration : undefined);
  const who = of?.shown ?? first?.shown;
  const mayLeaveOut = of?.rules !== 'us-organic';
  const asking = courses.find((row) => row.administration === asked && row.counts && mayLeaveOut);
  return (
    <>
      <Section title={isOne ? 'This treatment' : who === undefined ? 'In 12 months' : `${who}, in 12 months`}>
        {of === undefined ? (
          <Notice word="Not organic">
            <p>
              No certificate with known rules covers it today, so no course counts against it now. What is
              left out here is left out once one does.
            </p>
          </Notice>
        ) : (
          <p>
            <strong>{of.shown}</strong>: {of.text}
          </p>
        )}
        {mayLeaveOut ? null : (
          <p className="hint">
            By the rules of the United States an antibiotic ends it outright, and nothing is left out of that.
          </p>
        )}
        {courses.length === 0 ? (
          <Empty>Nothing was given to it in 12 months by the book.</Empty>
        ) : (
          <Sentences label="Treatments">
            {courses.map((row) => (
              <Course
                key={row.administration}
                row={row}
                onLeaveOut={mayLeaveOut && row !== asking ? () => setAsked(row.administration) : undefined}
              />
            ))}
          </Sentences>
        )}
      </Section>
      {asking === undefined ? null : (
        <LeaveOut key={asking.administration} row={asking} onLeave={() => setAsked(undefined)} />
      )}
    </>
  );
}

function Course({ row, onLeaveOut }: { row: Row; onLeaveOut: (() => void) | undefined }) {
  if (row.excepted !== undefined) return <LeftOut row={row} />;
  return (
    <Sentence
      margin={row.counts ? 'Counts' : 'Not counted'}
      small={row.why === undefined ? undefined : `${row.why.slice(0, 1).toUpperCase()}${row.why.slice(1)}.`}
      deed={
        row.counts && onLeaveOut !== undefined ? (
          <Deed onDo={onLeaveOut}>A compulsory scheme asked for it</Deed>
        ) : undefined
      }
    >
      {sayRow(row)}
    </Sentence>
  );
}

const sayRow = (row: Row) => (
  <>
    <strong>{row.product}</strong> into {row.shown}, {sayLocal(row.local)} ({row.reason}).
  </>
);

function LeaveOut({ row, onLeave }: { row: Row; onLeave: () => void }) {
  const form = useForm(`farm/organic/${row.administration}`, { why: '' });
  const write = useWrite('except-from-organic', () => {
    void form.drop().then(onLeave);
  });
  const why = form.values.why.trim();
  const part = useRef<HTMLDivElement>(null);
  const { isReady } = form;
  useEffect(() => {
    if (isReady) part.current?.querySelector('textarea')?.focus();
  }, [isReady]);
  return (
    <Section title={`Leave out ${row.product}, ${sayLocal(row.local)}`}>
      <Form
        form={form}
        write={write}
        deed="Leave it out of the courses"
        onLeave={onLeave}
        onSend={() => {
          if (why === '') form.show([{ field: 'why', message: 'Say which scheme asked for it.' }]);
          else void write.send({ administration: row.administration, why });
        }}
      >
        <div ref={part}>
          <Field
            {...form.text('why')}
            label="Which scheme asked for it"
            hint="Its name, and the paper that says so. Whoever certifies you reads this."
            lines={2}
          />
        </div>
      </Form>
    </Section>
  );
}

/** One that was left out, with who wrote it and the way back. */
function LeftOut({ row }: { row: Row }) {
  const { excepted } = row;
  if (excepted === undefined) return null;
  const { request, n } = excepted.entry;
  return (
    <Sentence
      margin="Left out"
      small={`${excepted.why} (${excepted.by}, ${excepted.on})`}
      deed={
        <>
          <DeedLink to="book/treatment/:administration" params={{ administration: row.administration }}>
            Open the treatment
          </DeedLink>
          <DeedLink
            to="book/strike"
            query={{
              request,
              n: String(n),
              kind: 'organic-excepted',
              what: `${row.product} into ${row.shown}, ${sayLocal(row.local)}, left out of the organic courses: ${excepted.why}`,
            }}
          >
            Count it after all
          </DeedLink>
        </>
      }
    >
      {sayRow(row)}
    </Sentence>
  );
}

/** What was left out elsewhere: what stands above is not said twice. */
function Excepted({ page: { excepted, courses } }: { page: Page }) {
  const above = new Set(courses.map((row) => row.administration));
  const rows = excepted.filter((row) => !above.has(row.administration));
  if (rows.length === 0 && excepted.length > 0) return null;
  return (
    <Section title={above.size === 0 ? 'Left out of the courses' : 'Others left out of the courses'}>
      {rows.length === 0 ? (
        <Empty>
          Nothing is left out. A treatment that a compulsory scheme asked for is left out from its own page.
        </Empty>
      ) : (
        <Sentences label="Left out of the courses">
          {rows.map((row) => (
            <LeftOut key={row.administration} row={row} />
          ))}
        </Sentences>
      )}
    </Section>
  );
}
