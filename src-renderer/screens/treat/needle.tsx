import './treat.css';
import './where.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { WhenField } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice, Warnings } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { go, useLocation } from '../../router.tsx';
import { NeedlePlaceFields } from './needle-drawing.tsx';
import { NeedlesOpen } from './needle-open.tsx';
import { markOf, placeOf } from './needle-values.ts';

/** A needle broke or is missing: what to do, the report, and the reports that still hold somebody. */
export default function NeedleScreen() {
  const call = useCall('needle-losses', { open: true });
  return (
    <Screen
      title="A needle broke or is missing"
      lead="Whoever may carry it is held for meat. No date ends that; only a finding does."
    >
      <Await call={call} what="Reading the reports">
        {({ losses, steps }) => (
          <>
            <Section title="At once">
              <Sentences label="At once">
                {steps.map((step, n) => (
                  <Sentence key={step} margin={`${n + 1}.`}>
                    {step}
                  </Sentence>
                ))}
              </Sentences>
            </Section>
            <Section title="The report">
              <Report />
            </Section>
            {losses.length === 0 ? null : (
              <Section title="Not found yet">
                <NeedlesOpen losses={losses} />
              </Section>
            )}
          </>
        )}
      </Await>
    </Screen>
  );
}

function Report() {
  const { query } = useLocation();
  const sessions = useCall('sessions', { state: 'all', limit: 20 });
  const form = useForm('treat/needle', {
    who: query.subject === undefined ? '' : 'one',
    session: query.session ?? '',
    subject: query.subject ?? '',
    shown: '',
    needle: '',
    site: '',
    side: '',
    found: 'not-found',
    colour: '',
    place: '',
    note: '',
    happened: '',
  });
  const [told, setTold] = useState<Reply<'report-needle'> | undefined>(undefined);
  const write = useWrite('report-needle', (reply) => {
    setTold(reply);
    void form.drop();
  });
  const { values } = form;
  const isOne = values.who === 'one';
  const list = sessions.state === 'ready' ? sessions.value.sessions : [];
  const send = () => {
    const problems = [
      ...(values.who === ''
        ? [{ field: 'who', message: 'Say whether it is known which animal it is in.' }]
        : []),
      ...(isOne && values.subject === '' ? [{ field: 'subject', message: 'Say in which animal.' }] : []),
      ...(values.who === 'nobody-knows' && values.session === ''
        ? [{ field: 'session', message: 'Say in which work it went missing.' }]
        : []),
    ];
    if (problems.length > 0) return form.show(problems);
    write.next();
    void write.send({
      found: values.found === 'found-whole' ? 'found-whole' : 'not-found',
      ...withoutEmpty({ session: values.session, needle: values.needle.trim(), note: values.note.trim() }),
      ...withoutEmpty({ happened: values.happened }),
      ...(isOne
        ? {
            subject: values.subject,
            ...placeOf(values.site, values.side),
            ...markOf(values.colour, values.place),
          }
        : {}),
    });
  };
  return (
    <>
      {told === undefined ? null : (
        <>
          <Notice
            kind={told.held.length > 0 ? 'mind' : 'done'}
            word="Written"
            deed={
              told.held.length === 0 ? undefined : (
                <DeedLink to="treat/needle/:loss" params={{ loss: told.loss }}>
                  Say what is known
                </DeedLink>
              )
            }
          >
            <p>{told.says}</p>
          </Notice>
          <Warnings warnings={told.warnings} />
        </>
      )}
      <Form
        form={form}
        write={write}
        deed="Write the report"
        onSend={send}
        onLeave={() => go({ to: 'treat' })}
      >
        <Choice
          {...form.text('who')}
          label="Which animal is it in"
          options={[
            { value: 'one', label: 'This one', hint: 'it was seen, or it was the last one treated' },
            {
              value: 'nobody-knows',
              label: 'Nobody knows',
              hint: 'whoever was treated by needle since the last count is held',
            },
          ]}
        />
        {isOne ? (
          <>
            <SubjectPicker
              name="subject"
              label="Tag, number or lot"
              error={form.problems.find(({ field }) => field === 'subject')?.message}
              onPick={({ subject, shown }) => form.set({ subject, shown })}
            />
            {values.subject === '' ? null : (
              <Sentences label="In whom">
                <Sentence
                  margin="In"
                  deed={<Deed onDo={() => form.set({ subject: '', shown: '' })}>Another one</Deed>}
                >
                  <strong>{values.shown === '' ? 'the one you came from' : values.shown}</strong>
                </Sentence>
              </Sentences>
            )}
            <NeedlePlaceFields text={form.text} />
          </>
        ) : null}
        <Select
          {...form.text('session')}
          label="Work at the race"
          options={[
            { value: '', label: 'None' },
            ...list.map((one) => ({ value: one.session, label: `${one.name}, ${one.opened.slice(0, 10)}` })),
          ]}
        />
        <Field {...form.text('needle')} label="Needle" hint="As in 18G 1/2 in." size={12} optional />
        <Choice
          {...form.text('found')}
          label="Is it found"
          options={[
            { value: 'not-found', label: 'No, or only part of it' },
            { value: 'found-whole', label: 'Yes, whole', hint: 'every piece is there; nobody is held' },
          ]}
        />
        <WhenField
          {...form.text('happened')}
          label="When it was noticed"
          hint="Left empty, it is now."
          optional
        />
        <Field {...form.text('note')} label="What was seen and done" lines={2} optional />
      </Form>
    </>
  );
}
