import './treat.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go, useParams } from '../../router.tsx';
import { Partly } from './close-partly.tsx';
import { Unread } from './close-unread.tsx';
import { type CloseValues, gotNoneOf } from './close-values.ts';
import { isInjected } from './words.ts';

type Session = Reply<'session'>;

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
  const form = useForm<CloseValues>(`treat/close/${id}`, {
    heads: '',
    absent: [],
    none: [],
    sharps: '',
    note: '',
  });
  const back = () => go({ to: 'treat/session/:session', params: { session: id } });
  const write = useWrite('close-session', () => void form.drop().then(back));
  const { heads, absent, none, sharps, note } = form.values;
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
      gotNone: gotNoneOf(none, session.waiting),
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
        <Partly form={form} session={session} />
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
