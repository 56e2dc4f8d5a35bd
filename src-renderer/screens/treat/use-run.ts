import { useCallback, useEffect, useRef, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import { desk } from '../../desk.ts';
import { keptHere } from '../../hooks/kept-here.ts';
import { type FormState, useForm } from '../../hooks/use-form.ts';
import { useWrite, type Write } from '../../hooks/use-write.ts';
import { outsideStops } from './outside-stops.ts';
import {
  afterOne,
  type DoseFor,
  emptyRun,
  givenLines,
  type LineDose,
  sendsOf,
  stopsAtOnce,
  type TreatAsk,
} from './sends.ts';
import { drawerAsk, FROM_DRAWER } from './where-values.ts';

type Session = Reply<'session'>;
export type Found = Reply<'find-subject'>['found'][number];
type Stop = { code: string; text: string };

/** Where the work on one animal stands. */
export type Stage = { readonly at: 'who' } | { readonly at: 'weight' | 'dose'; readonly dose: DoseFor };

export type Looking =
  | { readonly state: 'idle' | 'looking' }
  | { readonly state: 'none'; readonly read: string }
  | { readonly state: 'many'; readonly found: readonly Found[] }
  | { readonly state: 'failed'; readonly fault: Fault };

/** Something that must be answered with yes before it goes on. */
export type Asking = {
  readonly stops: readonly Stop[];
  readonly yes: () => void;
  readonly no: () => void;
  /** What each answer does, in words: a bare yes to "is it pounds?" would write the kilograms. */
  readonly words: { readonly yes: string; readonly no: string };
};

export type Run = {
  readonly form: FormState<Record<string, string>>;
  readonly stage: Stage;
  readonly looking: Looking;
  readonly asking: Asking | undefined;
  /** The animal that is being written while the next one may already be read. */
  readonly pending: DoseFor | undefined;
  readonly trouble: Fault | undefined;
  readonly write: Write<'treat'>;
  /** Enter, wherever the work stands. */
  enter(): void;
  /** One step back; nothing is written by it. */
  back(): void;
  pick(subject: string): void;
  /** What stands on the screen as suggested for one medicine of the animal at hand: the book will have that. */
  shows(line: string, where: LineDose['where']): void;
};

/** The doses with another place for one of them; the very same doses when nothing is different. */
function withWhere(dose: DoseFor, line: string, where: LineDose['where']): DoseFor {
  const isSame = dose.doses.every(
    (each) => each.line !== line || JSON.stringify(each.where) === JSON.stringify(where),
  );
  if (isSame) return dose;
  return {
    ...dose,
    doses: dose.doses.map(({ where: before, ...each }) => {
      const now = each.line === line ? where : before;
      return now === undefined ? each : { ...each, where: now };
    }),
  };
}

/** Whether an amount or a way in was said that is not as worked out. */
function isDifferent(values: Readonly<Record<string, string>>): boolean {
  return Object.entries(values).some(([name, value]) => /^(given|route)\./.test(name) && value.trim() !== '');
}

function standingOf(session: Session, subject: string) {
  if (session.waiting.some((one) => one.subject === subject)) return 'waiting';
  if (session.last.some((one) => one.subject === subject)) return 'done';
  return session.leftOut.some((one) => one.subject === subject) ? 'left-out' : 'not-planned';
}

/** Of one that has a record of another medicine here only what is left, so that nothing is written twice. */
function notRecorded(session: Session, dose: DoseFor): DoseFor {
  const row = session.waiting.find((one) => one.subject === dose.who.subject);
  if (row?.isPartly !== true) return dose;
  return {
    ...dose,
    doses: dose.doses.filter(({ line }) => row.left.includes(line)),
    stops: dose.stops.filter(({ code }) => code !== 'already-treated'),
  };
}

/**
 * Work at the race, animal by animal: who, what it weighs, what it gets, written. What is half typed is kept by
 * the desk; what is written is in the book: after a crash it goes on with the very same animal.
 */
export function useRun(id: string, session: Session): Run {
  const form = useForm<Record<string, string>>(`treat/session/${id}`, emptyRun(session.lines));
  const { values, set, show } = form;
  const [stage, setStage] = useState<Stage>({ at: 'who' });
  const [looking, setLooking] = useState<Looking>({ state: 'idle' });
  const [asking, setAsking] = useState<Asking | undefined>(undefined);
  const [pending, setPending] = useState<DoseFor | undefined>(undefined);
  const [trouble, setTrouble] = useState<Fault | undefined>(undefined);
  const turn = useRef(0);
  /** Codes of the questions that were answered yes for this animal, so that the desk need not ask again. */
  const said = useRef(new Set<string>());
  /** The animal being written: what of it is still to be sent, what was typed, which medicines are written. */
  const sent = useRef<{ dose: DoseFor; values: Record<string, string>; rest: TreatAsk[]; done: string[] }>(
    undefined,
  );
  /** True when the next sending repeats one that did not get through: the desk then writes it once. */
  const isRetry = useRef(false);
  /** True while the desk looks whether what was different is outside the label: Enter again must not record twice. */
  const isLooking = useRef(false);

  const write = useWrite('treat', () => {
    const now = sent.current;
    const written = now?.rest.shift();
    now?.done.push(...(written?.lines ?? []));
    const next = now?.rest[0];
    if (next !== undefined) return void write.send(next);
    sent.current = undefined;
    isRetry.current = false;
    setPending(undefined);
  });

  /** Not written: the animal is back on the screen with all that was typed. */
  const putBack = useCallback(
    (fault: Fault | undefined) => {
      const was = sent.current;
      if (was === undefined) return;
      sent.current = undefined;
      setPending(undefined);
      setTrouble(fault);
      isRetry.current = was.done.length === 0;
      const doses = was.dose.doses.filter((each) => !was.done.includes(each.line));
      setStage({ at: 'dose', dose: { ...was.dose, doses } });
      // Its weight went in with what is written already.
      const { read: _read, ...back } = was.values;
      set({ ...back, ...(was.done.length > 0 ? { weight: '' } : {}) });
    },
    [set],
  );

  const { now } = write;
  const { yes, no } = write;
  useEffect(() => {
    if (now.state === 'failed') putBack(now.fault);
    if (now.state !== 'asked' || asking !== undefined) return;
    const { code, message } = now.question;
    if (said.current.has(code)) return void yes();
    setAsking({
      stops: [{ code, text: message }],
      words: { yes: 'It is so: write it', no: 'Go back, write nothing' },
      yes: () => {
        setAsking(undefined);
        void yes();
      },
      no: () => {
        setAsking(undefined);
        no();
        putBack(undefined);
      },
    });
  }, [now, asking, yes, no, putBack]);

  /** Goes on when nothing has to be asked, or asks first. */
  const ask = (stops: readonly Stop[], words: Asking['words'], goOn: () => void, goBack: () => void) => {
    if (stops.length === 0) return goOn();
    setAsking({
      stops,
      words,
      yes: () => {
        for (const stop of stops) said.current.add(stop.code);
        setAsking(undefined);
        goOn();
      },
      no: () => {
        setAsking(undefined);
        goBack();
      },
    });
  };

  const load = async (subject: string) => {
    turn.current += 1;
    const mine = turn.current;
    const outcome = await desk.call('dose-for', {
      session: id,
      subject,
      ...drawerAsk(keptHere(FROM_DRAWER)),
    });
    if (mine !== turn.current) return;
    if (!outcome.ok) return setLooking({ state: 'failed', fault: outcome.error });
    const dose = notRecorded(session, outcome.value);
    said.current = new Set();
    isRetry.current = false;
    setLooking({ state: 'idle' });
    setTrouble(undefined);
    show([]);
    const leave = () => set({ ...afterOne(values), read: '' });
    const words = { yes: 'Treat it all the same', no: 'Leave it, take another' };
    ask(
      stopsAtOnce(dose, standingOf(session, subject)),
      words,
      () => setStage({ at: 'weight', dose }),
      leave,
    );
  };

  const pick = (subject: string) => {
    set({ ...afterOne(values), subject });
    void load(subject);
  };

  const look = async () => {
    const read = (values.read ?? '').trim();
    if (read === '') return;
    turn.current += 1;
    const mine = turn.current;
    setLooking({ state: 'looking' });
    const outcome = await desk.call('find-subject', { read });
    // Somebody typed on meanwhile: this answer is to an old question.
    if (mine !== turn.current) return;
    if (!outcome.ok) return setLooking({ state: 'failed', fault: outcome.error });
    const [only, second] = outcome.value.found;
    if (only === undefined) setLooking({ state: 'none', read });
    else if (second === undefined) pick(only.subject);
    else setLooking({ state: 'many', found: outcome.value.found.slice(0, 9) });
  };

  const weigh = async (dose: DoseFor) => {
    const weight = (values.weight ?? '').trim();
    const heads = (values.heads ?? '').trim();
    if (heads !== '' && !(/^\d{1,7}$/.test(heads) && Number(heads) >= 1 && Number(heads) <= dose.who.heads)) {
      return show([{ field: 'heads', message: `Write a whole number from 1 to ${dose.who.heads}.` }]);
    }
    if (weight === '' && values.weightHow === 'tape' && `${values.girth}${values.length}`.trim() !== '') {
      return show([{ field: 'weight', message: 'The tape gives no weight yet: write girth and length.' }]);
    }
    if (weight === '') return setStage({ at: 'dose', dose });
    turn.current += 1;
    const mine = turn.current;
    const outcome = await desk.call('dose-for', {
      session: id,
      subject: dose.who.subject,
      weight,
      ...drawerAsk(keptHere(FROM_DRAWER)),
    });
    if (mine !== turn.current) return;
    if (!outcome.ok) return show([{ ...outcome.error, field: 'weight' }]);
    const weighed = notRecorded(session, outcome.value);
    const known = new Set(dose.stops.map((stop) => stop.code));
    const stops = weighed.stops.filter((stop) => !known.has(stop.code) && !said.current.has(stop.code));
    ask(
      stops,
      { yes: `It is ${weighed.who.weight ?? weight}: go on`, no: 'Change the weight' },
      () => setStage({ at: 'dose', dose: weighed }),
      () => undefined,
    );
  };

  const record = (dose: DoseFor) => {
    if (write.isBusy || sent.current !== undefined) return;
    const lines = givenLines(dose, values);
    const rest = [...sendsOf(id, dose, values)];
    const first = rest[0];
    if (first === undefined) {
      return setTrouble({
        code: 'nothing-to-give',
        message: 'By the label it gets nothing, so there is nothing to record.',
        next: 'Go back with Esc. If it was given all the same, write how much went in.',
      });
    }
    const against = lines
      .filter((each) => each.dose === null)
      .map((each) => ({
        code: `refused.${each.line}`,
        text: `${each.name}: ${each.refused?.text ?? 'the label has no dose for it'}. Was it given all the same?`,
      }));
    const send = () => {
      if (!isRetry.current) write.next();
      sent.current = { dose, values, rest, done: [] };
      setPending(dose);
      setTrouble(undefined);
      // The next animal may be read while this one is being written.
      setStage({ at: 'who' });
      set(afterOne(values));
      void write.send(first);
    };
    const unsaid = (stops: readonly Stop[]) => stops.filter(({ code }) => !said.current.has(code));
    const words = { yes: 'It was given: record it', no: 'Go back, record nothing' };
    ask(
      unsaid(against),
      words,
      () => {
        // Most go by the label, and Enter writes them at once.
        if (!isDifferent(values)) return send();
        if (isLooking.current) return;
        isLooking.current = true;
        void outsideStops(session, dose, values).then((outside) => {
          isLooking.current = false;
          ask(unsaid(outside), words, send, () => undefined);
        });
      },
      () => undefined,
    );
  };

  // What was half typed before a crash or a pause: the same animal again, with what was typed for it.
  const resumed = useRef(false);
  useEffect(() => {
    if (!form.isReady || resumed.current) return;
    resumed.current = true;
    if (values.subject !== undefined && values.subject !== '') void load(values.subject);
  });

  return {
    form,
    stage,
    looking,
    asking,
    pending,
    trouble,
    write,
    pick,
    shows: (line, where) =>
      setStage((now) => (now.at === 'dose' ? { at: 'dose', dose: withWhere(now.dose, line, where) } : now)),
    enter: () => {
      if (asking !== undefined) return;
      if (stage.at === 'who') void look();
      else if (stage.at === 'weight') void weigh(stage.dose);
      else record(stage.dose);
    },
    back: () => {
      turn.current += 1;
      setLooking({ state: 'idle' });
      setTrouble(undefined);
      show([]);
      if (stage.at === 'dose') return setStage({ at: 'weight', dose: stage.dose });
      setStage({ at: 'who' });
      set(afterOne(values));
    },
  };
}
