import { type KeyboardEvent, useEffect, useId, useRef } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { commandOf } from '../../../src-shared/commands.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useWeightKnown } from '../../hooks/use-weight-known.ts';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { EmergencyHere } from '../../parts/emergency.tsx';
import { Field, FormScope } from '../../parts/field.tsx';
import { Keys } from '../../parts/keys.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Question } from '../../parts/question.tsx';
import { Screen } from '../../parts/screen.tsx';
import { WeightHow } from '../../parts/weight-how.tsx';
import { weighedHowOf } from '../../parts/weight-values.ts';
import { count } from '../../parts/words.ts';
import { go } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';
import { ChecksOpen } from './checks-open.tsx';
import { DoseShown } from './dose-shown.tsx';
import { awayAsk, DueAway } from './due-away.tsx';
import { GunsDue } from './guns-due.tsx';
import { LastThree } from './last-three.tsx';
import { useNeedleMarks } from './needle-marks.ts';
import { Otherwise } from './otherwise.tsx';
import { ReadBox } from './read-box.tsx';
import { RunOutside } from './run-outside.tsx';
import { RunWhere } from './run-where.tsx';
import type { DoseFor } from './sends.ts';
import { Short } from './short.tsx';
import { useOtherwise } from './use-otherwise.ts';
import { type Asking, type Run, useRun } from './use-run.ts';
import { Waiting } from './waiting.tsx';
import { isInjected } from './words.ts';

type Session = Reply<'session'>;

/** Animal by animal: tag, Enter, weight, Enter, dose, Enter, next. */
export function RunEach({ id, session }: { id: string; session: Session }) {
  const run = useRun(id, session);
  const scope = useId();
  const form = useRef<HTMLFormElement>(null);
  const { stage } = run;
  const { isReady, values } = run.form;
  const otherwise = useOtherwise(session.lines, values, stage.at !== 'who');
  const { session: row } = session;
  const left = session.waiting.reduce((sum, one) => sum + one.heads, 0);

  useCommand('pause-session', () => go({ to: 'treat' }));
  useCommand('work-sheet', () => go({ to: 'treat/session/:session/sheet', params: { session: id } }));
  useCommand('close-session', () => go({ to: 'treat/session/:session/close', params: { session: id } }));
  useCommand('save', () => form.current?.requestSubmit());

  // Each step has one place where the hand goes on; the cursor is always there.
  const who = stage.at === 'who' ? '' : stage.dose.who.subject;
  useEffect(() => {
    if (!isReady) return;
    const wanted: Record<typeof stage.at, string> = { who: 'read', weight: 'weight', dose: 'record' };
    form.current?.querySelector<HTMLElement>(`[name="${wanted[stage.at]}"]`)?.focus();
    // A new animal needs the cursor anew even when the step is the same.
    void who;
  }, [stage.at, isReady, who]);

  const press = (event: KeyboardEvent) => {
    // A key held down is one Enter, not one animal after the other.
    if (event.key === 'Enter' && event.repeat) event.preventDefault();
    if (event.key !== 'Escape' || event.defaultPrevented) return;
    if (stage.at === 'who' && run.looking.state !== 'many') return;
    event.preventDefault();
    run.back();
    form.current?.querySelector<HTMLElement>('[name="read"]')?.focus();
  };

  return (
    <Screen
      title={row.name}
      lead={
        <>
          {row.lines.join(' · ')}. <strong>{count(row.treated, 'head', 'head')} done</strong>, {left} waiting.
        </>
      }
      deeds={
        <>
          <DeedLink to="treat">Pause and leave</DeedLink>
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
      <div className="race-board">
        <div className="race-work">
          {stage.at === 'who' ? (
            <Short
              lines={session.lines}
              does="Each is recorded as it happens; what is more than the book has leaves the bottle below nothing until it is counted."
            />
          ) : null}
          <FormScope value={scope}>
            <form
              ref={form}
              className="form race"
              noValidate
              onKeyDown={press}
              onSubmit={(event) => {
                event.preventDefault();
                run.enter();
              }}
            >
              {run.trouble === undefined ? null : <FaultNotice fault={run.trouble} />}
              {stage.at === 'who' ? <GunsDue lines={session.lines} /> : null}
              {!isReady ? (
                <p className="awaited" role="status">
                  Looking for what was half typed…
                </p>
              ) : stage.at === 'who' ? (
                <ReadBox run={run} />
              ) : (
                <Animal run={run} dose={stage.dose} session={session} isOtherwise={otherwise} />
              )}
            </form>
          </FormScope>
          {run.asking === undefined ? null : <Stops asking={run.asking} />}
          <ChecksOpen session={id} />
          <LastThree rows={session.last} pending={run.pending} />
        </div>
        <div className="race-side">
          <Waiting session={session} now={stage.at === 'who' ? undefined : who} onPick={run.pick} />
        </div>
      </div>
    </Screen>
  );
}

/** How the weight that was typed just now is known. */
const NOW_BY = {
  scale: 'weighed now',
  crate: 'weighed now in the crate',
  tape: 'by tape now, an estimate',
  eye: 'by eye now',
} as const;

/** One animal: who it is, what it weighs, what it gets. */
function Animal({
  run,
  dose,
  session,
  isOtherwise,
}: {
  run: Run;
  dose: DoseFor;
  session: Session;
  isOtherwise: { isOpen: boolean; open: () => void };
}) {
  const { form, stage } = run;
  const { who } = dose;
  const markOf = useNeedleMarks();
  const sayKnown = useWeightKnown();
  const isWeighing = stage.at === 'weight';
  const typed = (form.values.weight ?? '').trim();
  const command = commandOf('given-otherwise');
  // While another weight is being typed, a dose by the last one must not stand there to be drawn up.
  const isDoseShown = !isWeighing || typed === '';
  return (
    <>
      <h2 className="race-who" aria-live="polite">
        {who.shown}
        <small>
          {who.class.replace('-', ' ')}
          {who.heads > 1 ? `, ${count(who.heads, 'head', 'head')}` : ''}
          {markOf(who.subject)}
        </small>
      </h2>
      {isWeighing ? (
        <>
          <Weight run={run} dose={dose} />
          {who.heads > 1 ? (
            <Field
              {...form.text('heads')}
              label="How many head"
              size={6}
              inputMode="numeric"
              optional
              hint={`Enter takes all ${who.heads}. With fewer nobody can tell later which: the whole lot is held. Marked ones become a lot of their own in a mass run.`}
            />
          ) : null}
        </>
      ) : (
        <p className="race-weight">
          {who.weight === undefined
            ? 'No weight'
            : typed === ''
              ? `${sayKnown({ ...who, weight: who.weight })}: the last weight`
              : `${who.weight}, ${NOW_BY[weighedHowOf(form.values.weightHow ?? '')]}`}
          {form.values.heads === '' || who.heads === 1 ? '' : `, ${form.values.heads} of ${who.heads} head`}
        </p>
      )}
      {dose.oldWeight === undefined || typed !== '' ? null : (
        <Notice kind="mind" word="Old">
          <p>{dose.oldWeight}</p>
        </Notice>
      )}
      {isDoseShown ? (
        <div className={isWeighing ? 'race-doses race-doses-soon' : 'race-doses'}>
          {isWeighing && who.weight !== undefined ? <p className="hint">By the last weight:</p> : null}
          {session.lines.map((line) => (
            <DueAway key={line.line} asked={awayAsk([who.subject], line)} />
          ))}
          {dose.doses.map((line) => {
            const planned = session.lines.find((one) => one.line === line.line);
            return (
              <DoseShown
                key={line.line}
                line={line}
                medicine={planned?.medicine ?? ''}
                syringe={planned?.syringe}
                source={planned?.source ?? 'ours'}
                heads={who.heads}
                isMindShown={!isWeighing}
                {...(isWeighing
                  ? {}
                  : { where: <RunWhere run={run} dose={dose} line={line} planned={planned} /> })}
              />
            );
          })}
        </div>
      ) : null}
      {isWeighing ? null : <RunOutside run={run} dose={dose} session={session} />}
      {isOtherwise.isOpen ? <Otherwise form={form} dose={dose} session={session} /> : null}
      <p className="deeds race-deeds">
        {isWeighing ? (
          <Deed submits weight="main">
            {typed === '' ? 'Go on with this weight' : 'Work out the dose'}
          </Deed>
        ) : (
          // Named, so that the cursor can be put on it; Enter on it is the Enter that records.
          <button type="submit" name="record" className="deed deed-main">
            Record it
          </button>
        )}
        <Deed onDo={run.back}>{isWeighing ? 'Another animal' : 'Back to the weight'}</Deed>
        <Keys shortcut="Esc" />
        {isOtherwise.isOpen ? null : (
          <span className="command-deed">
            <Deed onDo={isOtherwise.open}>{command.name}</Deed>
            <Keys shortcut={command.shortcut ?? ''} />
          </span>
        )}
      </p>
    </>
  );
}

function Weight({ run, dose }: { run: Run; dose: DoseFor }) {
  const farm = useCall('farm', {});
  const unit = farm.state === 'ready' ? farm.value.holdings[0]?.weightUnit : undefined;
  const { who } = dose;
  const sayKnown = useWeightKnown();
  const last =
    who.weight === undefined
      ? 'No weight is in the book.'
      : `Enter keeps ${sayKnown({ ...who, weight: who.weight })}.`;
  const { form } = run;
  return (
    <>
      <Field
        {...form.text('weight')}
        label={`Weight${unit === undefined ? '' : `, ${unit}`}`}
        size={8}
        inputMode="decimal"
        hint={who.predicted === undefined ? last : `${last} ${who.predicted}`}
      />
      <WeightHow
        how={form.text('weightHow')}
        girth={form.text('girth')}
        length={form.text('length')}
        onPut={({ how, ...rest }) => form.set({ ...rest, ...(how === undefined ? {} : { weightHow: how }) })}
      />
    </>
  );
}

/** What must be looked at first. The cursor is on the harmless answer. */
function Stops({ asking }: { asking: Asking }) {
  return (
    <Question
      title="Stop, and look"
      onNo={asking.no}
      deeds={
        <>
          <Deed onDo={asking.no}>{asking.words.no}</Deed>
          <Deed weight="grave" onDo={asking.yes}>
            {asking.words.yes}
          </Deed>
        </>
      }
    >
      {asking.stops.map((stop) => (
        <p key={stop.code} className="race-stop">
          {/[.?!]$/.test(stop.text) ? stop.text : `${stop.text}.`}
        </p>
      ))}
    </Question>
  );
}
