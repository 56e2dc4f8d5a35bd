import { afterEach, beforeEach, expect, test } from 'vitest';
import { type FarmDesk, farmDesk } from './farm-desk.ts';

/** An invented vaccine: two doses 28 days apart (21 to 42), then a booster; 365 days each. */
const VACCINE = {
  name: 'Ferrowick vaccine',
  form: 'injection',
  kind: 'volume',
  purpose: 'vaccine',
  actives: [{ substance: 'ferrowick toxoid' }],
  doseLines: [
    {
      id: 'start',
      title: 'First course',
      route: 'subcutaneous',
      rate: { style: 'rate', text: '2 mL per head' },
      repeats: { doses: 2, earliest: '21 d', due: '28 d', latest: '42 d', whenLate: 'Begin the course anew' },
      protects: '365 d',
      followedBy: 'booster',
    },
    {
      id: 'booster',
      title: 'Booster',
      classes: ['ewe'],
      route: 'subcutaneous',
      rate: { style: 'rate', text: '2 mL per head' },
      protects: '365 d',
    },
  ],
  periods: [
    { produce: 'meat', says: 'zero' },
    { produce: 'milk', says: 'zero' },
  ],
  inUse: '10 h',
} as const;

let desk: FarmDesk;
let holding: string;
let medicine: string;

beforeEach(async () => {
  desk = farmDesk('2026-03-01T09:00:00.000Z');
  ({ holding } = await desk.started());
  const label = await desk.ask('set-label', {
    act: 'first',
    // The desk fills in what the label leaves out.
    terms: structuredClone(VACCINE) as never,
    state: 'confirmed',
  });
  medicine = label.medicine;
  await desk.ask('receive-batch', {
    medicine,
    number: 'F-1',
    expiry: '2028-06',
    packs: [{ count: 40, size: '100 mL' }],
  });
});
afterEach(() => desk.close());

async function ewe(n: number): Promise<string> {
  const { animal } = await desk.ask('set-animal', {
    holding,
    tag: `UK 0 123456 ${String(n).padStart(5, '0')}`,
    class: 'ewe',
  });
  return `animal:${animal}`;
}

async function lot(name: string, heads: number): Promise<string> {
  const made = await desk.ask('set-lot', { holding, name, class: 'lamb', heads });
  return `lot:${made.lot}`;
}

const give = (subject: string, more: { heads?: number; doseLine?: string; given?: string } = {}) =>
  desk.ask('treat', {
    subject,
    single: { medicine, doseLine: more.doseLine ?? 'start', reason: 'Vaccine' },
    ...(more.heads === undefined ? {} : { heads: more.heads }),
    ...(more.given === undefined ? {} : { given: more.given }),
  });

async function standing(subject: string, on?: string) {
  const { rows } = await desk.ask('coverage', { subject, ...(on === undefined ? {} : { on }) });
  expect(rows).toHaveLength(1);
  return rows[0];
}

test('from nothing to a part, covered and lapsed; struck out, the dose counts no more', async () => {
  const one = await ewe(1);
  expect(await standing(one)).toMatchObject({ state: 'not-started', mixed: false });
  await give(one);
  // 1 March + 21, + 28, + 42 days.
  expect(await standing(one)).toMatchObject({
    state: 'part',
    last: '2026-03-01',
    next: { n: 2, of: 2, earliest: '2026-03-22', due: '2026-03-29', latest: '2026-04-12' },
  });
  expect(await standing(one, '2026-04-13')).toMatchObject({ state: 'late', since: '2026-04-13' });
  desk.at('2026-03-29T09:00:00.000Z');
  await desk.ask('confirm-date', { day: '2026-03-29' });
  const { administrations } = await give(one);
  expect(await standing(one)).toMatchObject({ state: 'covered', until: '2027-03-29' });
  expect(await standing(one, '2027-03-30')).toMatchObject({ state: 'lapsed', since: '2027-03-30' });
  const { rows } = await desk.ask('book', { from: '2026-03-29', to: '2026-03-29' });
  const entry = rows.find((row) => row.administration === administrations[0])?.entry;
  await desk.ask('void', { entry: entry ?? { request: '', n: 1 }, reason: 'Another ewe' });
  expect(await standing(one)).toMatchObject({ state: 'part', last: '2026-03-01' });
});

test('a dose that is not the label’s covers nobody, and another medicine is no dose of this one', async () => {
  const one = await ewe(1);
  const other = await desk.ask('set-label', {
    act: 'first',
    terms: { ...structuredClone(VACCINE), name: 'Ferrowick two' } as never,
    state: 'confirmed',
  });
  await give(one);
  desk.at('2026-03-29T09:00:00.000Z');
  await desk.ask('confirm-date', { day: '2026-03-29' });
  await give(one, { given: '1 mL' });
  const { rows } = await desk.ask('coverage', { subject: one });
  expect(rows.find((row) => row.medicine === medicine)).toMatchObject({ state: 'unknown' });
  expect(rows.find((row) => row.medicine === medicine)?.text).toContain('1 mL given, 2 mL worked out');
  expect(rows.find((row) => row.medicine === other.medicine)).toMatchObject({ state: 'not-started' });
});

test('a lot of which some were dosed, and one that took in others, is counted as its worst heads', async () => {
  const whole = await lot('Whole', 40);
  const some = await lot('Some', 30);
  await give(whole);
  await give(some, { heads: 10 });
  expect(await standing(whole)).toMatchObject({ state: 'part', mixed: false });
  expect(await standing(some)).toMatchObject({ state: 'not-started', mixed: true });
  desk.at('2026-03-02T09:00:00.000Z');
  const id = (subject: string) => subject.slice('lot:'.length);
  const split = await desk.ask('move-heads', { from: id(whole), heads: 5, to: { newLot: 'Five of them' } });
  expect(await standing(split.to)).toMatchObject({ state: 'part', mixed: false, last: '2026-03-01' });
  const fresh = await lot('Fresh', 3);
  await desk.ask('move-heads', { from: id(fresh), heads: 3, to: { lot: id(whole) } });
  const mixed = await standing(whole);
  expect(mixed).toMatchObject({ state: 'not-started', mixed: true });
  expect(mixed?.text).toBe('Not all of its heads had the same doses. At worst: No dose is on record.');
  // Those that went out before are not touched by what came in afterwards.
  expect(await standing(split.to)).toMatchObject({ state: 'part', mixed: false });
});

test('planning says which dose it is, leaves out who is too early with the day, and says late in the label’s words', async () => {
  const [early, late] = [await ewe(1), await ewe(2)];
  await give(late);
  desk.at('2026-03-25T09:00:00.000Z');
  await desk.ask('confirm-date', { day: '2026-03-25' });
  const fresh = await ewe(3);
  await give(early);
  const plan = (on: string) =>
    desk.ask('plan-session', {
      holding,
      subjects: [early, late, fresh],
      lines: [{ medicine, doseLine: 'start', reason: 'Second doses' }],
      on,
    });
  // 25 March + 21 = 15 April; 1 March + 42 = 12 April.
  const now = await plan('2026-04-14');
  expect(now.leftOut).toEqual([
    expect.objectContaining({
      subject: early,
      why: {
        code: 'too-early',
        text: 'dose 2 of 2 may be given from 15 Apr 2026: the one before was on 25 Mar 2026',
      },
    }),
  ]);
  expect(now.rows.map((row) => [row.subject, row.turns])).toEqual([
    [
      late,
      [
        'Dose 2 of 2, after 1 Mar 2026: late, the last day was 12 Apr 2026. When a dose is late, the label says: Begin the course anew.',
      ],
    ],
    [fresh, ['Dose 1 of 2']],
  ]);
  expect((await plan('2026-04-15')).leftOut).toEqual([]);
});

test('a group: how many are covered when its days come, and what is due for it', async () => {
  const ewes = [await ewe(1), await ewe(2), await ewe(3)];
  const { group } = await desk.ask('set-group', {
    holding,
    name: 'Hill ewes',
    add: ewes,
    dates: { lambingFrom: '2026-04-20' },
  });
  for (const one of ewes.slice(0, 2)) await give(one);
  const due = await desk.ask('vaccines-due', {});
  expect(due.due.map((one) => [one.kind, one.text, one.small, one.heads])).toEqual([
    [
      'dose',
      '2 of Hill ewes: dose 2 of 2 of Ferrowick vaccine is due 29 Mar 2026.',
      'All of them may have it from 22 Mar 2026. By the label not after 12 Apr 2026.',
      2,
    ],
  ]);
  expect(due.due[0]).toMatchObject({ doseLine: 'start', group: { group, whole: false } });
  desk.at('2026-03-29T09:00:00.000Z');
  await desk.ask('confirm-date', { day: '2026-03-29' });
  await give(ewes[0] ?? '');
  const shown = await desk.ask('coverage', { group, states: ['covered'] });
  expect(shown.rows.map((row) => row.subject)).toEqual([ewes[0]]);
  expect(shown.vaccines).toEqual([
    {
      medicine,
      name: 'Ferrowick vaccine',
      heads: { 'not-started': 1, part: 1, late: 0, covered: 1, lapsed: 0, unknown: 0 },
      onDates: [{ what: 'the day before lambing', on: '2026-04-19', covered: 1, of: 3 }],
    },
  ]);
});

test('who may have been vaccinated without a record is not counted as vaccinated', async () => {
  const [read, unread] = [await ewe(1), await ewe(2)];
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Vaccine',
    mode: 'mass',
    subjects: [read, unread],
    lines: [{ medicine, doseLine: 'start', reason: 'First vaccine' }],
  });
  await desk.ask('treat-many', { session, except: [{ subject: unread, why: 'Not read' }] });
  await desk.ask('close-session', { session, headsThrough: 2 });
  expect(await standing(read)).toMatchObject({ state: 'part' });
  const maybe = await standing(unread);
  expect(maybe?.state).toBe('not-started');
  expect(maybe?.text).toContain('It may have had a dose on 1 Mar 2026, without a record: not counted.');
});

test('a dose in a session goes on with the open course of the same medicine and line, which is then closed', async () => {
  const one = await ewe(1);
  const begun = await desk.ask('treat', {
    subject: one,
    single: { medicine, doseLine: 'start', reason: 'First dose' },
    course: { planned: ['2026-03-01', '2026-03-29'] },
  });
  desk.at('2026-03-29T09:00:00.000Z');
  await desk.ask('confirm-date', { day: '2026-03-29' });
  for (const mode of ['mass', 'each'] as const) {
    const { session } = await desk.ask('open-session', {
      holding,
      name: `Second doses ${mode}`,
      mode,
      subjects: [one],
      lines: [{ medicine, doseLine: 'start', reason: 'Second dose' }],
    });
    if (mode === 'mass') await desk.ask('treat-many', { session });
    else await desk.ask('treat', { session, subject: one, confirmed: ['dosed-today'] });
    const { courses } = await desk.ask('courses', { subject: one });
    expect(courses.map((course) => [course.course, course.given.length])).toEqual([
      [begun.course, mode === 'mass' ? 2 : 3],
    ]);
  }
  await desk.ask('close-course', {
    course: begun.course ?? '',
    state: 'finished',
    why: 'All doses were given',
  });
  expect((await desk.ask('courses', {})).courses).toEqual([]);
});
