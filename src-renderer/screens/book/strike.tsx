import './book.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Question } from '../../parts/question.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { goBack, useLocation } from '../../router.tsx';
import { doseWords, entryOfQuery } from './record.ts';
import { Told, useHeadingAgain } from './told.tsx';
import { localInWords } from './when.ts';

type EntryName = { request: string; n: number };

/** Strikes an entry out: says what follows, wants a reason, asks once more. */
export default function StrikeScreen() {
  const { query } = useLocation();
  const entry = entryOfQuery(query);
  return (
    <Screen
      title="Strike out"
      lead="What is struck out counts for nothing any more. It stays in the book, struck through, with your reason."
    >
      {entry === undefined ? (
        <Empty deed={<DeedLink to="book/entries">Read the journal</DeedLink>}>
          No entry is named here. Choose one from the journal.
        </Empty>
      ) : query.what === undefined ? (
        <StrikeTreatment entry={entry} />
      ) : instead(query.kind) !== undefined ? (
        <Empty deed={<DeedLink to="book/entries">Back to the journal</DeedLink>}>
          {query.what}. {instead(query.kind)}
        </Empty>
      ) : (
        <StrikeForm entry={entry} what={query.what} follows={otherFollows} />
      )}
    </Screen>
  );
}

/** What is done in the place of striking out, for entries that are put right in another way. */
function instead(kind: string | undefined): string | undefined {
  if (kind === 'struck') return 'It is struck out already.';
  if (kind === 'voided')
    return 'What was struck out stays struck out. If it did happen, write it down again.';
  if (kind === 'replaced') return 'A correction is put right by correcting the treatment once more.';
  if (kind === 'declared') return 'A declaration is not struck out. Open it under Declare and cancel it.';
  if (kind === 'declaration-cancelled') return 'A cancelled declaration stays cancelled. Sign a new one.';
  if (kind === 'date-confirmed') return 'A date that was confirmed cannot be struck out.';
  return undefined;
}

/** What is true of any entry; what rests on this one the desk asks about before it writes. */
const otherFollows = [
  'Whatever followed from it is worked out anew without it.',
  'If something else rests on it, you are asked first.',
  'The entry stays in the journal, struck through, with your reason.',
];

function StrikeTreatment({ entry }: { entry: EntryName }) {
  const call = useCall('treatment', { entry });
  // What was read before striking stays on the screen after it: only then is there something to look back at.
  const [first, setFirst] = useState<Reply<'treatment'> | undefined>(undefined);
  if (first === undefined && call.state === 'ready') setFirst(call.value);
  return (
    <Await call={call} what="Opening the line">
      {(value) => {
        const line = first ?? value;
        const now = line.versions.at(-1);
        if (!line.stands || now === undefined) {
          return (
            <Empty
              deed={
                <DeedLink
                  to="book/treatment/:administration"
                  params={{ administration: line.administration }}
                  query={{ request: entry.request, n: String(entry.n) }}
                >
                  Open the line
                </DeedLink>
              }
            >
              This line is struck out already.
            </Empty>
          );
        }
        const what = `${now.product} into ${now.shown}, ${localInWords(now.local)}: ${doseWords(now)}`;
        return <StrikeForm entry={entry} what={what} follows={line.ifStruck} />;
      }}
    </Await>
  );
}

function StrikeForm({
  entry,
  what,
  follows,
}: {
  entry: EntryName;
  what: string;
  follows: readonly string[];
}) {
  const [isAsking, setAsking] = useState(false);
  const [told, setTold] = useState<readonly string[] | undefined>(undefined);
  const form = useForm(`book/strike/${entry.request}/${entry.n}`, { reason: '' });
  const write = useWrite('void', ({ notices }) => {
    void form.drop().then(() => setTold(notices));
  });
  const reason = form.values.reason.trim();
  if (told !== undefined) return <StruckNow what={what} notices={told} />;
  return (
    <>
      <Form
        form={form}
        write={write}
        deed="Strike it out"
        onLeave={goBack}
        onSend={() => {
          if (reason === '') form.show([{ field: 'reason', message: 'Say why it is struck out.' }]);
          else setAsking(true);
        }}
      >
        <Section title="This entry">
          <Sentences>
            <Sentence margin="Says">{what}</Sentence>
          </Sentences>
        </Section>
        <Section title="What follows">
          <Sentences label="What follows">
            {follows.map((text, n) => (
              <Sentence key={text} {...(n === 0 ? { margin: 'Then' } : {})}>
                {text}
              </Sentence>
            ))}
          </Sentences>
        </Section>
        <Section title="Why">
          <Field {...form.text('reason')} label="Reason" lines={2} />
        </Section>
      </Form>
      {isAsking ? (
        <Question
          title="Strike this out?"
          onNo={() => setAsking(false)}
          deeds={
            <>
              <Deed onDo={() => setAsking(false)}>No, leave it</Deed>
              <Deed
                weight="grave"
                onDo={() => {
                  setAsking(false);
                  void write.send({ entry, reason });
                }}
              >
                Yes, strike it out
              </Deed>
            </>
          }
        >
          <p>{what}</p>
          <ul className="follows">
            {follows.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </Question>
      ) : null}
    </>
  );
}

function StruckNow({ what, notices }: { what: string; notices: readonly string[] }) {
  useHeadingAgain();
  return (
    <>
      <Notice kind="done" word="Struck out" deed={<DeedLink to="book">Back to the book</DeedLink>}>
        <p>
          <s>{what}</s>
        </p>
      </Notice>
      <Told notices={notices} />
    </>
  );
}
