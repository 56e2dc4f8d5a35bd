import './treat.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type FormState, useForm } from '../../hooks/use-form.ts';
import { useSteady } from '../../hooks/use-steady.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed } from '../../parts/deed.tsx';
import { Choice, Field, Select, Tick, Ticks } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { count } from '../../parts/words.ts';
import { go } from '../../router.tsx';
import { awayAsk, DueAway } from './due-away.tsx';
import { GroupingFields } from './grouping-fields.tsx';
import { LineFields } from './line-fields.tsx';
import { PlanKit } from './plan-kit.tsx';
import { PlanShown } from './plan-shown.tsx';
import { PlanStart, type PlanStarted } from './plan-start.tsx';
import {
  animalsOf,
  emptyLine,
  emptyPlan,
  linesOf,
  openAsk,
  type PlanLine,
  type PlanValues,
  planAsk,
  planProblems,
  printAnimal,
} from './plan-values.ts';
import { isInjected } from './words.ts';

const toTreat = () => go({ to: 'treat' });

/** Plans work at the race: who gets what; the plan stands beneath and changes with what is chosen. */
export default function PlanScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="Plan work at the race"
      lead="Choose who and what. Each dose, each bottle and everybody left out stand beneath before anything is written."
    >
      <Await call={farm} what="Reading the farm">
        {(value) => {
          if (value.counts.medicines === 0) {
            return (
              <Empty deed={<CommandDeed id="write-label" weight="main" />}>
                No medicine is on record yet. Write down the label of one first.
              </Empty>
            );
          }
          if (value.counts.animals + value.counts.lots === 0) {
            return (
              <Empty deed={<CommandDeed id="add-animal" weight="main" />}>
                No animal is in the book yet.
              </Empty>
            );
          }
          return <PlanStart>{(start) => <PlanForm holdings={value.holdings} start={start} />}</PlanStart>;
        }}
      </Await>
    </Screen>
  );
}

function PlanForm({ holdings, start }: { holdings: Reply<'farm'>['holdings']; start: PlanStarted }) {
  const form = useForm<PlanValues & { holding: string }>(start.key, {
    ...emptyPlan,
    ...start.values,
    holding: holdings[0]?.holding ?? '',
  });
  const { values } = form;
  const lines = linesOf(values.lines);
  const asked = planAsk(values.holding, values);
  const plan = useSteady('plan-session', asked);
  const shown = plan.state === 'ready' ? plan.value : undefined;
  const isSharp = shown?.lines.some((line) => isInjected(line.route)) === true;
  const hasLots = shown?.rows.some((row) => row.heads > 1) === true;
  const write = useWrite('open-session', ({ session }) => {
    void form.drop().then(() => go({ to: 'treat/session/:session', params: { session } }, { replace: true }));
  });
  const setLine = (n: number, change: Partial<PlanLine>) =>
    form.set({
      lines: lines.map((line, at) => JSON.stringify(at === n ? { ...line, ...change } : line)),
    });

  const send = () => {
    const problems = planProblems(values);
    if (problems.length > 0) return form.show(problems);
    void write.send(openAsk(values.holding, values, isSharp));
  };

  return (
    <Form
      form={form}
      write={write}
      deed="Open the session"
      onSend={send}
      onLeave={toTreat}
      note={missing(values)}
    >
      <Section title="Who">
        {holdings.length < 2 ? null : (
          <Select
            {...form.text('holding')}
            label="Holding"
            options={holdings.map((one) => ({ value: one.holding, label: one.name }))}
          />
        )}
        <Who form={form} />
      </Section>
      {lines.map((line, n) => (
        // Lines have no id of their own; they are only added and removed at the end.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <Section key={n} title={lines.length === 1 ? 'What' : `Medicine ${n + 1}`}>
          <LineFields
            name={`line${n}`}
            line={line}
            problems={form.problems}
            onChange={(change) => setLine(n, change)}
          />
          <GroupingFields
            name={`line${n}`}
            line={line}
            problems={form.problems}
            onChange={(change) => setLine(n, change)}
          />
        </Section>
      ))}
      <p className="deeds form-deeds">
        {lines.length >= 10 ? null : (
          <Deed onDo={() => form.set({ lines: [...values.lines, JSON.stringify(emptyLine)] })}>
            Another medicine at the same time
          </Deed>
        )}
        {lines.length < 2 ? null : (
          <Deed onDo={() => form.set({ lines: values.lines.slice(0, -1) })}>Take the last medicine out</Deed>
        )}
      </p>
      <Section title="How">
        <Field {...form.text('name')} label="Name of the work" hint="As in Spring drench, ewes." size={28} />
        <Choice
          {...form.text('mode')}
          label="Run"
          options={[
            { value: 'each', label: 'Animal by animal', hint: 'tag, weight, dose, next' },
            {
              value: 'mass',
              label: 'All at once',
              hint: 'everybody in one deed, exceptions by tag, lots by count',
            },
          ]}
        />
        {hasLots || values.marked ? <Mark form={form} /> : null}
        {isSharp ? (
          <Field
            {...form.text('sharpsOut')}
            label="Needles out"
            hint="Counted out now, counted back when the session is closed."
            size={6}
            inputMode="numeric"
            optional
          />
        ) : null}
      </Section>
      <Section title="The plan">
        {(asked?.lines ?? []).map((line) => (
          <DueAway
            key={`${line.medicine} ${line.doseLine ?? ''}`}
            asked={{ ...awayAsk(asked?.subjects ?? [], line), groups: asked?.groups ?? [] }}
          />
        ))}
        <PlanShown
          plan={plan}
          isAsked={asked !== null}
          onSyringe={(n, syringe) => setLine(lineAt(lines, n), { syringe })}
        />
      </Section>
      <PlanKit asked={asked} />
    </Form>
  );
}

/** What is still to be said before it can be opened, beside the button. */
function missing(values: PlanValues): string | undefined {
  const problems = planProblems(values);
  return problems.length === 0 ? undefined : `Not yet: ${problems.map(({ message }) => message).join(' ')}`;
}

/** A plan leaves out lines whose medicine is not chosen yet: the line of the form behind the n-th of the plan. */
function lineAt(lines: readonly PlanLine[], n: number): number {
  const chosen = lines.flatMap((line, at) => (line.medicine === '' ? [] : [at]));
  return chosen[n] ?? n;
}

function Mark({ form }: { form: FormState<PlanValues & { holding: string }> }) {
  return (
    <>
      <Tick
        {...form.tick('marked')}
        label="Those treated get a mark"
        hint="Part of a lot that is marked becomes a lot of its own. Without a mark the whole lot is held."
      />
      {form.values.marked ? (
        <>
          <Field
            {...form.text('colour')}
            label="Colour"
            size={12}
            list={['blue', 'red', 'green', 'purple']}
          />
          <Field
            {...form.text('place')}
            label="Place"
            size={16}
            list={['shoulder', 'rump', 'back of the head']}
          />
          <Field
            {...form.text('lastsDays')}
            label="Can be read for"
            readBack="days"
            size={4}
            inputMode="numeric"
          />
        </>
      ) : null}
    </>
  );
}

function Who({ form }: { form: FormState<PlanValues & { holding: string }> }) {
  const groups = useCall('groups', {});
  const lots = useCall('lots', {});
  const animals = animalsOf(form.values.animals);
  const error = form.problems.find((problem) => problem.field === 'animals')?.message;
  return (
    <Await call={groups} what="Reading the groups">
      {({ groups: named }) => (
        <Await call={lots} what="Reading the lots">
          {({ lots: counted }) => (
            <>
              <div className="race-pick">
                {named.length === 0 ? null : (
                  <Ticks
                    {...form.list('groups')}
                    label="Groups"
                    options={named.map((one) => ({
                      value: one.group,
                      label: one.name,
                      hint: count(one.heads, 'head', 'head'),
                    }))}
                  />
                )}
                {counted.length === 0 ? null : (
                  <Ticks
                    {...form.list('lots')}
                    label="Lots"
                    options={counted.map((one) => ({
                      value: one.subject,
                      label: one.shown,
                      hint: `${count(one.heads, 'head', 'head')}, ${one.class.replace('-', ' ')}`,
                    }))}
                  />
                )}
              </div>
              <SubjectPicker
                name="animals"
                label="Animals, by tag"
                hint="Tag, Enter, the next one."
                error={error}
                onPick={(one) =>
                  form.set(({ animals: now }) =>
                    animalsOf(now).some((each) => each.subject === one.subject)
                      ? {}
                      : { animals: [...now, printAnimal(one.subject, one.shown)] },
                  )
                }
              />
              {animals.length === 0 ? null : (
                <Sentences label="Animals chosen">
                  {animals.map((one) => (
                    <Sentence
                      key={one.subject}
                      margin="Chosen"
                      deed={
                        <Deed
                          onDo={() =>
                            form.set({
                              animals: form.values.animals.filter(
                                (text) => !text.startsWith(`${one.subject}\t`),
                              ),
                            })
                          }
                        >
                          Take it out
                        </Deed>
                      }
                    >
                      {one.shown}
                    </Sentence>
                  ))}
                </Sentences>
              )}
            </>
          )}
        </Await>
      )}
    </Await>
  );
}
