import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openDesk } from '../../src-main/answers/desk.ts';
import { type Ask, CALLS, type CallName, type Reply, type WritingCall } from '../../src-shared/calls/all.ts';
import type { Fault } from '../../src-shared/refusal.ts';
import * as day from './fixture.ts';

type Bare<N extends CallName> = N extends WritingCall ? Omit<Ask<N>, 'request' | 'by'> : Ask<N>;
export type Sent = { name: CallName; asked: Record<string, unknown>; reply: unknown };

/** A desk on an empty book in a temporary folder. The clock stands where it is put and moves with the day. */
export function dayDesk(start: string = day.CLOCK.set) {
  const folder = mkdtempSync(join(tmpdir(), 'foldbook-day-'));
  const book = join(folder, 'day.foldbook');
  let now = start;
  let by = 'nobody';
  let made = 0;
  const desk = openDesk({ book, clock: () => now });
  const sent: Sent[] = [];

  function asWritten(name: CallName, asked: object): Record<string, unknown> {
    if (!CALLS[name].writes) return { ...asked };
    const request = `01953700-0000-7000-8000-${String(++made).padStart(12, '0')}`;
    return { request, by, ...asked };
  }

  return {
    book,
    /** The desk itself, for serving it to a browser. */
    desk,
    /** Every writing call that was taken, as it was sent and answered. */
    sent,
    at(instant: string) {
      now = instant;
    },
    writeAs(person: string) {
      by = person;
    },
    async ask<N extends CallName>(name: N, asked: Bare<N>): Promise<Reply<N>> {
      const whole = asWritten(name, asked);
      const outcome = await desk.call(name, whole);
      if (!outcome.ok) throw new Error(`${name} was refused: ${JSON.stringify(outcome.error)}`);
      if (CALLS[name].writes) sent.push({ name, asked: whole, reply: outcome.value });
      return outcome.value as Reply<N>;
    },
    async refused<N extends CallName>(name: N, asked: Bare<N>): Promise<Fault> {
      const outcome = await desk.call(name, asWritten(name, asked));
      if (outcome.ok) throw new Error(`${name} was not refused: ${JSON.stringify(outcome.value)}`);
      return outcome.error;
    },
    /** A call exactly as it is, for sending one twice. */
    raw: (name: string, asked: unknown) => desk.call(name, asked),
    async entries(): Promise<number> {
      return (await this.ask('farm', {})).head.seq;
    },
    async close() {
      await desk.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
export type DayDesk = ReturnType<typeof dayDesk>;

/** Ids that the desk gives in the course of the day. */
export type Known = {
  holding: string;
  keeper: string;
  shepherd: string;
  vet: string;
  medicine: Record<day.MedicineKey, string>;
  revision: Record<day.MedicineKey, string>;
  /** Containers by the name on their sticker. */
  container: Record<string, string>;
  /** Subjects by what is shown of them. */
  subject: Record<string, string>;
  /** The flock file before it was taken in, and what was taken. */
  flock: { preview: Reply<'preview-animals'>; taken: Reply<'import-animals'> };
};

/** The book begins: business, people, labels, deliveries, flock. */
export async function setUp(desk: DayDesk): Promise<Known> {
  desk.at(day.CLOCK.set);
  const begun = await desk.ask('start-book', {
    business: { ...day.BUSINESS },
    holding: { ...day.HOLDING },
    keeper: day.KEEPER,
  });
  desk.writeAs(begun.person);
  const { person: shepherd } = await desk.ask('set-person', day.SHEPHERD);
  const { person: vet } = await desk.ask('set-person', day.VET);
  const labels = {
    injection: await desk.ask('set-label', { act: 'first', terms: day.INJECTION_AS_TYPED }),
    drench: await desk.ask('set-label', { act: 'first', terms: day.DRENCH }),
    vaccine: await desk.ask('set-label', { act: 'first', terms: day.VACCINE }),
  };
  const known: Omit<Known, 'flock'> = {
    holding: begun.holding,
    keeper: begun.person,
    shepherd,
    vet,
    medicine: {
      injection: labels.injection.medicine,
      drench: labels.drench.medicine,
      vaccine: labels.vaccine.medicine,
    },
    revision: {
      injection: labels.injection.revision,
      drench: labels.drench.revision,
      vaccine: labels.vaccine.revision,
    },
    container: {},
    subject: {},
  };
  for (const { medicine, ...batch } of day.BATCHES) {
    const { containers } = await desk.ask('receive-batch', {
      medicine: known.medicine[medicine],
      ...batch,
    });
    for (const { label, container } of containers) known.container[label] = container;
  }
  return { ...known, flock: await takeFlock(desk, known) };
}

/** The flock file as bytes. */
export const flockFile = () => ({
  name: 'flock.csv',
  base64: Buffer.from(day.FLOCK_CSV).toString('base64'),
});

async function takeFlock(desk: DayDesk, known: Omit<Known, 'flock'>): Promise<Known['flock']> {
  const { holding } = known;
  const preview = await desk.ask('preview-animals', { file: flockFile() });
  const taken = await desk.ask('import-animals', { holding, file: flockFile(), standing: 'none-running' });
  await desk.ask('set-lot', { holding, ...day.LOT });
  const { animals } = await desk.ask('animals', {});
  for (const { shown, subject } of animals) known.subject[shown] = subject;
  const { lots } = await desk.ask('lots', {});
  for (const { shown, subject } of lots) known.subject[shown] = subject;
  const milked = subjectOf(known, day.MILKED);
  await desk.ask('set-animal', {
    holding,
    animal: milked.slice('animal:'.length),
    tag: day.MILKED,
    class: 'ewe',
    sex: 'female',
    milking: true,
  });
  return { preview, taken };
}

export function subjectOf(known: Pick<Known, 'subject'>, shown: string): string {
  const found = known.subject[shown];
  if (found === undefined) throw new Error(`nobody is called ${shown}`);
  return found;
}

export function containerOf(known: Known, label: string): string {
  const found = known.container[label];
  if (found === undefined) throw new Error(`no container is called ${label}`);
  return found;
}

export type Work = {
  plan: Reply<'plan-session'>;
  session: string;
  treated: { dose: Reply<'dose-for'>; reply: Reply<'treat'> }[];
  closed: Reply<'close-session'>;
};

async function work(
  desk: DayDesk,
  known: Known,
  of: {
    medicine: day.MedicineKey;
    work: {
      name: string;
      reason: string;
      headsThrough: number;
      syringe?: { capacity: string; graduation: string };
      deeds: readonly day.Deed[];
    };
    opens: string;
    closes: string;
    animals: readonly string[];
  },
): Promise<Work> {
  const { name, reason, headsThrough, syringe, deeds } = of.work;
  desk.writeAs(known.shepherd);
  desk.at(of.opens);
  const planned = {
    holding: known.holding,
    subjects: of.animals.map((shown) => subjectOf(known, shown)),
    lines: [{ medicine: known.medicine[of.medicine], reason, ...(syringe ? { syringe } : {}) }],
  };
  const plan = await desk.ask('plan-session', planned);
  const { session } = await desk.ask('open-session', { ...planned, name });
  const treated: Work['treated'] = [];
  for (const deed of deeds) {
    desk.at(deed.at);
    const { found } = await desk.ask('find-subject', { read: deed.read });
    const [animal, second] = found;
    if (!animal || second) throw new Error(`${deed.read} names ${found.length} animals`);
    const weighed = deed.weight === undefined ? {} : { weight: deed.weight };
    const dose = await desk.ask('dose-for', { session, subject: animal.subject, ...weighed });
    const reply = await desk.ask('treat', { session, subject: animal.subject, ...weighed });
    treated.push({ dose, reply });
  }
  desk.at(of.closes);
  const closed = await desk.ask('close-session', { session, headsThrough });
  return { plan, session, treated, closed };
}

export function inject(desk: DayDesk, known: Known, animals: readonly string[]): Promise<Work> {
  const { injectionOpens: opens, injectionCloses: closes } = day.CLOCK;
  return work(desk, known, { medicine: 'injection', work: day.INJECTING, opens, closes, animals });
}

export function drench(desk: DayDesk, known: Known, animals: readonly string[]): Promise<Work> {
  const { drenchOpens: opens, drenchCloses: closes } = day.CLOCK;
  return work(desk, known, { medicine: 'drench', work: day.DRENCHING, opens, closes, animals });
}

/** One dose from the vet's own bottle, outside any session. */
export function doseByVet(desk: DayDesk, known: Known): Promise<Reply<'treat'>> {
  desk.writeAs(known.shepherd);
  desk.at(day.CLOCK.vet);
  const { read, reason, batch, syringe } = day.BY_THE_VET;
  return desk.ask('treat', {
    subject: subjectOf(known, read),
    givenBy: known.vet,
    single: { medicine: known.medicine.injection, source: 'vet', reason, batch, syringe },
  });
}

/** The vaccine in one run: all twelve and the lot. */
export async function vaccinate(desk: DayDesk, known: Known) {
  desk.writeAs(known.shepherd);
  desk.at(day.CLOCK.vaccineOpens);
  const { name, reason, headsThrough, lost } = day.VACCINATING;
  const planned = {
    holding: known.holding,
    mode: 'mass' as const,
    subjects: Object.values(known.subject),
    lines: [{ medicine: known.medicine.vaccine, reason }],
  };
  const plan = await desk.ask('plan-session', planned);
  const { session } = await desk.ask('open-session', { ...planned, name });
  desk.at(day.CLOCK.vaccine);
  const run = await desk.ask('treat-many', { session, lost });
  desk.at(day.CLOCK.vaccineCloses);
  const closed = await desk.ask('close-session', { session, headsThrough });
  return { plan, session, run, closed };
}

/** The morning after: one dose is put right, and what is left of the vaccine is poured away. */
export async function tidyUp(desk: DayDesk, known: Known, administration: string) {
  desk.writeAs(known.keeper);
  desk.at(day.CLOCK.morningAfter);
  const { given, reason } = day.CORRECTION;
  const corrected = await desk.ask('correct-treatment', { administration, given, reason });
  const { label, why, how } = day.DISCARDED;
  const discarded = await desk.ask('move-stock', {
    container: containerOf(known, label),
    cause: 'disposed',
    why,
    how,
  });
  return { corrected, discarded };
}

const goingOf = (known: Known, going: readonly { animal: string; heads?: number }[]) =>
  going.map(({ animal, heads }) => ({
    subject: subjectOf(known, animal),
    ...(heads === undefined ? {} : { heads }),
  }));

export async function declareFirst(desk: DayDesk, known: Known) {
  desk.writeAs(known.keeper);
  desk.at(day.CLOCK.firstDeclaration);
  const { to, departs, going } = day.FIRST_DECLARATION;
  const asked = { holding: known.holding, to, departs, subjects: goingOf(known, going) };
  const preview = await desk.ask('preview-declaration', asked);
  const signed = await desk.ask('declare', { ...asked, signer: known.keeper, answer: 'yes' });
  return { preview, signed };
}

/** 14 d was typed, and the insert says 41 d. */
export function correctLabel(desk: DayDesk, known: Known): Promise<Reply<'set-label'>> {
  desk.writeAs(known.keeper);
  desk.at(day.CLOCK.labelCorrected);
  return desk.ask('set-label', {
    act: 'typed-wrongly',
    medicine: known.medicine.injection,
    revision: known.revision.injection,
    terms: day.INJECTION_AS_PRINTED,
    why: day.LABEL_SLIP,
  });
}

/** First with one who is held, which is refused; then without. */
export async function declareSecond(desk: DayDesk, known: Known) {
  desk.writeAs(known.keeper);
  desk.at(day.CLOCK.papers);
  const { to, departs, going, held } = day.SECOND_DECLARATION;
  const asked = { holding: known.holding, to, departs, signer: known.keeper, answer: 'yes' as const };
  const refused = await desk.refused('declare', {
    ...asked,
    subjects: goingOf(known, [{ animal: held }, ...going]),
  });
  const signed = await desk.ask('declare', { ...asked, subjects: goingOf(known, going) });
  return { refused, signed };
}

export async function paperBytes(desk: DayDesk, paper: string): Promise<Uint8Array> {
  const { base64 } = await desk.ask('paper', { paper });
  return new Uint8Array(Buffer.from(base64, 'base64'));
}
