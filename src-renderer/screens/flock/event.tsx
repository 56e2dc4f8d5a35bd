import './flock.css';
import { useEffect, useRef, useState } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField, TimeField } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, type ChoiceOption, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence } from '../../parts/sentence.tsx';
import { WhoListed } from '../../parts/who-listed.tsx';
import { count } from '../../parts/words.ts';
import { go, useLocation } from '../../router.tsx';
import { sayClass } from './words.ts';

type What = Ask<'note-event'>['what'];
type Who = { subject: string; shown: string; class: string; heads: number };

const WHAT: readonly (ChoiceOption & { value: What })[] = [
  { value: 'lambing', label: 'Lambed' },
  { value: 'removal', label: 'The device was taken out', hint: 'a sponge, or whatever was put in' },
  {
    value: 'end-of-release',
    label: 'The release ended',
    hint: 'what was put in gives off nothing any more, as its label says',
  },
  { value: 'in-milk', label: 'Came into milk', hint: 'milk that was asleep is held by what is left' },
  { value: 'dry', label: 'Went dry' },
];
const whatOf = (code: string) => WHAT.map((one) => one.value).find((one) => one === code);

/** Writes down what holds wait for: lambing, a device taken out, the end of its release, milk. */
export default function EventScreen() {
  const { subject, group } = useLocation().query;
  const one = useCall('subject', subject === undefined ? null : { subject });
  const many = useCall('group', group === undefined ? null : { group });
  if (group !== undefined) {
    return (
      <Await call={many} what="Opening the group">
        {({ members }) => <Happened start={members} back={{ group }} />}
      </Await>
    );
  }
  if (subject === undefined) return <Happened start={[]} back={{}} />;
  return (
    <Await call={one} what="Opening the page">
      {({ who }) => <Happened start={[who]} back={{ subject }} />}
    </Await>
  );
}

type Back = { subject?: string; group?: string };

function leave({ subject, group }: Back): void {
  if (subject !== undefined) go({ to: 'flock/subject/:subject', params: { subject } });
  else if (group !== undefined) go({ to: 'flock/group/:group', params: { group } });
  else go({ to: 'flock' });
}

function Happened({ start, back }: { start: readonly Who[]; back: Back }) {
  const [list, setList] = useState(start);
  const [said, setSaid] = useState('');
  const [done, setDone] = useState<Reply<'note-event'>>();
  const box = useRef<HTMLInputElement>(null);
  const form = useForm(`flock/event/${back.subject ?? back.group ?? ''}`, {
    what: '',
    day: '',
    time: '',
    note: '',
  });
  const write = useWrite('note-event', (reply) => {
    setDone(reply);
    setList([]);
    void form.drop();
  });
  const isEmptyStart = start.length === 0;
  useEffect(() => {
    if (isEmptyStart) box.current?.focus();
  }, [isEmptyStart]);

  const pick = (row: Who) => {
    setDone(undefined);
    if (list.some((one) => one.subject === row.subject))
      return setSaid(`${row.shown} is in the list already.`);
    setSaid(`${row.shown} is in the list.`);
    setList([...list, row]);
  };
  const send = () => {
    const what = whatOf(form.values.what);
    const { day, time, note } = form.values;
    const problems = [
      ...(list.length === 0 ? [{ message: 'Name at least one animal or lot it happened to.' }] : []),
      ...(what === undefined ? [{ field: 'what', message: 'Choose what happened.' }] : []),
      ...(day === '' && time !== ''
        ? [{ field: 'day', message: 'Write the day that this time belongs to.' }]
        : []),
    ];
    if (what === undefined || problems.length > 0) return form.show(problems);
    void write.send({
      subjects: list.map((one) => one.subject),
      what,
      ...withoutEmpty({
        note: note.trim(),
        happened: day === '' ? '' : `${day}${time === '' ? '' : `T${time}`}`,
      }),
    });
  };
  const heads = list.reduce((sum, one) => sum + one.heads, 0);

  return (
    <Screen
      title="Lambed, device out, in milk or dry"
      lead="Some withdrawal periods are counted from these. Of a lot it means everyone who is in it."
    >
      {done === undefined ? null : <Done reply={done} back={back} />}
      <WhoListed title="Who" label="Who" ref={box} onPick={pick} said={said} isEmpty={list.length === 0}>
        {list.map((one) => (
          <Sentence
            key={one.subject}
            deed={
              <Deed onDo={() => setList(list.filter((other) => other !== one))}>Take {one.shown} out</Deed>
            }
          >
            <strong>{one.shown}</strong>, {sayClass(one.class)}
            {one.heads === 1 ? '' : `, ${count(one.heads, 'head', 'head')}`}
          </Sentence>
        ))}
      </WhoListed>
      <Section title="What happened">
        <Form
          form={form}
          write={write}
          deed={heads === 0 ? 'Write it down' : `Write it down for ${count(heads, 'head', 'head')}`}
          onLeave={() => leave(back)}
          onSend={send}
        >
          <Choice {...form.text('what')} label="What happened" options={WHAT} />
          <DayField {...form.text('day')} label="On" optional hint="Left empty it counts from now." />
          <TimeField
            {...form.text('time')}
            label="At"
            optional
            hint="With the day alone a period counts from the end of that day."
          />
          <Field {...form.text('note')} label="Note" optional lines={2} size={48} />
        </Form>
      </Section>
    </Screen>
  );
}

/** What follows for each of them. */
function Done({ reply, back }: { reply: Reply<'note-event'>; back: Back }) {
  const settled = reply.settled.flatMap((one) =>
    one.holds.map((hold) => ({
      key: `${one.subject} ${hold.source} ${hold.produce} ${hold.clock}`,
      one,
      hold,
    })),
  );
  return (
    <Notice
      kind="done"
      deed={
        back.subject === undefined ? (
          <DeedLink to="flock">Back to the flock</DeedLink>
        ) : (
          <DeedLink to="flock/subject/:subject" params={{ subject: back.subject }}>
            Back to its page
          </DeedLink>
        )
      }
    >
      <p>
        Written for {count(reply.events.length, 'animal or lot', 'animals and lots')}.
        {settled.length === 0 ? ' No withdrawal waited for it.' : ''}
      </p>
      {settled.slice(0, 20).map(({ key, one, hold }) => (
        <p key={key}>
          <strong>{one.shown}</strong>: {hold.text}.
        </p>
      ))}
      {settled.length > 20 ? <p>And {count(settled.length - 20, 'more', 'more')}.</p> : null}
    </Notice>
  );
}
