import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { sayOldWeights } from '../../../src-shared/flock/weight-age.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import { useCall } from '../../hooks/use-call.ts';
import { type FormState, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { EmergencyHere } from '../../parts/emergency.tsx';
import { Field, Tick } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { ChangingSentences, Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { count, listed } from '../../parts/words.ts';
import { go } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';
import { ChecksOpen } from './checks-open.tsx';
import { awayAsk, DueAway } from './due-away.tsx';
import { Parts } from './grouping-shown.tsx';
import { LastThree } from './last-three.tsx';
import { MassInstructions } from './mass-instruction.tsx';
import {
  chosenIn,
  type Exception,
  exceptionsOf,
  instructionFor,
  type MassValues,
  massProblems,
  massSend,
  printException,
} from './mass-values.ts';
import { MassWhere } from './mass-where.tsx';
import { Short } from './short.tsx';
import { Starts, Weights } from './starts.tsx';
import { hasPlaces, isInjected, routeInWords, TECHNIQUE_SOURCE, techniqueOf } from './words.ts';

type Session = Reply<'session'>;

/** Everybody who waits in one deed, but for exceptions named by their tag; lots by tally, marked or not. */
export function RunMass({ id, session }: { id: string; session: Session }) {
  const { session: row, waiting, mark } = session;
  const lots = waiting.filter((one) => one.heads > 1);
  const form = useForm<MassValues>(`treat/mass/${id}`, {
    except: [],
    // A lot of which nothing is typed is done whole, however many it has by then.
    heads: [],
    marked: [],
    instructions: [],
    given: '',
    lost: '',
    lostWhy: 'Priming the gun',
    site: '',
    side: '',
    needle: '',
  });
  const [written, setWritten] = useState<Reply<'treat-many'> | undefined>(undefined);
  // By the plan, and as many as there are lambs: said once.
  const inGroup = written?.deviations.filter(({ code }) => code === 'group-dose').length ?? 0;
  const write = useWrite('treat-many', (reply) => {
    setWritten(reply);
    void form.drop();
  });
  useCommand('pause-session', () => go({ to: 'treat' }));
  useCommand('work-sheet', () => go({ to: 'treat/session/:session/sheet', params: { session: id } }));
  useCommand('close-session', () => go({ to: 'treat/session/:session/close', params: { session: id } }));
  const heads = waiting.reduce((sum, one) => sum + one.heads, 0);
  const except = exceptionsOf(form.values.except);
  const going = waiting.filter((one) => !except.some((item) => item.subject === one.subject));
  const isSingle = session.lines.length === 1;
  const farm = useCall('farm', {});
  const today = farm.state === 'ready' ? farm.value.clock.today : undefined;

  const send = () => {
    const problems = massProblems(form.values, waiting);
    if (problems.length > 0) return form.show(problems);
    write.next();
    void write.send(massSend(id, form.values, waiting));
  };

  return (
    <Screen
      title={row.name}
      lead={
        <>
          {row.lines.join(' · ')}. <strong>{count(row.treated, 'head', 'head')} done</strong>, {heads}{' '}
          waiting.
        </>
      }
      deeds={
        <>
          <DeedLink to="treat">Pause and leave</DeedLink>
          <DeedLink to="treat/session/:session" params={{ session: id }} query={{ way: 'each' }}>
            Take one animal by itself
          </DeedLink>
          <DeedLink to="treat/session/:session/ready" params={{ session: id }}>
            Before starting
          </DeedLink>
          <DeedLink to="treat/session/:session/sheet" params={{ session: id }}>
            Work sheet
          </DeedLink>
          <DeedLink to="treat/session/:session/close" params={{ session: id }}>
            Close the session
          </DeedLink>
          <EmergencyHere session={id} isInjected={session.lines.some((line) => isInjected(line.route))} />
        </>
      }
    >
      {written === undefined ? null : (
        <Notice kind="done">
          <p>
            {count(written.heads, 'head', 'head')} written, {written.quantity}.
          </p>
          {inGroup === 0 ? null : (
            <p>
              {count(inGroup, 'animal got', 'animals got')} the dose of the group, more than by its own
              weight. The book says it for each.
            </p>
          )}
          {written.deviations
            .filter(({ code }) => code !== 'group-dose')
            .map((one) => (
              <p key={`${one.code} ${one.text}`}>{one.text}</p>
            ))}
        </Notice>
      )}
      <ChecksOpen session={id} />
      {waiting.length === 0 ? (
        <Empty
          deed={
            <DeedLink to="treat/session/:session/close" params={{ session: id }} weight="main">
              Close the session
            </DeedLink>
          }
        >
          Everybody who was planned has a record. Count the heads and close.
        </Empty>
      ) : (
        <Form
          form={form}
          write={write}
          deed={`Write ${count(headsGoing(going, form.values), 'head', 'head')} in the book`}
          onSend={send}
        >
          <Section title="What they get">
            {session.lines.map((line) => (
              <DueAway
                key={line.line}
                asked={awayAsk(
                  going.map((one) => one.subject),
                  { ...line, instruction: instructionFor(form.values, line) },
                )}
              />
            ))}
            <Sentences label="What they get">
              {session.lines.map((line) => (
                <Sentence
                  key={line.line}
                  margin={routeInWords(line.route)}
                  // Where places are worked out, how it is done stands with them below.
                  {...(hasPlaces(line.route)
                    ? {}
                    : { small: [...techniqueOf(line.route), TECHNIQUE_SOURCE].join(' ') })}
                >
                  <strong>{line.name}</strong>: {line.says} {line.needs.text} for all who wait
                  {line.draws.length === 0
                    ? ''
                    : `, from ${line.draws.map((draw) => draw.label).join(', then ')}`}
                  .{line.short === undefined ? null : <strong> {line.short.text} is missing.</strong>}
                </Sentence>
              ))}
            </Sentences>
            {session.lines.map((line) =>
              line.grouping === undefined ? null : (
                <Parts key={line.line} group={line.grouping} label={`Parts, ${line.name}`} />
              ),
            )}
            <Weights
              waiting={waiting}
              old={today === undefined ? undefined : sayOldWeights(waiting, today as Day)}
            />
            <MassInstructions session={id} going={going} form={form} />
            <Starts id={id} waiting={waiting} instructions={chosenIn(form.values)} />
          </Section>
          {session.lines.some((line) => hasPlaces(line.route)) ? (
            <Section title="Where, and with which needle">
              <MassWhere id={id} session={session} form={form} />
            </Section>
          ) : null}
          <Section title="Who did not get it">
            <LeftBefore waiting={going} />
            <Exceptions form={form} waiting={waiting} except={except} />
          </Section>
          {lots
            .filter((lot) => going.includes(lot))
            .map((lot) => (
              <Tally key={lot.subject} form={form} lot={lot} mark={mark} />
            ))}
          {isSingle ? (
            <Section title="What was different">
              <Field
                {...form.text('given')}
                label="What went in, a head"
                hint="Only if it was not what was worked out. With its unit, as in 2 mL."
                size={10}
                optional
              />
              <Field
                {...form.text('lost')}
                label="Lost"
                hint={
                  session.lines.some((line) => isInjected(line.route))
                    ? 'Priming, spilt, left in the gun. With its unit.'
                    : 'Priming, spilt, left in the drench gun. With its unit.'
                }
                size={10}
                optional
              />
              {form.values.lost === '' ? null : (
                <Field {...form.text('lostWhy')} label="How it was lost" size={24} />
              )}
            </Section>
          ) : (
            <p className="hint">
              Several medicines go in at once, so what was lost of one is written under Cabinet, on its
              bottle.
            </p>
          )}
          <Short
            lines={session.lines}
            does={`Pressing writes ${count(headsGoing(going, form.values), 'head', 'head')} as treated all the same: the last bottle then stands below nothing until it is counted. Leave out those that got none.`}
          />
        </Form>
      )}
      {session.last.length === 0 ? null : (
        <Section title="The last ones">
          <LastThree rows={session.last} pending={undefined} />
        </Section>
      )}
    </Screen>
  );
}

function headsGoing(going: Session['waiting'], values: MassValues): number {
  const tally = new Map(values.heads.map((item) => [item.split(' ')[0], Number(item.split(' ')[1])]));
  return going.reduce((sum, one) => sum + (tally.get(one.subject) || one.heads), 0);
}

/** Who was left out of an earlier run of this work: without a word this run counts as having treated them. */
function LeftBefore({ waiting }: { waiting: Session['waiting'] }) {
  const before = waiting.filter((one) => one.leftOut !== undefined);
  if (before.length === 0) return null;
  const named = before.slice(0, 20).map((one) => `${one.shown} (${one.leftOut})`);
  const more = before.length - named.length;
  return (
    <Notice kind="mind" word="Left out before">
      <p>
        {listed(more > 0 ? [...named, `${more} more`] : named)}. Whoever is not left out again below is
        written as treated by this run.
      </p>
    </Notice>
  );
}

function Exceptions({
  form,
  waiting,
  except,
}: {
  form: FormState<MassValues>;
  waiting: Session['waiting'];
  except: readonly Exception[];
}) {
  const [why, setWhy] = useState('Not there');
  const [wrong, setWrong] = useState<string | undefined>(undefined);
  const keep = (next: readonly Exception[]) => form.set({ except: next.map(printException) });
  return (
    <>
      <SubjectPicker
        name="except"
        label="Leave out, by tag"
        hint="Tag, Enter. Everybody else who waits counts as treated."
        error={wrong}
        onPick={(one) => {
          const isWaiting = waiting.some((each) => each.subject === one.subject);
          setWrong(isWaiting ? undefined : `${one.shown} does not wait in this session.`);
          if (!isWaiting || except.some((each) => each.subject === one.subject)) return;
          keep([...except, { subject: one.subject, shown: one.shown, why: why.trim() || 'Not treated' }]);
        }}
      />
      <Field
        name="why"
        value={why}
        onChange={setWhy}
        label="Because"
        list={['Not there', 'Refused it', 'Sick', 'Too light']}
        size={20}
      />
      {except.length === 0 ? null : (
        <ChangingSentences label="Left out">
          {except.map((one) => (
            <Sentence
              key={one.subject}
              margin="Left out"
              deed={<Deed onDo={() => keep(except.filter((each) => each !== one))}>It got it after all</Deed>}
            >
              <strong>{one.shown}</strong>: {one.why}
            </Sentence>
          ))}
        </ChangingSentences>
      )}
    </>
  );
}

/** How many of a lot were done, and whether those can be told from the others. */
function Tally({
  form,
  lot,
  mark,
}: {
  form: FormState<MassValues>;
  lot: Session['waiting'][number];
  mark: Session['mark'];
}) {
  const own = form.values.heads.find((item) => item.startsWith(`${lot.subject} `));
  const typed = own === undefined ? String(lot.heads) : own.slice(lot.subject.length + 1);
  const isMarked = form.values.marked.includes(lot.subject);
  const isPart = typed !== '' && Number(typed) !== lot.heads;
  const error = form.problems.find((problem) => problem.field === lot.subject)?.message;
  return (
    <Section title={lot.shown}>
      <Field
        name={lot.subject}
        value={typed}
        error={error}
        onChange={(value) =>
          form.set({
            heads: [
              ...form.values.heads.filter((item) => !item.startsWith(`${lot.subject} `)),
              `${lot.subject} ${value.trim()}`,
            ],
          })
        }
        label="Head done"
        readBack={`of ${count(lot.heads, 'head', 'head')}`}
        size={6}
        inputMode="numeric"
      />
      {!isPart ? null : mark === undefined ? (
        <Notice kind="mind" word="All held">
          <p>
            The session has no mark, so nobody can tell later which were done. All {lot.heads} of {lot.shown}{' '}
            are held.
          </p>
        </Notice>
      ) : (
        <Tick
          name={`${lot.subject}-marked`}
          value={isMarked}
          onChange={(value) =>
            form.set({
              marked: value
                ? [...form.values.marked, lot.subject]
                : form.values.marked.filter((one) => one !== lot.subject),
            })
          }
          label={`Those done are marked: ${mark.colour}, ${mark.place}`}
          hint={
            isMarked
              ? 'They become a lot of their own; the others are not held by this.'
              : `Unmarked, nobody can tell later which were done: all ${lot.heads} are held.`
          }
        />
      )}
    </Section>
  );
}
