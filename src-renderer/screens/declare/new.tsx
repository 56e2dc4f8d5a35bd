import '../book/book.css';
import { useRef } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useSteady } from '../../hooks/use-steady.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { useWriter } from '../../hooks/use-writer.ts';
import { Await } from '../../parts/await.tsx';
import { readBackDay } from '../../parts/day-field.tsx';
import { Choice, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { count } from '../../parts/words.ts';
import { go, useLocation } from '../../router.tsx';
import { headsOf } from './clear-rows.ts';
import {
  begunWith,
  type DeclareValues,
  declarationAsk,
  type Preview,
  problemsIn,
  purposeOf,
} from './declare-values.ts';
import { Doubted } from './doubted.tsx';
import { Facts } from './facts.tsx';
import { Picking } from './picking.tsx';
import { Foreseen } from './preview.tsx';
import { Sort } from './sort.tsx';

type Farm = Reply<'farm'>;
/** Signs a declaration: what for, who goes, where, when; who may not is named before anybody signs. */
export default function NewScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="Sign a declaration"
      lead="Choose who is to go. The book says at once who may, and for whom it is too early."
    >
      <Doubted>
        <Await call={farm} what="Reading the farm">
          {(value) => <Begin farm={value} />}
        </Await>
      </Doubted>
    </Screen>
  );
}

/** The form begins with what this holding said the last time. */
function Begin({ farm }: { farm: Farm }) {
  const { query } = useLocation();
  const holding = farm.holdings[0]?.holding;
  const purpose = purposeOf(query.purpose);
  const begin = useCall('declaration-form', holding === undefined ? null : { holding, purpose });
  return (
    <Await call={begin} what="Reading what was said the last time">
      {(value) => <NewForm key={purpose} farm={farm} begin={value} purpose={purpose} />}
    </Await>
  );
}

function NewForm({
  farm,
  begin,
  purpose,
}: {
  farm: Farm;
  begin: Reply<'declaration-form'>;
  purpose: ReturnType<typeof purposeOf>;
}) {
  const { person } = useWriter();
  const [usual] = farm.holdings;
  const form = useForm<DeclareValues>(purpose === 'slaughter' ? 'declare/new' : `declare/new/${purpose}`, {
    holding: usual?.holding ?? '',
    purpose,
    destination: 'domestic',
    to: '',
    toHolding: '',
    day: farm.clock.today,
    time: '',
    isAgreed: false,
    notDay: '',
    notTime: '',
    agreedWith: '',
    agreedOn: farm.clock.today,
    going: [],
    accompanied: [],
    signer: person ?? '',
    answer: '',
    paper: usual?.paper ?? 'a4',
    ...begunWith(begin),
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
  const told =
    known.state === 'ready'
      ? [
          ...new Set(
            known.value.declarations.filter((row) => row.purpose === values.purpose).map((row) => row.to),
          ),
        ]
      : [];
  const preview = useSteady('preview-declaration', previewAsk(values));
  const box = useRef<HTMLInputElement>(null);

  const send = () => {
    const problems = problemsIn(values);
    if (problems.length > 0) return form.show(problems);
    void write.send({
      ...declarationAsk(values, values.purpose === 'transfer' ? 'own holding' : values.to.trim()),
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
      <Sort form={form} farm={farm} known={told} />
      <Picking form={form} preview={preview} box={box} />
      <Foreseen form={form} preview={preview} onChanged={() => box.current?.focus()} />
      <Facts form={form} />
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

/** Asks as soon as somebody is on the list; where they go to, and what is said of them, change nothing about who may. */
function previewAsk(values: DeclareValues): Ask<'preview-declaration'> | null {
  if (values.going.length === 0 || readBackDay(values.day) === undefined || values.holding === '')
    return null;
  if (values.purpose === 'transfer' && values.toHolding === '') return null;
  return { ...declarationAsk(values, 'preview'), facts: {} };
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
