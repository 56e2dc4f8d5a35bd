import './treat.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type FormState, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { count, listed } from '../../parts/words.ts';
import { go, useParams } from '../../router.tsx';
import { unreadBy } from './close-values.ts';
import { isInjected } from './words.ts';

type Session = Reply<'session'>;
type CloseValues = { heads: string; absent: readonly string[]; sharps: string; note: string };

/** Closing: heads through the race are counted, needles come back, and who may have been treated is named first. */
export default function CloseScreen() {
  const { session: id } = useParams('treat/session/:session/close');
  const call = useCall('session', { session: id });
  return (
    <Await call={call} what="Reading the session">
      {(session) =>
        session.session.state === 'closed' ? (
          <Screen title={session.session.name}>
            <Empty
              deed={
                <DeedLink to="treat/session/:session" params={{ session: id }} weight="main">
                  See what came of it
                </DeedLink>
              }
            >
              This session is closed.
            </Empty>
          </Screen>
        ) : (
          <CloseForm id={id} session={session} />
        )
      }
    </Await>
  );
}

function CloseForm({ id, session }: { id: string; session: Session }) {
  const form = useForm<CloseValues>(`treat/close/${id}`, { heads: '', absent: [], sharps: '', note: '' });
  const back = () => go({ to: 'treat/session/:session', params: { session: id } });
  const write = useWrite('close-session', () => void form.drop().then(back));
  const { heads, absent, sharps, note } = form.values;
  const { session: row, sharpsOut } = session;
  const isSharp = session.lines.some((line) => isInjected(line.route));

  const send = () => {
    const whole = (text: string) => /^\d{1,6}$/.test(text.trim());
    const problems = [
      ...(whole(heads)
        ? []
        : [{ field: 'heads', message: 'Write how many heads went through, as a whole number.' }]),
      ...(sharps.trim() === '' || whole(sharps)
        ? []
        : [{ field: 'sharps', message: 'Write how many needles came back, as a whole number.' }]),
      ...(sharpsOut !== undefined && sharps.trim() === ''
        ? [
            {
              field: 'sharps',
              message: `${sharpsOut} needles went out. Count them and write how many came back.`,
            },
          ]
        : []),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({
      session: id,
      headsThrough: Number(heads),
      notThrough: [...absent],
      ...(sharps.trim() === '' ? {} : { sharpsBack: Number(sharps) }),
      ...(note.trim() === '' ? {} : { note }),
    });
  };

  return (
    <Screen
      title={`Close ${row.name}`}
      lead={`${count(row.treated, 'head', 'head')} treated, of ${row.planned} planned.`}
    >
      <Form form={form} write={write} deed="Close the session" onSend={send} onLeave={back}>
        <Section title="Count">
          <Field
            {...form.text('heads')}
            label="Heads through the race"
            hint="As counted at the gate, not as recorded."
            size={6}
            inputMode="numeric"
          />
          {isSharp || sharpsOut !== undefined ? (
            <Field
              {...form.text('sharps')}
              label="Needles back"
              hint={sharpsOut === undefined ? 'Nobody counted them out.' : `${sharpsOut} went out.`}
              readBack={missingSharps(sharpsOut, sharps)}
              size={6}
              inputMode="numeric"
              optional={sharpsOut === undefined}
            />
          ) : null}
        </Section>
        <Section title="Who has no record">
          <Unread form={form} session={session} />
        </Section>
        <Field {...form.text('note')} label="Note" lines={2} optional />
      </Form>
    </Screen>
  );
}

function missingSharps(out: number | undefined, typed: string): string | undefined {
  if (out === undefined || !/^\d{1,6}$/.test(typed.trim())) return undefined;
  const missing = out - Number(typed);
  if (missing <= 0) return 'All are back.';
  return `${count(missing, 'needle is', 'needles are')} missing: look in the animals and in the pen.`;
}

function Unread({ form, session }: { form: FormState<CloseValues>; session: Session }) {
  const { heads, absent } = form.values;
  const { state, by, unread } = unreadBy(session, heads, absent);
  const away = session.waiting.filter((one) => absent.includes(one.subject));
  const leave = (subject: string) => form.set({ absent: [...absent, subject] });
  if (session.waiting.length === 0 && state !== 'more' && state !== 'fewer') {
    return <Empty>Everybody who was planned has a record.</Empty>;
  }
  const names = unread.map((one) => one.shown);
  return (
    <>
      {state === 'more' ? (
        <Notice kind="mind" word="Will be held">
          <p>
            {by === 1 ? 'One head more went through than was' : `${by} heads more went through than were`}{' '}
            recorded.{' '}
            {unread.length === 0
              ? 'Nobody who was planned is unread: find out who it was and record it.'
              : sayHeld(names)}
          </p>
        </Notice>
      ) : null}
      {state === 'fewer' ? (
        <Notice kind="mind" word="Too many">
          <p>
            {count(by, 'head', 'heads')} more {by === 1 ? 'is' : 'are'} recorded than went through. Look for
            one recorded twice, or count again.
          </p>
        </Notice>
      ) : null}
      {state === 'even' && unread.length === 0 && session.waiting.length > away.length ? (
        <p className="hint">The count fits the records, so nobody is held beyond what was recorded.</p>
      ) : null}
      <SubjectPicker
        name="absent"
        label="Did not come through"
        hint="Tag, Enter. Whoever surely did not come through is not held."
        onPick={(one) => {
          if (session.waiting.some((each) => each.subject === one.subject) && !absent.includes(one.subject)) {
            leave(one.subject);
          }
        }}
      />
      <Sentences label="No record">
        {away.map((one) => (
          <Sentence
            key={one.subject}
            margin="Not through"
            deed={
              <Deed onDo={() => form.set({ absent: absent.filter((each) => each !== one.subject) })}>
                It may have come through
              </Deed>
            }
          >
            <strong>{one.shown}</strong>
          </Sentence>
        ))}
        {session.waiting
          .filter((one) => !absent.includes(one.subject))
          .toSorted((a, b) => a.shown.localeCompare(b.shown, 'en', { numeric: true }))
          .slice(0, 200)
          .map((one) => (
            <Sentence
              key={one.subject}
              margin="No record"
              deed={<Deed onDo={() => leave(one.subject)}>It did not come through</Deed>}
            >
              <strong>{one.shown}</strong>
              {one.heads > 1 ? `, ${one.heads} head` : ''}
            </Sentence>
          ))}
      </Sentences>
    </>
  );
}

/** "A, B and 3 more may have been treated …": everybody who will be held, by name as far as it can be read. */
function sayHeld(names: readonly string[]): string {
  const shown = names.length > 12 ? [...names.slice(0, 11), `${names.length - 11} more`] : names;
  return names.length === 1
    ? `${names[0]} may have been treated, and is held as if it had been, until it is known.`
    : `${listed(shown)} may have been treated. Each is held as if it had been, until it is known.`;
}
