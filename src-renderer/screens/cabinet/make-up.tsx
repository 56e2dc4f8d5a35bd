import './cabinet.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import { toPlaces } from '../../../src-shared/quantity/fraction.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type FormState, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { MedicinePicker } from '../../parts/medicine-picker.tsx';
import { Warnings } from '../../parts/notice.tsx';
import { Result } from '../../parts/result.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go, useLocation } from '../../router.tsx';
import {
  emptyTaking,
  keptTaking,
  type MakeUpValues,
  madeSoFar,
  makeUpAsk,
  makeUpProblems,
  type Taking,
  takingsOf,
} from './make-up-values.ts';
import { type Container, sayContainer } from './words.ts';

type Made = Reply<'make-up'>;

/** A powder, a concentrate or tablets made up with water: it becomes a container of its own. */
export default function MakeUpScreen() {
  const { query } = useLocation();
  const [made, setMade] = useState<Made | undefined>(undefined);
  return (
    <Screen
      title="Make up a powder or a concentrate"
      lead="With water it becomes a container of its own, with its own strength and its own end. Doses from it are worked out by that strength."
    >
      {made === undefined ? (
        <MakeUpForm medicine={query.medicine ?? ''} container={query.container ?? ''} onMade={setMade} />
      ) : (
        <Written made={made} onNext={() => setMade(undefined)} />
      )}
    </Screen>
  );
}

function Written({ made, onNext }: { made: Made; onNext: () => void }) {
  return (
    <>
      <Result label="Written in the book. Write on it" big={made.label} working={made.working}>
        <p>
          {made.says} There are {made.volume} of it. Use by {made.useBy}.
        </p>
      </Result>
      <Warnings warnings={made.warnings} />
      <p className="deeds">
        <DeedLink to="cabinet/container/:container" params={{ container: made.container }} weight="main">
          Look at it
        </DeedLink>
        <DeedLink to="treat/plan">Plan work at the race</DeedLink>
        <Deed onDo={onNext}>Make up another</Deed>
      </p>
    </>
  );
}

function MakeUpForm({
  medicine,
  container,
  onMade,
}: {
  medicine: string;
  container: string;
  onMade: (made: Made) => void;
}) {
  const form = useForm<MakeUpValues>(`cabinet/make-up/${container}`, {
    medicine,
    from: [container === '' ? emptyTaking : keptTaking({ container, amount: '' })],
    way: 'water',
    liquid: '',
    life: '',
    label: '',
    batch: '',
    store: '',
  });
  const write = useWrite('make-up', (reply) => {
    void form.drop().then(() => onMade(reply));
  });
  const { values } = form;
  const send = () => {
    const problems = makeUpProblems(values);
    if (problems.length > 0) return form.show(problems);
    void write.send(makeUpAsk(values));
  };
  return (
    <Form
      form={form}
      write={write}
      deed="Write it in the book"
      onLeave={() => go({ to: 'cabinet' })}
      onSend={send}
    >
      <MedicinePicker
        error={form.problems.find((problem) => problem.field === 'medicine')?.message}
        picked={values.medicine === '' ? undefined : values.medicine}
        onPick={(picked) => form.set({ medicine: picked?.medicine ?? '', from: [emptyTaking] })}
      />
      {values.medicine === '' ? null : <Rest form={form} medicine={values.medicine} />}
    </Form>
  );
}

function Rest({ form, medicine }: { form: FormState<MakeUpValues>; medicine: string }) {
  const cabinet = useCall('cabinet', { medicine });
  return (
    <Await call={cabinet} what="Reading the containers">
      {({ containers }) => <Mixing form={form} medicine={medicine} containers={containers} />}
    </Await>
  );
}

function Mixing({
  form,
  medicine,
  containers,
}: {
  form: FormState<MakeUpValues>;
  medicine: string;
  containers: readonly Container[];
}) {
  const { values } = form;
  const takings = takingsOf(values.from);
  const put = (n: number, change: Partial<Taking>) =>
    form.set({ from: takings.map((one, i) => keptTaking(i === n ? { ...one, ...change } : one)) });
  const isMark = values.way === 'mark';
  const liquid = form.text('liquid');
  const error = form.problems.find((problem) => problem.field === (isMark ? 'madeUpTo' : 'water'))?.message;
  return (
    <>
      {takings
        .map((taking, n) => ({ taking, n, key: `from.${n}` }))
        .map(({ taking, n, key }) => (
          <Taken
            key={key}
            n={n}
            taking={taking}
            form={form}
            containers={containers}
            onPut={(change) => put(n, change)}
          />
        ))}
      <p className="deeds form-deeds">
        <Deed onDo={() => form.set({ from: [...values.from, emptyTaking] })}>From another container too</Deed>
        {takings.length < 2 ? null : (
          <Deed onDo={() => form.set({ from: values.from.slice(0, -1) })}>Leave the last one out</Deed>
        )}
      </p>
      <Choice
        {...form.text('way')}
        label="With water"
        options={[
          {
            value: 'water',
            label: 'So much water is added',
            hint: 'liquids add up; a powder is taken to add nothing',
          },
          { value: 'mark', label: 'It is filled up to a mark', hint: 'surer: the volume made is known' },
        ]}
      />
      <Field
        {...liquid}
        name={isMark ? 'madeUpTo' : 'water'}
        error={error ?? liquid.error}
        label={isMark ? 'Filled up to' : 'Water'}
        hint="With its unit, as in 943 mL or 5 L."
        size={10}
      />
      <SoFar form={form} medicine={medicine} containers={containers} />
      <Field
        {...form.text('life')}
        label="Keeps for, once made up"
        hint="As in 24 h or 28 d. Left empty it is what the label says once opened; it is never longer than that."
        size={8}
        optional
      />
      <Field
        {...form.text('label')}
        label="What is written on it"
        hint="As in “Blue can, 1 May”. Left empty: the day and the volume."
        size={28}
        optional
      />
      <Field
        {...form.text('batch')}
        label="Batch, as the record shows it"
        hint="Left empty: the batch numbers it was made from."
        size={20}
        optional
      />
      <Field {...form.text('store')} label="Kept in" size={20} optional />
    </>
  );
}

function Taken({
  n,
  taking,
  form,
  containers,
  onPut,
}: {
  n: number;
  taking: Taking;
  form: FormState<MakeUpValues>;
  containers: readonly Container[];
  onPut: (change: Partial<Taking>) => void;
}) {
  const error = (field: string) => form.problems.find((problem) => problem.field === field)?.message;
  const [container, amount] = [`from.${n}.container`, `from.${n}.amount`];
  return (
    <>
      <Select
        name={container}
        value={taking.container}
        error={error(container)}
        onChange={(value) => onPut({ container: value })}
        label={n === 0 ? 'From' : 'And from'}
        options={[
          { value: '', label: 'Choose the container' },
          ...containers.map((one) => ({
            value: one.container,
            label: `${one.label}: ${sayContainer(one)}`,
          })),
        ]}
      />
      <Field
        name={amount}
        value={taking.amount}
        error={error(amount)}
        onChange={(value) => onPut({ amount: value })}
        label="How much of it"
        hint="With its unit, as in 52 g, 100 mL or 2 tablets."
        size={10}
      />
    </>
  );
}

/** The sentence that fills itself: what is made, how strong it is, and what a sheep of 50 kg needs of it. */
function SoFar({
  form,
  medicine,
  containers,
}: {
  form: FormState<MakeUpValues>;
  medicine: string;
  containers: readonly Container[];
}) {
  const { values } = form;
  const call = useCall('medicine', { medicine });
  if (call.state !== 'ready') return null;
  const first = takingsOf(values.from)[0];
  const revision = containers.find((one) => one.container === first?.container)?.revision;
  const terms = call.value.revisions.find((one) => one.revision === revision)?.terms;
  if (terms === undefined || first?.amount.trim() === '' || values.liquid.trim() === '') return null;
  const made = madeSoFar(values, terms, containers);
  if (!made.ok) {
    return (
      <p className="hint" role="status">
        {made.error.message} {made.error.next}
      </p>
    );
  }
  const { perMl, unit, says, working, warnings } = made.value;
  return (
    <Result
      label="It becomes"
      big={`${toPlaces(perMl, 2)} ${unit} in each mL`}
      working={printWorking(working)}
      warnings={warnings}
    >
      <p>{says}</p>
    </Result>
  );
}
