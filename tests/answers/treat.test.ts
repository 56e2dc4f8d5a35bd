import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DRENCH, farmDesk } from './farm-desk.ts';

type Desk = ReturnType<typeof farmDesk>;
let desk: Desk;
let holding = '';
let me = '';

beforeEach(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding, person: me } = await desk.started());
});
afterEach(() => desk.close());

async function drench(terms: Partial<typeof DRENCH> = {}, expiry = '2027-03') {
  const { medicine, revision } = await desk.ask('set-label', {
    act: 'first',
    terms: { ...DRENCH, ...terms },
  });
  const { containers } = await desk.ask('receive-batch', {
    medicine,
    number: `B-${expiry}`,
    expiry,
    packs: [{ count: 2, size: '1 L' }],
    confirmed: ['expired-on-receipt'],
  });
  return { medicine, revision, containers: containers.map((each) => each.container) };
}

async function ewe(tag: string, weight?: string): Promise<`animal:${string}`> {
  const { animal } = await desk.ask('set-animal', { holding, tag, class: 'ewe' });
  const subject = `animal:${animal}` as const;
  if (weight !== undefined) await desk.ask('weigh', { subject, weight, how: 'crate' });
  return subject;
}

async function lot(heads: number, weight: string) {
  const made = await desk.ask('set-lot', { holding, name: `Lambs ${heads}`, class: 'lamb', heads });
  const subject = `lot:${made.lot}` as const;
  await desk.ask('weigh', { subject, weight, how: 'eye' });
  return subject;
}

const TAG = (n: number) => `UK 0 123456 ${String(n).padStart(5, '0')}`;
const meatOf = (holds: readonly { produce: string; state: string; until?: string | undefined }[]) =>
  holds.find((hold) => hold.produce === 'meat');

describe('planning is strict', () => {
  test('no dose is planned from an unknown weight, and the animal is named', async () => {
    const { medicine } = await drench();
    const known = await ewe(TAG(1), '60 kg');
    const unknown = await ewe(TAG(2));
    const plan = await desk.ask('plan-session', {
      holding,
      mode: 'mass',
      subjects: [known, unknown],
      lines: [{ medicine, reason: 'worms' }],
    });
    expect(plan.rows.map((row) => [row.subject, row.doses[0]?.draw.text])).toEqual([[known, '6 mL']]);
    expect(plan.leftOut.map((row) => [row.shown, row.why.code])).toEqual([[TAG(2), 'weight-missing']]);
  });

  test('with a weigher at the race an animal without a weight is planned, dosed once weighed, and held when unread', async () => {
    const { medicine } = await drench();
    const [one, two] = [await ewe(TAG(1)), await ewe(TAG(2))];
    const ask = { holding, subjects: [one, two], lines: [{ medicine, reason: 'worms' }] };
    const plan = await desk.ask('plan-session', ask);
    expect(plan.rows.map((row) => [row.doses[0], row.toWeigh])).toEqual([
      [null, true],
      [null, true],
    ]);
    const { session: id } = await desk.ask('open-session', { ...ask, name: 'Worming' });
    expect((await desk.refused('treat', { session: id, subject: one })).code).toBe('weight-missing');
    expect((await desk.ask('treat', { session: id, subject: one, weight: '60 kg' })).quantity).toBe('6 mL');
    await desk.ask('close-session', { session: id, headsThrough: 2 });
    const held = (await desk.ask('clear-list', { at: '2026-05-02' })).held;
    expect(held.map((row) => row.subject)).toEqual([one, two]);
  });

  test('an expired bottle is never planned from: the plan is short instead', async () => {
    const { medicine } = await drench({}, '2026-04');
    const subject = await ewe(TAG(1), '60 kg');
    const plan = await desk.ask('plan-session', {
      holding,
      subjects: [subject],
      lines: [{ medicine, reason: 'worms' }],
    });
    expect(plan.lines[0]?.draws).toEqual([]);
    expect(plan.lines[0]?.short?.text).toBe('6 mL');
  });

  test('a label that is still a draft plans nothing', async () => {
    const { medicine } = await desk.ask('set-label', { act: 'first', terms: DRENCH, state: 'draft' });
    const subject = await ewe(TAG(1), '60 kg');
    const refused = await desk.refused('plan-session', {
      holding,
      subjects: [subject],
      lines: [{ medicine, reason: 'worms' }],
    });
    expect(refused.code).toBe('label-draft');
  });

  test('a "not if" row bars its animals by name, and one the book cannot judge is to be checked by eye', async () => {
    const { medicine } = await drench({
      notIf: [
        { id: 'n1', code: 'lighter-than', value: '40 kg' },
        { id: 'n2', code: 'shorn-within', value: '14 d', says: 'Not within 14 days of shearing' },
      ],
    } as Partial<typeof DRENCH>);
    const light = await ewe(TAG(1), '39.9 kg');
    const heavy = await ewe(TAG(2), '40 kg');
    const plan = await desk.ask('plan-session', {
      holding,
      subjects: [light, heavy],
      lines: [{ medicine, reason: 'worms' }],
    });
    expect(plan.rows.map((row) => row.subject)).toEqual([heavy]);
    expect(plan.leftOut.map((row) => [row.subject, row.why.code])).toEqual([[light, 'not-if']]);
    expect(plan.lines[0]?.warnings.map((each) => each.text)).toEqual([
      'Check before dosing: Not within 14 days of shearing',
    ]);
  });
});

describe('what happened is recorded', () => {
  test('a dose from an expired bottle is taken, with the fault named', async () => {
    const { medicine, containers } = await drench({}, '2026-04');
    const subject = await ewe(TAG(1), '60 kg');
    const reply = await desk.ask('treat', {
      subject,
      single: { medicine, reason: 'worms' },
      containers: containers.slice(0, 1),
    });
    expect(reply.deviations.map((each) => each.code)).toEqual(['expired']);
    expect(meatOf(reply.holds)?.state).toBe('until');
  });

  test('more than the book has is taken, named, and leaves the bottle below none until it is counted', async () => {
    const { medicine, containers } = await drench();
    const subject = await ewe(TAG(1), '60 kg');
    const [container = ''] = containers;
    const reply = await desk.ask('treat', {
      subject,
      single: { medicine, reason: 'worms' },
      given: '1.2 L',
      containers: [container],
    });
    expect(reply.deviations.map((each) => each.code)).toContain('more-than-the-book-has');
    const { movements } = await desk.ask('container', { container });
    expect(movements.at(-1)?.amount).toContain('1200 mL');
  });

  test("above the label's dose its period no longer speaks for it: no time clears it until the vet states one", async () => {
    const { medicine } = await drench();
    const subject = await ewe(TAG(1), '60 kg');
    const over = await desk.ask('treat', { subject, single: { medicine, reason: 'worms' }, given: '12 mL' });
    expect(over.deviations.map((each) => each.code)).toEqual(['over-label']);
    expect(meatOf(over.holds)?.state).toBe('unknown');

    const { person: vet } = await desk.ask('set-person', { name: 'Vet Cairn', roles: ['vet'] });
    const { instruction } = await desk.ask('record-instruction', {
      vet,
      what: 'Double dose',
      form: 'told',
      reason: 'resistance',
      periods: [{ produce: 'meat', period: '42 d' }],
    });
    const told = await desk.ask('treat', {
      subject,
      single: { medicine, reason: 'worms', instruction },
      given: '12 mL',
      confirmed: ['dosed-today'],
    });
    // 24-hour days in this book: 1 May 10:00 British Summer Time + 42 d = 12 June 10:00.
    expect(meatOf(told.holds)?.until).toBe('2026-06-12T10:00:00+01:00');
  });

  test("the vet may lengthen the label's period and never shorten it", async () => {
    const { medicine } = await drench();
    const subject = await ewe(TAG(1), '60 kg');
    const { person: vet } = await desk.ask('set-person', { name: 'Vet Cairn', roles: ['vet'] });
    const { instruction } = await desk.ask('record-instruction', {
      vet,
      what: 'As the label',
      form: 'told',
      reason: 'worms',
      periods: [{ produce: 'meat', period: '7 d' }],
    });
    const reply = await desk.ask('treat', { subject, single: { medicine, reason: 'worms', instruction } });
    expect(meatOf(reply.holds)?.until).toBe('2026-05-29T10:00:00+01:00');
  });

  test('what a coarse syringe rounds up is on label, now and when it is looked at again', async () => {
    const { medicine } = await drench();
    const subject = await ewe(TAG(1), '12 kg');
    const syringe = { capacity: '20 mL', graduation: '1 mL' };
    const reply = await desk.ask('treat', {
      subject,
      single: { medicine, reason: 'worms', syringe },
      confirmed: [],
    });
    expect(reply.quantity).toBe('2 mL');
    expect(meatOf(reply.holds)?.state).toBe('until');
    expect((await desk.ask('recheck', {})).different).toEqual([]);
  });

  test("the vet's own stock holds the animal and moves none of ours", async () => {
    const { medicine, containers } = await drench();
    const subject = await ewe(TAG(1), '60 kg');
    const reply = await desk.ask('treat', {
      subject,
      single: { medicine, reason: 'worms', source: 'vet', batch: 'V-1' },
    });
    expect(reply.draws).toEqual([]);
    expect(meatOf(reply.holds)?.state).toBe('until');
    const { movements } = await desk.ask('container', { container: containers[0] ?? '' });
    expect(movements.map((each) => each.cause)).toEqual(['received']);
  });

  test('nothing can be said to have happened later than now', async () => {
    const { medicine } = await drench();
    const subject = await ewe(TAG(1), '60 kg');
    const refused = await desk.refused('treat', {
      subject,
      single: { medicine, reason: 'worms' },
      happened: '2026-05-02',
    });
    expect(refused.code).toBe('in-the-future');
  });
});

describe('a session', () => {
  async function session(subjects: (`animal:${string}` | `lot:${string}`)[], more: object = {}) {
    const { medicine } = await drench();
    return desk.ask('open-session', {
      holding,
      name: 'Worming',
      mode: 'mass',
      subjects,
      lines: [{ medicine, reason: 'worms' }],
      ...more,
    });
  }

  test('ten of a hundred lambs treated and marked become a lot of their own; the others go free', async () => {
    const lambs = await lot(100, '30 kg');
    const { session: id } = await session([lambs], {
      mark: { colour: 'blue', place: 'rump', lastsDays: 28 },
    });
    await desk.ask('treat-many', { session: id, tally: [{ subject: lambs, heads: 10, marked: true }] });
    const list = await desk.ask('clear-list', { at: '2026-05-02' });
    expect(list.clear.map((row) => row.heads)).toEqual([90]);
    expect(list.held.map((row) => row.heads)).toEqual([10]);
  });

  test('ten of a hundred lambs treated and not marked hold all hundred', async () => {
    const lambs = await lot(100, '30 kg');
    const { session: id } = await session([lambs]);
    const reply = await desk.ask('treat-many', {
      session: id,
      tally: [{ subject: lambs, heads: 10, marked: false }],
    });
    expect([reply.heads, reply.quantity]).toEqual([10, '30 mL']);
    const list = await desk.ask('clear-list', { at: '2026-05-02' });
    expect(list.clear).toEqual([]);
    expect(list.held.map((row) => row.heads)).toEqual([100]);
  });

  test('more went through than are recorded: the unread are held as treated until it is known', async () => {
    const [one, two] = [await ewe(TAG(1), '60 kg'), await ewe(TAG(2), '60 kg')];
    const { session: id } = await session([one, two]);
    await desk.ask('treat', { session: id, subject: one });
    const closed = await desk.ask('close-session', { session: id, headsThrough: 2 });
    expect(closed.possibly.map((row) => row.subject)).toEqual([two]);
    const held = (await desk.ask('clear-list', { at: '2026-05-02' })).held;
    expect(held.map((row) => row.subject)).toEqual([one, two]);
    const { possibly } = await desk.ask('session', { session: id });
    await desk.ask('resolve-possible', {
      hold: possibly[0]?.hold ?? '',
      subject: two,
      how: 'not-treated',
      why: 'It jumped the gate',
    });
    const after = await desk.ask('clear-list', { at: '2026-05-02' });
    expect(after.clear.map((row) => row.subject)).toEqual([two]);
  });

  test('a label that was typed wrongly moves those held as possibly treated too', async () => {
    const [one, two] = [await ewe(TAG(1), '60 kg'), await ewe(TAG(2), '60 kg')];
    const { medicine, revision } = await drench();
    const { session: id } = await desk.ask('open-session', {
      holding,
      name: 'Worming',
      subjects: [one, two],
      lines: [{ medicine, reason: 'worms' }],
    });
    await desk.ask('treat', { session: id, subject: one });
    await desk.ask('close-session', { session: id, headsThrough: 2 });
    const reply = await desk.ask('set-label', {
      act: 'typed-wrongly',
      medicine,
      revision,
      terms: {
        ...DRENCH,
        periods: [{ produce: 'meat', says: 'value', value: '82 d' }, ...DRENCH.periods.slice(1)],
      },
      why: 'The insert says 82 d',
    });
    expect(reply.moved.filter((row) => row.produce === 'meat').map((row) => row.subject)).toEqual([one, two]);
    const held = (await desk.ask('clear-list', { at: '2026-07-01' })).held;
    expect(held.map((row) => row.subject)).toEqual([one, two]);
  });

  test('treated a second time in one session is asked about, and recorded when it is so', async () => {
    const one = await ewe(TAG(1), '60 kg');
    const { session: id } = await session([one]);
    await desk.ask('treat', { session: id, subject: one });
    expect((await desk.refused('treat', { session: id, subject: one })).code).toBe('ask:already-treated');
    await desk.ask('treat', { session: id, subject: one, confirmed: ['already-treated'] });
    expect((await desk.ask('book', { from: '2026-05-01', to: '2026-05-01' })).rows).toHaveLength(2);
  });
});

test('an open course holds to its planned last dose; abandoned, the last dose given counts', async () => {
  const { medicine } = await drench();
  const subject = await ewe(TAG(1), '60 kg');
  const planned = ['2026-05-01', '2026-05-02', '2026-05-03', '2026-05-04', '2026-05-05'];
  const first = await desk.ask('treat', {
    subject,
    single: { medicine, doseLine: 'd1', reason: 'worms' },
    course: { planned },
  });
  // The day alone of 5 May ends at 6 May 00:00 local; 28 × 24 h later is 3 June 00:00.
  expect(meatOf(first.holds)?.until).toBe('2026-06-03T00:00:00+01:00');
  const closed = await desk.ask('close-course', {
    course: first.course ?? '',
    state: 'abandoned',
    why: 'It got well',
  });
  expect(meatOf(closed.holds)?.until).toBe('2026-05-29T10:00:00+01:00');
  const list = await desk.ask('clear-list', { at: '2026-05-29T10:00' });
  expect(list.clear.map((row) => row.subject)).toEqual([subject]);
  expect(me).not.toBe('');
});

test("the vet's word for what one box does not state is not shorter than what another box prints", async () => {
  const { medicine, containers } = await drench();
  const silent = { ...DRENCH, periods: [{ produce: 'meat' as const, says: 'not-stated' as const }] };
  await desk.ask('receive-batch', {
    medicine,
    number: 'B-2',
    expiry: '2027-06',
    insert: { terms: silent },
    packs: [{ count: 1, size: '1 L' }],
  });
  const { containers: all } = await desk.ask('cabinet', { medicine });
  const other = all.find((each) => each.batch === 'B-2')?.container ?? '';
  const subject = await ewe(TAG(1), '60 kg');
  const { person: vet } = await desk.ask('set-person', { name: 'Vet Cairn', roles: ['vet'] });
  const { instruction } = await desk.ask('record-instruction', {
    vet,
    what: 'Ten days',
    form: 'told',
    reason: 'worms',
    periods: [{ produce: 'meat', period: '10 d' }],
  });
  // Both bottles: the first is counted down to 3 mL, the dose is 6 mL.
  await desk.ask('move-stock', { container: containers[0] ?? '', cause: 'counted', amount: '3 mL' });
  const reply = await desk.ask('treat', {
    subject,
    single: { medicine, reason: 'worms', instruction },
    containers: [containers[0] ?? '', other],
  });
  expect(reply.draws.map((draw) => draw.take.text)).toEqual(['3 mL', '3 mL']);
  // 28 d as the first box prints, not the vet's 10 d.
  expect(meatOf(reply.holds)?.until).toBe('2026-05-29T10:00:00+01:00');
});

test('a session cannot be closed before it was opened, and a closing by its day counts to the end of it', async () => {
  const [one, two] = [await ewe(TAG(1), '60 kg'), await ewe(TAG(2), '60 kg')];
  const { medicine } = await drench();
  const { session: id } = await desk.ask('open-session', {
    holding,
    name: 'Worming',
    subjects: [one, two],
    lines: [{ medicine, reason: 'worms' }],
  });
  await desk.ask('treat', { session: id, subject: one });
  const early = await desk.refused('close-session', { session: id, headsThrough: 2, happened: '2026-04-30' });
  expect(early.code).toBe('before-it-began');
  desk.at('2026-05-02T09:00:00.000Z');
  await desk.ask('close-session', { session: id, headsThrough: 2, happened: '2026-05-01' });
  const { holds } = await desk.ask('subject', { subject: two });
  // Possibly treated until the end of 1 May: 2 May 00:00 + 28 × 24 h.
  expect(meatOf(holds)?.until).toBe('2026-05-30T00:00:00+01:00');
});
