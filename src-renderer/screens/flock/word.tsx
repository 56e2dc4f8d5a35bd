import { useState } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, type ChoiceOption, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation, useParams } from '../../router.tsx';
import { DatedForm } from './word-dated.tsx';
import type { SubjectPage } from './words.ts';

type Wait = SubjectPage['waits'][number];

const statement = {
  value: 'statement',
  label: 'There is a statement that no withdrawal period runs',
  hint: 'from the seller or the earlier keeper, in writing or by word',
} as const;
const vetWord = {
  value: 'vet-word',
  label: 'The vet says it may go',
  hint: 'write which vet, and what was said',
} as const;
const notTreated = {
  value: 'not-treated',
  label: 'It was not treated',
  hint: 'and I can say how I know',
} as const;
const recordedLate = {
  value: 'recorded-late',
  label: 'It was treated, and the treatment is in the book by now',
  hint: 'its own hold counts then',
} as const;
const finding = { value: 'finding', label: 'It was found', hint: 'write what, where and by whom' } as const;

type Word = (
  | typeof statement
  | typeof vetWord
  | typeof notTreated
  | typeof recordedLate
  | typeof finding
)['value'];

/** What may end each kind of hold. A needle that was not found is never cleared by time or by a seller's word. */
function wordsFor(cause: string): readonly (ChoiceOption & { value: Word })[] {
  if (cause === 'bought-in') return [statement, vetWord];
  if (cause === 'possibly-treated') return [notTreated, recordedLate, vetWord];
  if (cause === 'broken-needle') return [finding];
  return [vetWord, statement];
}

/** Writes down whose word ends a hold that time alone does not end. */
export default function WordScreen() {
  const { subject, hold } = useParams('flock/subject/:subject/word/:hold');
  const { back = subject } = useLocation().query;
  const call = useCall('subject', { subject });
  return (
    <Await call={call} what="Opening the page">
      {(page) => {
        const wait = page.waits.find((one) => one.hold === hold);
        return (
          <Screen
            title={`End the hold on ${page.who.shown}`}
            lead="Whose word it is stands in the book with the reason and your name. What ends by it ends now, not on an earlier day."
          >
            {wait === undefined ? (
              <Empty
                deed={
                  <DeedLink to="flock/subject/:subject" params={{ subject: back }}>
                    Back to the page
                  </DeedLink>
                }
              >
                This hold waits for nothing any more.
              </Empty>
            ) : (
              <Words wait={wait} back={back} />
            )}
          </Screen>
        );
      }}
    </Await>
  );
}

/** The word ends it, or it gives it an end; one form at a time, so that Ctrl and Enter send the one that is seen. */
function Words({ wait, back }: { wait: Wait; back: string }) {
  const [isDated, setDated] = useState(false);
  if (wait.cause !== 'bought-in' && wait.cause !== 'other') return <WordForm wait={wait} back={back} />;
  const { hold, subject } = wait;
  return (
    <>
      <p className="deeds">
        <Deed onDo={() => setDated(!isDated)}>
          {isDated ? 'It ends now, by a word' : 'A period still runs, or nobody can say'}
        </Deed>
      </p>
      {isDated ? (
        <DatedForm
          wait={{ hold, subject }}
          onDone={() => go({ to: 'flock/subject/:subject', params: { subject: back } })}
        />
      ) : (
        <WordForm wait={wait} back={back} />
      )}
    </>
  );
}

function WordForm({ wait, back }: { wait: Wait; back: string }) {
  const toPage = () => go({ to: 'flock/subject/:subject', params: { subject: back } });
  const form = useForm(`flock/word/${wait.hold}`, { how: '', why: '' });
  const write = useWrite('resolve-possible', () => {
    void form.drop().then(toPage);
  });
  const options = wordsFor(wait.cause);
  const send = () => {
    const how = options.map((one) => one.value).find((one) => one === form.values.how);
    const problems = [
      ...(how === undefined ? [{ field: 'how', message: 'Choose what ends the hold.' }] : []),
      ...(form.values.why.trim() === '' ? [{ field: 'why', message: 'Write who said it and when.' }] : []),
    ];
    if (how === undefined || problems.length > 0) return form.show(problems);
    void write.send({ hold: wait.hold, subject: wait.subject, how, why: form.values.why });
  };
  return (
    <Form form={form} write={write} deed="End the hold" onLeave={toPage} onSend={send}>
      <Choice {...form.text('how')} label="What ends it" hint={wait.text} options={options} />
      <Field
        {...form.text('why')}
        label="Who said it, and when"
        hint="An inspector reads this line: name, day, and where the paper is."
        lines={3}
        size={48}
      />
    </Form>
  );
}
