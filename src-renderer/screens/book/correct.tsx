import './book.css';
import { useEffect, useState } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type ListProps, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField, TimeField } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field, Select, Ticks } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Result, Working } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { go, useParams } from '../../router.tsx';
import { LEAKED_HINT } from '../treat/leaked-values.ts';
import { changesOf, valuesOf } from './correct-values.ts';
import { heldLabel } from './record.ts';
import { Told, useHeadingAgain } from './told.tsx';
import { localInWords } from './when.ts';

type Line = Reply<'treatment'>;
type Written = Reply<'correct-treatment'>;

/** A preview follows the typing at this distance, so that half a word is not refused aloud. */
const settleMs = 400;

/** Puts a treatment right: what really happened takes the place of what was written, and both stay. */
export default function CorrectScreen() {
  const { administration } = useParams('book/correct/:administration');
  const call = useCall('treatment', { administration });
  const [written, setWritten] = useState<Written | undefined>(undefined);
  return (
    <Screen
      title="Correct a treatment"
      lead="Change only what was wrong. What was written stays in the book, struck through, with your reason."
    >
      {written === undefined ? null : <WrittenNow written={written} />}
      <Await call={call} what="Opening the line">
        {(line) => (written !== undefined ? null : <CorrectForm line={line} onWritten={setWritten} />)}
      </Await>
    </Screen>
  );
}

function CorrectForm({ line, onWritten }: { line: Line; onWritten: (written: Written) => void }) {
  const [before] = useState(() => valuesOf(line));
  const { administration } = line;
  const form = useForm(`book/correct/${administration}`, before);
  const toLine = () => go({ to: 'book/treatment/:administration', params: { administration } });
  const write = useWrite('correct-treatment', (reply) => {
    void form.drop().then(() => onWritten(reply));
  });
  const now = line.versions.at(-1);
  const changes = changesOf(before, form.values);
  const isNothing = Object.keys(changes).length === 0;
  const send = () => {
    if (isNothing) return form.show([{ message: 'Nothing is changed yet.', next: 'Change what was wrong.' }]);
    if (form.values.reason.trim() === '') {
      return form.show([{ field: 'reason', message: 'Say why it is corrected.' }]);
    }
    void write.send({ administration, reason: form.values.reason.trim(), ...changes });
  };
  const isLot = form.values.subject.startsWith('lot:');
  return (
    <Form form={form} write={write} deed="Write the correction in the book" onLeave={toLine} onSend={send}>
      <p className="lead">
        {now?.product} into {now?.shown}, {localInWords(line.local)}.
      </p>
      <Section title="What really happened">
        <Whom line={line} subject={form.values.subject} onPick={(subject) => form.set({ subject })} />
        <DayField {...form.text('day')} label="Day it was given" />
        <TimeField {...form.text('time')} label="Time" optional />
        {line.weight === undefined && form.values.weight === '' ? null : (
          <Field
            {...form.text('weight')}
            label="Weight"
            size={12}
            hint="When only the weight was wrong, the dose is worked out again and you are asked whether it was given."
          />
        )}
        <Field
          {...form.text('given')}
          label={isLot ? 'Given to each head' : 'Given'}
          size={12}
          hint="What really went in, with its unit."
        />
        <Field
          {...form.text('leaked')}
          label="Leaked back"
          size={12}
          hint={`${LEAKED_HINT} 0 drops when nothing did after all.`}
          optional
        />
        {isLot ? <Field {...form.text('heads')} label="Head count" size={6} inputMode="numeric" /> : null}
        <Bottles line={line} field={form.list('containers')} />
        <Field {...form.text('why')} label="What it was given for" />
        <GivenBy field={form.text('givenBy')} />
        <Instructions line={line} field={form.text('instruction')} />
      </Section>
      <Section title="Why it is corrected">
        <Field {...form.text('reason')} label="Reason" lines={2} hint="It stands beside the struck line." />
      </Section>
      <Preview ask={isNothing ? null : { administration, ...changes }} />
    </Form>
  );
}

function GivenBy({ field }: { field: { value: string; onChange: (value: string) => void; name: string } }) {
  const farm = useCall('farm', {});
  if (farm.state !== 'ready') return null;
  // A firm that only supplies gives no medicine; but whoever stands there can be seen.
  const people = farm.value.people.filter(
    ({ person, roles }) => person === field.value || roles.some((role) => role !== 'supplier'),
  );
  if (people.length < 2) return null;
  return (
    <Select
      {...field}
      label="Given by"
      options={people.map((one) => ({ value: one.person, label: one.name }))}
    />
  );
}

/** The vet's word on it, also one that came after the treatment. */
function Instructions({
  line,
  field,
}: {
  line: Line;
  field: { value: string; onChange: (value: string) => void; name: string };
}) {
  const papers = useCall('papers', {});
  const { administration, subject, medicine } = line;
  const fits =
    papers.state === 'ready'
      ? papers.value.instructions.filter((one) => one.medicine === undefined || one.medicine === medicine)
      : [];
  const { outside, instruction: now } = line;
  if (fits.length === 0 && outside === undefined && now === undefined) return null;
  // One about another medicine is not offered, but while it stands there it can be seen and taken off.
  const isOther = now !== undefined && !fits.some((one) => one.instruction === now.instruction);
  return (
    <>
      <Select
        {...field}
        label="The vet’s instruction it follows"
        options={[
          { value: '', label: outside === undefined ? 'None' : 'None: then no time clears it' },
          ...(isOther ? [{ value: now.instruction, label: now.says }] : []),
          ...fits.map((one) => ({
            value: one.instruction,
            label: `${one.vetName}, ${one.given}: ${one.what.slice(0, 60)}`,
          })),
        ]}
        optional
      />
      <p className="deeds">
        <DeedLink
          to="farm/papers/instruction"
          query={{ subject, medicine, back: 'treatment', session: administration }}
        >
          Write down what the vet says
        </DeedLink>
      </p>
    </>
  );
}

function Whom({ line, subject, onPick }: { line: Line; subject: string; onPick: (subject: string) => void }) {
  const [picked, setPicked] = useState<string | undefined>(undefined);
  const now = line.versions.at(-1);
  return (
    <>
      <SubjectPicker
        label="Into whom"
        hint={
          subject === line.subject
            ? `${now?.shown}. Type another number and Enter if it was another animal.`
            : `${picked ?? 'Another animal'}, instead of ${now?.shown}.`
        }
        onPick={(one) => {
          setPicked(one.shown);
          onPick(one.subject);
        }}
      />
      {subject === line.subject ? null : (
        <p className="deeds form-deeds">
          <Deed onDo={() => onPick(line.subject)}>It was {now?.shown} after all</Deed>
        </p>
      )}
    </>
  );
}

function Bottles({ line, field }: { line: Line; field: ListProps }) {
  const cabinet = useCall(
    'cabinet',
    line.draws.length === 0 ? null : { medicine: line.medicine, show: 'all' },
  );
  if (line.draws.length === 0 || cabinet.state !== 'ready') return null;
  const { containers } = cabinet.value;
  if (containers.length < 2) return null;
  return (
    <Ticks
      {...field}
      label="From which containers"
      options={containers.map((one) => ({
        value: one.container,
        label: `${one.label}, batch ${one.batch}`,
        hint: `${one.left.text} left`,
      }))}
    />
  );
}

function useSettled<T>(value: T): T {
  const text = JSON.stringify(value);
  const [settled, setSettled] = useState(text);
  useEffect(() => {
    const timer = window.setTimeout(() => setSettled(text), settleMs);
    return () => window.clearTimeout(timer);
  }, [text]);
  return JSON.parse(settled) as T;
}

/** What the book would say: dose, stock, hold, what will be asked and who would have to be told. */
function Preview({ ask }: { ask: Ask<'preview-correction'> | null }) {
  const call = useCall('preview-correction', useSettled(ask));
  if (ask === null) return null;
  return (
    <Section title="The book then says">
      {call.state === 'failed' ? (
        <Notice kind="mind" word="Not yet">
          <p>{call.fault.message}</p>
          {call.fault.next === undefined ? null : <p>{call.fault.next}</p>}
        </Notice>
      ) : null}
      {call.state === 'loading' ? (
        <p className="awaited" role="status">
          Working it out…
        </p>
      ) : null}
      {call.state === 'ready' ? <Foreseen seen={call.value} /> : null}
    </Section>
  );
}

function Foreseen({ seen }: { seen: Reply<'preview-correction'> }) {
  return (
    <>
      <Sentences label="The book then says">
        <Sentence margin={heldLabel(seen.until, true)}>
          <span className="record-until">{seen.until === '' ? 'not held' : seen.until}</span>
        </Sentence>
        <Sentence margin="Given" small={<Working lines={seen.working} />}>
          {seen.heads > 1 ? `${seen.dose} a head, ${seen.quantity} in all,` : seen.dose} into {seen.shown}.
        </Sentence>
        {seen.questions.map((text) => (
          <Sentence key={text} mind margin="Will be asked">
            {text}
          </Sentence>
        ))}
        {seen.draws.map((draw) => (
          <Sentence
            key={`${draw.container} ${draw.amount} ${draw.lost ?? ''}`}
            margin="Stock"
            small={`Batch ${draw.batch}`}
          >
            {draw.amount} from <strong>{draw.label}</strong>, which then holds {draw.left}.
          </Sentence>
        ))}
        {seen.deviations.map((each) => (
          <Sentence key={each.code} mind margin="Deviation">
            {each.text}
          </Sentence>
        ))}
      </Sentences>
      <Told notices={seen.notices} />
    </>
  );
}

function WrittenNow({ written }: { written: Written }) {
  useHeadingAgain();
  const { administration } = written;
  return (
    <>
      <Notice
        kind="done"
        deed={
          <DeedLink to="book/treatment/:administration" params={{ administration }}>
            See the line
          </DeedLink>
        }
      >
        <p>The correction is in the book. The old line stays, struck through.</p>
      </Notice>
      <Result label={heldLabel(written.until, true)} big={written.until === '' ? 'not held' : written.until}>
        <p>The line now says {written.quantity}.</p>
      </Result>
      <Told notices={written.notices} />
      <p className="deeds">
        <DeedLink to="book">Back to the book</DeedLink>
      </p>
    </>
  );
}
