import { openDesk } from '../../src-main/answers/desk.ts';
import type { Ask, CallName, Reply, WritingCall } from '../../src-shared/calls/all.ts';
import { CALLS } from '../../src-shared/calls/all.ts';
import type { DeskScript, DeskStep } from './desk-script.ts';

type Bare<N extends CallName> = N extends WritingCall ? Omit<Ask<N>, 'request' | 'by'> : Ask<N>;
type Periods = DeskScript['labels'][number];

/** How often each call was taken and refused, so that a history of refusals is not mistaken for a test. */
export type Tally = { taken: Map<string, number>; refused: Map<string, number> };
const count = (map: Map<string, number>, name: string) => map.set(name, (map.get(name) ?? 0) + 1);

const termsFrom = (name: string, { meat, milk }: Periods) => ({
  name,
  form: 'drench' as const,
  kind: 'volume' as const,
  purpose: 'parasites' as const,
  doseLines: [
    { id: 'oral', route: 'oral' as const, rate: { style: 'rate' as const, text: '3 mL per head' } },
  ],
  periods: [
    ...(meat === undefined ? [] : [{ produce: 'meat' as const, says: 'value' as const, value: meat }]),
    ...(milk === undefined ? [] : [{ produce: 'milk' as const, says: 'value' as const, value: milk }]),
  ],
  inUse: '90 d',
});

/** A desk in London at noon on 1 May 2026, a minute later at each call. Questions are answered with yes. */
export function historyDesk(book: string, tally: Tally) {
  let now = Date.parse('2026-05-01T11:00:00.000Z');
  let by = 'nobody';
  let made = 0;
  const desk = openDesk({ book, clock: () => new Date(now).toISOString() });

  async function tell<N extends CallName>(name: N, bare: Bare<N>): Promise<Reply<N> | undefined> {
    const confirmed: string[] = [];
    for (;;) {
      now += 60_000;
      made += 1;
      const request = `01953700-0000-7000-8000-${String(made).padStart(12, '0')}`;
      const fields = JSON.parse(JSON.stringify(bare));
      const outcome = await desk.call(
        name,
        CALLS[name].writes ? { request, by, confirmed, ...fields } : fields,
      );
      if (outcome.ok) {
        count(tally.taken, name);
        return outcome.value as Reply<N>;
      }
      const { code } = outcome.error;
      const question = code.startsWith('ask:') ? code.slice('ask:'.length) : undefined;
      if (question === undefined || confirmed.includes(question)) {
        count(tally.refused, `${name} ${code}`);
        return undefined;
      }
      confirmed.push(question);
    }
  }

  async function must<N extends CallName>(name: N, bare: Bare<N>): Promise<Reply<N>> {
    const reply = await tell(name, bare);
    if (reply === undefined) throw new Error(`${name} was refused: ${JSON.stringify([...tally.refused])}`);
    return reply;
  }
  return {
    tell,
    must,
    writeAs(person: string) {
      by = person;
    },
    close: () => desk.close(),
  };
}
export type HistoryDesk = ReturnType<typeof historyDesk>;

const one = <T>(from: readonly T[], pick: number): T | undefined => from[pick % Math.max(1, from.length)];

/** Begins a book and makes the calls of a history, taking refusals as a person does: by leaving it at that. */
export async function playDesk(desk: HistoryDesk, script: DeskScript): Promise<void> {
  const { holding, person } = await desk.must('start-book', {
    business: { name: 'Invented Sheep', address: 'Nowhere' },
    holding: {
      name: 'Invented',
      number: '1',
      address: 'Nowhere',
      zone: 'Europe/London',
      law: 'other',
      milk: true,
      counting: script.counting,
      marginDays: script.marginDays,
    },
    keeper: { name: 'Ida Invented', roles: ['owner', 'keeper'] },
    happened: '2026-01-01T08:00',
  });
  desk.writeAs(person);
  const happened = '2026-02-01T08:00';
  const names = ['Ovimendol', 'Lanatract'];
  const medicines: { medicine: string; revisions: string[]; name: string }[] = [];
  for (const [i, name] of names.entries()) {
    const terms = termsFrom(name, script.labels[i] ?? { meat: '1 d', milk: '1 d' });
    const { medicine, revision } = await desk.must('set-label', { act: 'first', terms, happened });
    medicines.push({ medicine, revisions: [revision], name });
  }
  let batch = 0;
  const receive = (medicine: string, size: string, more: Partial<Bare<'receive-batch'>>) => {
    batch += 1;
    return desk.tell('receive-batch', {
      medicine,
      number: `B${batch}`,
      expiry: '2028-01',
      packs: [{ count: 1, size }],
      ...more,
    });
  };
  for (const { medicine } of medicines) await receive(medicine, '100 mL', { happened });
  for (const tag of ['101', '102', '103']) {
    await desk.must('set-animal', {
      holding,
      management: tag,
      class: 'ewe',
      milking: tag === '101',
      happened,
    });
  }
  for (const name of ['Hill', 'Field'])
    await desk.must('set-lot', { holding, name, class: 'lamb', heads: 10, happened });
  let tag = 200;
  /** Calls whose course has been closed. */
  const closed = new Set<string>();

  const subjects = async () => [
    ...(await desk.must('animals', {})).animals.map((each) => each.subject),
    ...(await desk.must('lots', {})).lots.map((each) => each.subject),
  ];
  const lots = async () => (await desk.must('lots', {})).lots;

  async function treat(step: Extract<DeskStep, { do: 'treat' }>): Promise<void> {
    const subject = one(await subjects(), step.subject);
    const medicine = one(medicines, step.medicine);
    if (!subject || !medicine) return;
    const first = (step.when ?? '2026-03-30').slice(0, 10);
    const planned = [...Array((step.course ?? 0) + 1).keys()].map((later) =>
      new Date(Date.parse(`${first}T00:00:00.000Z`) + later * 86_400_000).toISOString().slice(0, 10),
    );
    await desk.tell('treat', {
      subject,
      happened: step.when,
      given: step.given,
      ...(subject.startsWith('lot:') ? { heads: step.heads } : {}),
      ...(step.course === undefined ? {} : { course: { planned } }),
      ...(step.lost === undefined ? {} : { lost: { amount: step.lost, why: 'spilt' } }),
      single: { medicine: medicine.medicine, reason: 'invented', source: step.vets ? 'vet' : 'ours' },
    });
  }

  async function session(step: Extract<DeskStep, { do: 'session' }>): Promise<void> {
    const all = await subjects();
    const lines = step.medicines.flatMap((i) => {
      const medicine = medicines[i]?.medicine;
      return medicine === undefined ? [] : [{ medicine, reason: 'invented' }];
    });
    const mark = { colour: 'blue', place: 'rump' };
    const mode = step.mass ? ('mass' as const) : ('each' as const);
    const opened = await desk.tell('open-session', {
      holding,
      mode,
      subjects: all,
      lines,
      name: 'Work',
      mark,
      happened: step.opens,
    });
    if (!opened) return;
    const subject = one(all, step.first);
    const { lines: open } = await desk.must('session', { session: opened.session });
    // Of two medicines often only one is recorded.
    const only =
      open.length > 1 && step.first % 2 === 1 ? { lines: [one(open, step.tally)?.line ?? ''] } : {};
    if (step.mass) {
      const lot = subject?.startsWith('lot:') ? [{ subject, heads: step.tally, marked: step.marked }] : [];
      const except = one(all, step.first + 1);
      await desk.tell('treat-many', {
        session: opened.session,
        happened: step.when,
        tally: lot,
        ...only,
        except: except === undefined || except === subject ? [] : [{ subject: except, why: 'not seen' }],
      });
    } else if (subject) {
      await desk.tell('treat', { session: opened.session, subject, happened: step.when, ...only });
    }
    // A closing dated before its opening, or on the same day without a time, is not part of these histories.
    const after =
      step.opens !== undefined &&
      step.closes !== undefined &&
      step.closes.slice(0, 10) > step.opens.slice(0, 10);
    const { session: row, waiting } = await desk.must('session', { session: opened.session });
    const recorded = row.treated;
    const none = step.tally % 3 === 0 ? waiting.slice(0, 2) : [];
    await desk.tell('close-session', {
      session: opened.session,
      headsThrough: recorded + step.missed,
      notThrough: step.marked ? waiting.slice(2, 4).map((each) => each.subject) : [],
      gotNone: none.map((each) => ({ subject: each.subject, lines: each.left.slice(0, 1) })),
      happened: after ? step.closes : undefined,
    });
  }

  async function move(step: Extract<DeskStep, { do: 'move' }>): Promise<void> {
    const there = await lots();
    const from = one(there, step.from)?.subject.slice('lot:'.length);
    const other = one(
      there.filter((each) => each.subject !== `lot:${from}`),
      step.which,
    )?.subject.slice('lot:'.length);
    if (from === undefined) return;
    tag += 1;
    const to =
      step.to === 'tag'
        ? { management: `${tag}` }
        : step.to === 'new' || other === undefined
          ? { newLot: `Lot ${tag}` }
          : { lot: other };
    await desk.tell('move-heads', {
      from,
      to,
      heads: step.to === 'tag' ? 1 : step.heads,
      happened: step.when,
    });
  }

  /** Entries of the last calls that a person might strike out. */
  async function strike(pick: number): Promise<void> {
    const { entries } = await desk.must('entries', { limit: 60 });
    const kinds = [
      'administered',
      'stock-moved',
      'lot-moved',
      'held',
      'departed',
      'hold-ended',
      'batch-received',
    ];
    const target = one(
      entries.filter((each) => kinds.includes(each.kind) && each.state !== 'voided'),
      pick,
    );
    if (target) await desk.tell('void', { entry: target.entry, reason: 'never happened' });
  }

  async function correct(step: Extract<DeskStep, { do: 'correct' }>): Promise<void> {
    const { rows } = await desk.must('book', { from: '2026-01-01', to: '2026-12-31', corrections: false });
    // Correcting a dose of a course that is closed already is not part of these histories.
    const row = one(
      rows.filter((each) => !closed.has(each.entry.request)),
      step.pick,
    );
    if (!row) return;
    await desk.tell('correct-treatment', {
      administration: row.administration,
      reason: 'mistyped',
      subject: step.subject === undefined ? undefined : one(await subjects(), step.subject),
      local: step.local,
      given: step.given,
    });
  }

  async function resolve(step: Extract<DeskStep, { do: 'resolve' }>): Promise<void> {
    const { sessions } = await desk.must('sessions', { state: 'closed' });
    const held = [];
    for (const each of sessions)
      held.push(...(await desk.must('session', { session: each.session })).possibly);
    const possibly = one(held, step.pick);
    if (!possibly) return;
    const { hold, subject } = possibly;
    await desk.tell('resolve-possible', {
      hold,
      subject,
      how: 'not-treated',
      why: 'was in the other field',
      happened: step.when,
    });
  }

  for (const step of script.steps) {
    if (step.do === 'treat') await treat(step);
    else if (step.do === 'session') await session(step);
    else if (step.do === 'move') await move(step);
    else if (step.do === 'void') await strike(step.pick);
    else if (step.do === 'correct') await correct(step);
    else if (step.do === 'resolve') await resolve(step);
    else if (step.do === 'close-course') {
      const { entries } = await desk.must('entries', { limit: 500 });
      const course = one(
        entries.filter((each) => each.kind === 'course-set'),
        step.pick,
      );
      if (!course) continue;
      closed.add(course.entry.request);
      // The desk names things by the request and a number: the course is the second thing a treat call makes.
      const name = `${course.entry.request}.2`;
      // A closing dated before its course began is not part of these histories.
      await desk.tell('close-course', { course: name, state: 'abandoned', why: 'better' });
    } else if (step.do === 'stock') {
      const { containers } = await desk.must('cabinet', { show: 'all' });
      const container = one(containers, step.container)?.container;
      const cause = step.cause as 'lost';
      if (container !== undefined)
        await desk.tell('move-stock', {
          container,
          cause,
          ...(step.cause === 'carried' ? { store: `Shed ${step.amount}` } : { amount: step.amount }),
          why: 'invented',
          how: 'invented',
          where: 'invented',
          happened: step.when,
        });
    } else if (step.do === 'receive') {
      const medicine = one(medicines, step.medicine);
      if (!medicine) continue;
      const insert =
        step.insert === undefined ? 'as-before' : { terms: termsFrom(medicine.name, step.insert) };
      const got = await receive(medicine.medicine, step.size, { insert, happened: step.when });
      if (got) medicine.revisions.push(got.revision);
    } else if (step.do === 'depart') {
      const subject = one(await subjects(), step.subject);
      const heads = subject?.startsWith('lot:') ? step.heads : 1;
      if (subject)
        await desk.tell('depart', {
          subjects: [{ subject, heads }],
          how: 'sold',
          to: 'market',
          happened: step.when,
        });
    } else if (step.do === 'label') {
      const medicine = one(medicines, step.medicine);
      const revision = medicine && one(medicine.revisions, step.medicine);
      if (!medicine || !revision) continue;
      const terms = termsFrom(medicine.name, step.periods);
      await desk.tell('set-label', {
        act: 'typed-wrongly',
        medicine: medicine.medicine,
        revision,
        terms,
        why: 'mistyped',
      });
    }
  }
}
