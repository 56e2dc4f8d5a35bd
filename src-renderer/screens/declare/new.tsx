import '../book/book.css';
import { useRef } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type FormState, type Problem, useForm } from '../../hooks/use-form.ts';
import { useSteady } from '../../hooks/use-steady.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { useWriter } from '../../hooks/use-writer.ts';
import { Await } from '../../parts/await.tsx';
import { DayField, readBackDay, TimeField } from '../../parts/day-field.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { count } from '../../parts/words.ts';
import { go } from '../../router.tsx';
import { joinLocal } from '../book/when.ts';
import { accompaniedOf } from './accompany.tsx';
import { headsOf, readGoing } from './clear-rows.ts';
import type { DeclareValues, Preview } from './declare-values.ts';
import { Doubted } from './doubted.tsx';
import { Picking } from './picking.tsx';
import { Foreseen } from './preview.tsx';

type Farm = Reply<'farm'>;
/** Signs a slaughter declaration: who goes, where, when; who may not is named before anybody signs. */
export default function NewScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="Sign a declaration"
      lead="Choose who is to go. The book says at once who may, and for whom it is too early."
    >
      <Doubted>
        <Await call={farm} what="Reading the farm">
          {(value) => <NewForm farm={value} />}
        </Await>
      </Doubted>
    </Screen>
  );
}

function NewForm({ farm }: { farm: Farm }) {
  const { person } = useWriter();
  const [usual] = farm.holdings;
  const form = useForm<DeclareValues>('declare/new', {
    holding: usual?.holding ?? '',
    to: '',
    day: farm.clock.today,
    time: '',
    going: [],
    accompanied: [],
    signer: person ?? '',
    answer: '',
    paper: usual?.paper ?? 'a4',
  });
  const write = useWrite('declare', (reply) => {
    void form
      .drop()
      .then(() =>
        go(
          { to: 'declare/paper/:declaration', params: { declaration: reply.declaration } },
          { replace: true },
        ),
      );
  });
  const { values } = form;
  const known = useCall('declarations', { limit: 100 });
  const told = known.state === 'ready' ? [...new Set(known.value.declarations.map((row) => row.to))] : [];
  const preview = useSteady('preview-declaration', previewAsk(values));
  const box = useRef<HTMLInputElement>(null);

  const send = () => {
    const problems = problemsIn(values);
    if (problems.length > 0) return form.show(problems);
    void write.send({
      holding: values.holding,
      to: values.to.trim(),
      departs: joinLocal(values.day, values.time),
      subjects: values.going.map(readGoing),
      accompanied: accompaniedOf(values),
      signer: values.signer,
      answer: values.answer === 'yes' ? 'yes' : 'no',
      paper: values.paper === 'letter' ? 'letter' : 'a4',
    });
  };
  return (
    <Form
      form={form}
      write={write}
      deed="Sign and print it"
      onLeave={() => go({ to: 'declare' })}
      onSend={send}
      note={heldBack(preview)}
    >
      <Section title="Where and when">
        {farm.holdings.length < 2 ? null : (
          <Select
            {...form.text('holding')}
            label="From which holding"
            options={farm.holdings.map((one) => ({ value: one.holding, label: one.name }))}
          />
        )}
        <Field
          {...form.text('to')}
          label="To whom"
          hint="The abattoir, dealer or market that is told."
          list={told}
        />
        <DayField {...departsField(form)} label="Day they leave" />
        <TimeField
          {...form.text('time')}
          label="Time they leave"
          optional
          hint="Without a time the start of the day counts, which is the careful reading."
        />
      </Section>
      <Picking form={form} preview={preview} box={box} />
      <Foreseen form={form} preview={preview} onChanged={() => box.current?.focus()} />
      <Section title="Signature">
        <Select
          {...form.text('signer')}
          label="Who signs"
          options={[
            { value: '', label: 'Choose a person' },
            ...farm.people.filter((one) => one.active).map((one) => ({ value: one.person, label: one.name })),
          ]}
        />
        {/* Yes or no to what? The question comes from the list. */}
        {values.going.length === 0 ? null : (
          <Choice
            {...form.text('answer')}
            label="Your answer"
            hint={questionOf(preview)}
            options={[
              { value: 'yes', label: 'Yes' },
              { value: 'no', label: 'No', hint: 'Then nothing is declared.' },
            ]}
          />
        )}
        <Choice
          {...form.text('paper')}
          label="Paper"
          options={[
            { value: 'a4', label: 'A4' },
            { value: 'letter', label: 'US Letter' },
          ]}
        />
      </Section>
    </Form>
  );
}

/** The desk names the day and the time together; what it says of them stands at the day. */
function departsField(form: FormState<DeclareValues>) {
  const said = form.problems.find((problem) => problem.field === 'departs');
  const own = form.text('day');
  return said === undefined ? own : { ...own, error: said.message };
}

/** Asks as soon as somebody is on the list; where they go to changes nothing about who may. */
function previewAsk(values: DeclareValues): Ask<'preview-declaration'> | null {
  if (values.going.length === 0 || readBackDay(values.day) === undefined || values.holding === '')
    return null;
  return {
    holding: values.holding,
    to: 'preview',
    departs: joinLocal(values.day, values.time),
    subjects: values.going.map(readGoing),
    accompanied: accompaniedOf(values),
  };
}

function questionOf(preview: Preview): string {
  return preview.state === 'ready' ? preview.value.question : 'Looking who may go…';
}

/** Why it cannot be signed as the list stands. */
function heldBack(preview: Preview): string | undefined {
  if (preview.state !== 'ready' || preview.value.refused.length === 0) return undefined;
  // Not only a withdrawal holds: a needle or a missing statement does too, and waiting does not end those.
  const heads = headsOf(preview.value.refused);
  return `It cannot be signed yet: ${count(heads, 'head', 'head')} may not go.`;
}

function problemsIn(values: DeclareValues): Problem[] {
  return [
    ...(values.to.trim() === '' ? [{ field: 'to', message: 'Say to whom they go.' }] : []),
    ...(readBackDay(values.day) === undefined
      ? [{ field: 'day', message: 'Say on which day they leave.' }]
      : []),
    ...(values.going.length === 0 ? [{ field: 'subject', message: 'Nobody is on the list yet.' }] : []),
    ...(values.signer === '' ? [{ field: 'signer', message: 'Say who signs.' }] : []),
    ...(values.answer === '' && values.going.length > 0
      ? [{ field: 'answer', message: 'Answer the question.' }]
      : []),
  ];
}
