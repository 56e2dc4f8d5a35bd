import './treat.css';
import { useState } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { parseWeight } from '../../../src-shared/quantity/weight.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type FormState, useForm } from '../../hooks/use-form.ts';
import { useWeightKnown } from '../../hooks/use-weight-known.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { useWriter } from '../../hooks/use-writer.ts';
import { Await } from '../../parts/await.tsx';
import { WhenField } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Result } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { WeightHow } from '../../parts/weight-how.tsx';
import { go, useLocation } from '../../router.tsx';
import { CourseFields } from './course-fields.tsx';
import { DoseShown } from './dose-shown.tsx';
import { awayAsk, DueAway } from './due-away.tsx';
import { LEAKED_HINT } from './leaked-values.ts';
import { LineFields } from './line-fields.tsx';
import { OutsideLabel } from './one-outside.tsx';
import { courseSaid, doseLineOf, NO_COURSE, type OneValues, oneProblems, oneSend } from './one-values.ts';
import { OneWhere } from './one-where.tsx';
import { emptyLine, lineAsk, linesOf, type PlanLine, syringeSaid } from './plan-values.ts';
import { ScanBottle } from './scan-bottle.tsx';
import { SAID_OF_STOCK, StockOfLine } from './stock-of-line.tsx';
import { isInjected, routeOptions, sideOptions, sites } from './words.ts';

type Subject = Reply<'subject'>;

/** One treatment by itself: now, or written down late with when it was and who gave it. */
export default function OneScreen() {
  const { query } = useLocation();
  const [written, setWritten] = useState<Reply<'treat'> | undefined>(undefined);
  return (
    <Screen
      title="Write down one treatment"
      lead="For one animal or lot by itself, now or earlier. What really happened is always taken."
    >
      {written === undefined ? (
        <OneForm
          subject={query.subject ?? ''}
          hold={query.hold}
          session={query.session}
          start={query}
          onWritten={setWritten}
        />
      ) : (
        <Written written={written} session={query.session} onNext={() => setWritten(undefined)} />
      )}
    </Screen>
  );
}

function Written({
  written,
  session,
  onNext,
}: {
  written: Reply<'treat'>;
  session: string | undefined;
  onNext: () => void;
}) {
  const held = written.holds.filter((hold) => hold.state !== 'none' && hold.state !== 'dormant');
  return (
    <>
      <Result label="Written in the book" big={written.quantity}>
        {held.length === 0 ? (
          <p>Nothing of it is held.</p>
        ) : (
          held.map((hold) => <p key={hold.text}>{hold.text}</p>)
        )}
      </Result>
      {written.deviations.length === 0 ? null : (
        <Notice kind="mind" word="Otherwise">
          {written.deviations.map((one) => (
            <p key={`${one.code} ${one.text}`}>{one.text}</p>
          ))}
        </Notice>
      )}
      <p className="deeds">
        {session === undefined ? (
          <Deed weight="main" onDo={onNext}>
            Write down another
          </Deed>
        ) : (
          <DeedLink to="treat/session/:session" params={{ session }} weight="main">
            Back to the session
          </DeedLink>
        )}
        <DeedLink to="treat">All sessions</DeedLink>
      </p>
    </>
  );
}

function OneForm({
  subject,
  hold,
  session,
  start,
  onWritten,
}: {
  subject: string;
  hold: string | undefined;
  session: string | undefined;
  /** What it was opened for: a medicine, its dose line, an open course. */
  start: Readonly<Record<string, string>>;
  onWritten: (written: Reply<'treat'>) => void;
}) {
  const { medicine = '', doseLine = '', course = NO_COURSE } = start;
  // Opened for one medicine it is another unfinished form than the one begun with none chosen.
  const form = useForm<OneValues>(`treat/one/${subject}${medicine === '' ? '' : `/${medicine}`}${course}`, {
    subject,
    lines: [JSON.stringify({ ...emptyLine, medicine, doseLine })],
    heads: '',
    weight: '',
    weightHow: 'scale',
    girth: '',
    length: '',
    leaked: '',
    given: '',
    route: '',
    bottle: '',
    site: '',
    side: '',
    needle: '',
    when: session === undefined ? 'now' : 'earlier',
    at: '',
    givenBy: '',
    course,
    days: [],
  });
  const { values } = form;
  const resolve = useWrite('resolve-possible');
  const write = useWrite('treat', (reply) => {
    const end = async () => {
      // What is now on record is held by its record, and no longer because nobody knows.
      if (hold !== undefined) {
        await resolve.send({
          hold,
          subject: values.subject,
          how: 'recorded-late',
          why: 'Recorded after the session was closed',
        });
      }
      await form.drop();
      onWritten(reply);
    };
    void end();
  });
  const about = useCall('subject', values.subject === '' ? null : { subject: values.subject });
  const leave = () =>
    session === undefined ? go({ to: 'treat' }) : go({ to: 'treat/session/:session', params: { session } });

  const send = () => {
    const problems = oneProblems(values);
    if (problems.length > 0) return form.show(problems);
    void write.send(oneSend(values));
  };

  return (
    <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={leave}>
      {resolve.now.state === 'failed' ? <FaultNotice fault={resolve.now.fault} /> : null}
      {values.subject === '' ? (
        <SubjectPicker
          label="Tag, chip or lot"
          error={form.problems.find((problem) => problem.field === 'subject')?.message}
          onPick={(one) => form.set({ subject: one.subject })}
        />
      ) : (
        <Await call={about} what="Reading the animal">
          {(found) => (
            <Rest
              form={form}
              about={found}
              onOther={() => form.set({ subject: '', weight: '', heads: '' })}
            />
          )}
        </Await>
      )}
    </Form>
  );
}

function Rest({ form, about, onOther }: { form: FormState<OneValues>; about: Subject; onOther: () => void }) {
  const { values } = form;
  const { who } = about;
  const sayKnown = useWeightKnown();
  const line = linesOf(values.lines)[0] ?? emptyLine;
  const medicine = useCall('medicine', line.medicine === '' ? null : { medicine: line.medicine });
  const terms =
    line.medicine !== '' && medicine.state === 'ready' ? medicine.value.revisions[0]?.terms : undefined;
  const doseLine = terms === undefined ? undefined : doseLineOf(terms, line.doseLine, who.class);
  const setLine = (change: Partial<PlanLine>) =>
    form.set({ lines: [JSON.stringify({ ...line, ...change })] });
  return (
    <>
      <Sentences label="Whom">
        <Sentence
          margin="Whom"
          deed={<Deed onDo={onOther}>Another animal or lot</Deed>}
          small={who.weight === undefined ? 'No weight is in the book.' : undefined}
        >
          <strong>{who.shown}</strong>, {who.class.replace('-', ' ')}
          {who.heads > 1 ? `, ${who.heads} head` : ''}
          {who.present ? '' : ', no longer here by the book'}
        </Sentence>
      </Sentences>
      <Section title="What">
        <LineFields name="line" line={line} problems={form.problems} onChange={setLine} />
        <Field
          {...form.text('weight')}
          label="Weight"
          hint={
            who.weight === undefined
              ? 'With kg or lb.'
              : `Left empty it is ${sayKnown({ ...who, weight: who.weight })}.${about.predicted === undefined ? '' : ` ${about.predicted}`}`
          }
          size={8}
          inputMode="decimal"
          optional
        />
        <WeightHow
          how={form.text('weightHow')}
          girth={form.text('girth')}
          length={form.text('length')}
          onPut={({ how, ...rest }) =>
            form.set({ ...rest, ...(how === undefined ? {} : { weightHow: how }) })
          }
        />
        {who.heads > 1 ? (
          <Field
            {...form.text('heads')}
            label="How many head"
            hint={`Left empty: all ${who.heads}. With fewer, the whole lot is held.`}
            size={6}
            inputMode="numeric"
            optional
          />
        ) : null}
      </Section>
      {line.medicine === '' ? null : <Worked form={form} about={about} line={line} />}
      <Section title="As it was">
        <When form={form} />
        <Field
          {...form.text('given')}
          label="What went in"
          hint="Only if it was not what was worked out. With its unit, as in 3.2 mL."
          size={10}
          optional
        />
        <Select {...form.text('route')} label="How it went in" options={routeOptions} />
        <Field {...form.text('leaked')} label="Leaked back" hint={LEAKED_HINT} size={10} optional />
        {line.source === 'ours' && line.medicine !== '' ? (
          <Bottle form={form} medicine={line.medicine} />
        ) : null}
        {doseLine !== undefined && isInjected(values.route === '' ? doseLine.route : values.route) ? (
          <>
            <Field {...form.text('site')} label="Where it went in" list={sites} size={20} optional />
            <Select {...form.text('side')} label="Side" options={sideOptions} />
            <Field {...form.text('needle')} label="Needle" hint="As in 18G, 1 in." size={12} optional />
          </>
        ) : null}
      </Section>
      {line.medicine === '' ? null : (
        <OutsideLabel form={form} line={line} onChoose={(instruction) => setLine({ instruction })} />
      )}
      {doseLine === undefined ? null : (
        <CourseFields form={form} subject={values.subject} medicine={line.medicine} doseLine={doseLine} />
      )}
    </>
  );
}

function When({ form }: { form: FormState<OneValues> }) {
  const { writers, name } = useWriter();
  return (
    <>
      <Choice
        {...form.text('when')}
        label="When"
        options={[
          { value: 'now', label: 'Now' },
          {
            value: 'earlier',
            label: 'Earlier',
            hint: 'the book keeps both: when it happened, when it was written',
          },
        ]}
      />
      {form.values.when === 'now' ? null : (
        <WhenField {...form.text('at')} label="Given on" hint="Day and time." />
      )}
      {writers.length < 2 ? null : (
        <Select
          {...form.text('givenBy')}
          label="Given by"
          options={[
            { value: '', label: `${name}, who writes` },
            ...writers.map((one) => ({ value: one.person, label: one.name })),
          ]}
        />
      )}
    </>
  );
}

function Bottle({ form, medicine }: { form: FormState<OneValues>; medicine: string }) {
  const cabinet = useCall('cabinet', { medicine });
  const bottles = cabinet.state === 'ready' ? cabinet.value.containers : [];
  return (
    <>
      <ScanBottle name="scan" medicine={medicine} onPick={(bottle) => form.set({ bottle })} />
      <Select
        {...form.text('bottle')}
        label="Bottle"
        options={[
          { value: '', label: 'The one with the earliest use-by' },
          ...bottles.map((one) => ({
            value: one.container,
            label: `${one.label}: ${one.left.text} left, use by ${one.useBy}`,
          })),
        ]}
      />
    </>
  );
}

/** The dose by the label for this animal, before anything is written. */
function Worked({ form, about, line }: { form: FormState<OneValues>; about: Subject; line: PlanLine }) {
  const { values } = form;
  const { who, holding } = about;
  const farm = useCall('farm', {});
  const unit =
    farm.state === 'ready'
      ? farm.value.holdings.find((one) => one.holding === holding)?.weightUnit
      : undefined;
  const weight = attempt(() => parseWeight(values.weight, 'weight', { unit }));
  const ask: Ask<'plan-session'> = {
    holding,
    subjects: [who.subject],
    lines: [lineAsk(line, 'Plan')],
    ...(weight.ok ? { weight: `${weight.value.value} ${weight.value.unit}` } : {}),
    ...(values.when === 'earlier' && values.at !== '' ? { on: values.at } : {}),
    ...courseSaid(values),
  };
  const plan = useCall('plan-session', ask);
  if (plan.state === 'failed') return <FaultNotice fault={plan.fault} />;
  if (plan.state === 'loading') return null;
  const { rows, leftOut, lines, warnings } = plan.value;
  const planned = lines[0];
  const why = leftOut[0]?.why;
  const dose = rows[0]?.doses[0];
  if (planned === undefined) return null;
  return (
    <>
      <DueAway asked={awayAsk([who.subject], line, values.when === 'earlier' ? values.at : '')} />
      <DoseShown
        line={{
          line: 'one',
          name: planned.name,
          route: planned.route,
          dose: dose ?? null,
          draws: planned.draws,
          ...(why === undefined
            ? {}
            : {
                refused: {
                  code: why.code,
                  text: `${why.text} If it was given all the same, write below how much went in.`,
                },
              }),
        }}
        medicine={line.medicine}
        syringe={syringeSaid(line)}
        source={line.source}
        heads={who.heads}
        more={[...warnings, ...planned.warnings.filter((one) => !SAID_OF_STOCK.has(one.code))]}
        where={
          dose == null ? undefined : (
            <OneWhere form={form} line={line} planned={planned} dose={dose} weight={ask.weight} />
          )
        }
      />
      {dose == null || line.source !== 'ours' || values.course === NO_COURSE ? null : (
        <StockOfLine line={planned} />
      )}
    </>
  );
}
