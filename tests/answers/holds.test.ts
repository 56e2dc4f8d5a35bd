import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Ask, Reply } from '../../src-shared/calls/all.ts';
import { DRENCH, type FarmDesk, farmDesk, one } from './farm-desk.ts';

/** Events, organic clocks, words that date a hold, lambs at foot and marks, told to a real desk. */
let desk: FarmDesk;
let holding: string;
beforeEach(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding } = await desk.started());
});
afterEach(() => desk.close());

type Terms = Ask<'check-label'>['terms'];
const LATER_OF_TWO: Terms['periods'] = [
  { produce: 'meat', says: 'value', value: '10 d' },
  {
    produce: 'milk',
    says: 'value',
    value: '36 h',
    countedFrom: 'later-of-two',
    valueFromDose: '35 d + 36 h',
  },
];

async function medicine(more: Partial<Terms> = {}) {
  const terms = { ...DRENCH, periods: LATER_OF_TWO, ...more } as Terms;
  return desk.ask('set-label', { act: 'first', terms, happened: '2025-12-01' });
}
async function ewe(management: string, more: Partial<Ask<'set-animal'>> = {}) {
  const { animal } = await desk.ask('set-animal', {
    holding,
    management,
    class: 'ewe',
    happened: '2025-12-01',
    ...more,
  });
  return `animal:${animal}`;
}
async function lot(name: string, heads: number, more: Partial<Ask<'set-lot'>> = {}) {
  const made = await desk.ask('set-lot', {
    holding,
    name,
    class: 'ewe',
    heads,
    happened: '2025-12-01',
    ...more,
  });
  return `lot:${made.lot}`;
}
const treat = (subject: string, medicine: string, happened: string) =>
  desk.ask('treat', {
    subject,
    happened,
    given: '5 mL',
    weight: '50 kg',
    weightHow: 'scale',
    single: { medicine, reason: 'invented', source: 'vet' },
  });
/** Each hold of one produce on a subject, as "state until". */
async function held(subject: string, produce: string, clock = 'food'): Promise<string[]> {
  const { holds } = await desk.ask('subject', { subject });
  return holds
    .filter((hold) => hold.produce === produce && hold.clock === clock)
    .map((hold) => `${hold.state} ${hold.until?.slice(0, 16) ?? '-'}`);
}
const strike = async (event: Reply<'why-held'>['subjects'][number]['events'][number]) =>
  desk.ask('void', { entry: event.entry, reason: 'mistyped' });

test('the later of two anchors: held until she lambs, then counted from both; struck out she waits again', async () => {
  const { medicine: m } = await medicine();
  const [early, late] = [await ewe('11', { milking: true }), await ewe('12', { milking: true })];
  for (const subject of [early, late]) await treat(subject, m, '2026-01-01T08:00');
  expect(await held(early, 'milk')).toEqual(['event -']);
  // withdrawal.md, worked: lambs 20 Jan → 6 Feb 20:00; lambs 20 Feb 10:00 → 21 Feb 22:00.
  const said = await desk.ask('note-event', { subjects: [early], what: 'lambing', happened: '2026-01-20' });
  expect(one(one(said.settled).holds).text).toContain('6 Feb 2026');
  await desk.ask('note-event', { subjects: [late], what: 'lambing', happened: '2026-02-20T10:00' });
  expect(await held(early, 'milk')).toEqual(['until 2026-02-06T20:00']);
  expect(await held(late, 'milk')).toEqual(['until 2026-02-21T22:00']);

  const why = one((await desk.ask('why-held', { subject: early })).subjects);
  const milk = why.rows.find((row) => row.hold.produce === 'milk');
  expect(milk?.countedFrom).toBe('the later of the last dose and lambing');
  expect(milk?.hold.working.map((line) => line.text).join('\n')).toContain('lambing happened 2026-01-20');
  await strike(one(why.events));
  expect(await held(early, 'milk')).toEqual(['event -']);
});

test('what is written late follows the order in which it happened', async () => {
  const { medicine: m } = await medicine();
  const subject = await ewe('13', { milking: true });
  await desk.ask('note-event', { subjects: [subject], what: 'lambing', happened: '2026-01-20' });
  await treat(subject, m, '2026-01-01T08:00');
  expect(await held(subject, 'milk')).toEqual(['until 2026-02-06T20:00']);
  // Given after she lambed, it waits for the next time.
  await treat(subject, m, '2026-02-01T08:00');
  expect(await held(subject, 'milk')).toEqual(['until 2026-02-06T20:00', 'event -']);
  // An earlier lambing than the one in the book is the one it is counted from.
  await desk.ask('note-event', { subjects: [subject], what: 'lambing', happened: '2026-01-10T08:00' });
  expect((await held(subject, 'milk'))[0]).toBe('until 2026-02-06T20:00');
  await desk.refold((store) => {
    expect(store.read.all('SELECT 1 FROM settled')).toHaveLength(2);
  });
});

test('an event of before the treatment is no answer to it, though the animal came into the book later', async () => {
  const { medicine: m } = await medicine();
  const { animal } = await desk.ask('set-animal', {
    holding,
    management: '31',
    class: 'ewe',
    milking: true,
  });
  const subject = `animal:${animal}` as const;
  await desk.ask('weigh', { subject, weight: '60 kg', how: 'crate' });
  await treat(subject, m, '2026-01-10T14:00');
  // Of the day of the treatment nobody knows what came first.
  for (const happened of ['2026-01-01', '2026-01-10', '2026-01-10T14:00']) {
    await desk.ask('note-event', { subjects: [subject], what: 'lambing', happened });
    expect(await held(subject, 'milk')).toEqual(['event -']);
  }
  await treat(subject, m, '2026-01-05T08:00');
  expect(await held(subject, 'milk')).toEqual(['until 2026-02-10T20:00', 'event -']);
  await desk.ask('note-event', { subjects: [subject], what: 'lambing', happened: '2026-01-20' });
  expect((await held(subject, 'milk'))[1]).toBe('until 2026-02-16T02:00');
});

test('heads that had left a lot before it lambed still wait, and so does a lot that gets some of them', async () => {
  const { medicine: m } = await medicine();
  const hill = await lot('Hill', 20, { milking: true });
  await treat(hill, m, '2026-01-01T08:00');
  const from = hill.slice('lot:'.length);
  const { to } = await desk.ask('move-heads', {
    from,
    heads: 5,
    to: { newLot: 'Low' },
    happened: '2026-01-15',
  });
  await desk.ask('note-event', { subjects: [hill], what: 'lambing', happened: '2026-02-20T10:00' });
  expect(await held(hill, 'milk')).toEqual(['until 2026-02-21T22:00']);
  expect(await held(to, 'milk')).toEqual(['event -']);
  // One that gets a tag afterwards is settled as its lot was.
  const tagged = await desk.ask('move-heads', {
    from,
    heads: 1,
    to: { management: '77' },
    happened: '2026-03-01',
  });
  expect(await held(tagged.to, 'milk')).toEqual(['until 2026-02-21T22:00']);
  await desk.ask('note-event', { subjects: [to], what: 'lambing', happened: '2026-03-05T10:00' });
  expect(await held(to, 'milk')).toEqual(['until 2026-03-06T22:00']);
  const mixed = await lot('Mixed', 3, { milking: true });
  const low = to.slice('lot:'.length);
  // Moved, as it turns out, before the lot lambed: these never did.
  await desk.ask('move-heads', { from: low, heads: 1, to: { lot: mixed.slice(4) }, happened: '2026-02-25' });
  expect(await held(mixed, 'milk')).toEqual(['event -']);
});

test('a label that was typed wrongly, and a course that ends, are settled anew', async () => {
  const { medicine: m, revision } = await medicine();
  const subject = await ewe('14', { milking: true });
  const { course } = await desk.ask('treat', {
    subject,
    happened: '2026-01-01T08:00',
    given: '5 mL',
    weight: '50 kg',
    weightHow: 'scale',
    course: { planned: ['2026-01-01', '2026-01-02', '2026-01-03'] },
    single: { medicine: m, reason: 'invented', source: 'vet' },
  });
  await desk.ask('note-event', { subjects: [subject], what: 'lambing', happened: '2026-01-20' });
  // The open course counts from its planned last dose: the end of 3 January + 35 d + 36 h.
  expect(await held(subject, 'milk')).toEqual(['until 2026-02-09T12:00']);
  await desk.ask('close-course', { course: course ?? '', state: 'abandoned', why: 'better' });
  expect(await held(subject, 'milk')).toEqual(['until 2026-02-06T20:00']);
  // Its end struck out, the course is open again.
  const end = await desk.peek((store) =>
    store.read.get<{ request: string; n: number }>(
      "SELECT request, n FROM journal WHERE line ->> '$.data.state' = 'abandoned' AND line ->> '$.kind' = 'course-set'",
    ),
  );
  await desk.ask('void', { entry: end ?? { request: '', n: 0 }, reason: 'it goes on' });
  expect(await held(subject, 'milk')).toEqual(['until 2026-02-09T12:00']);
  await desk.ask('close-course', { course: course ?? '', state: 'abandoned', why: 'better' });
  expect(await held(subject, 'milk')).toEqual(['until 2026-02-06T20:00']);
  const periods = [one(LATER_OF_TWO ?? []), { ...one(LATER_OF_TWO ?? [], 1), valueFromDose: '40 d' }];
  await desk.ask('set-label', {
    act: 'typed-wrongly',
    medicine: m,
    revision,
    terms: { ...DRENCH, periods } as Terms,
    why: 'mistyped',
  });
  expect(await held(subject, 'milk')).toEqual(['until 2026-02-10T08:00']);
});

test('dormant milk wakes with what is left, and goes back to sleep', async () => {
  const { medicine: m } = await medicine({ periods: [{ produce: 'milk', says: 'value', value: '72 h' }] });
  const subject = await ewe('15');
  await treat(subject, m, '2026-04-30T08:00');
  expect(await held(subject, 'milk')).toEqual(['dormant 2026-05-03T08:00']);
  await desk.ask('note-event', { subjects: [subject], what: 'in-milk' });
  expect(await held(subject, 'milk')).toEqual(['until 2026-05-03T08:00']);
  desk.at('2026-05-01T10:00:00.000Z');
  await desk.ask('note-event', { subjects: [subject], what: 'dry' });
  expect(await held(subject, 'milk')).toEqual(['dormant 2026-05-03T08:00']);
});

test('a device: nothing waits is asked, a ram does not lamb, a needle is no event', async () => {
  const { medicine: m } = await medicine({
    periods: [
      { produce: 'meat', says: 'value', value: '7 d', countedFrom: 'removal' },
      { produce: 'milk', says: 'zero' },
    ],
  });
  const subject = await ewe('16');
  const note = { subjects: [subject], what: 'removal' as const, happened: '2026-02-01T08:00' };
  expect((await desk.refused('note-event', note)).code).toBe('ask:nothing-waits');
  await treat(subject, m, '2026-01-20T08:00');
  await desk.ask('note-event', note);
  expect(await held(subject, 'meat')).toEqual(['until 2026-02-08T08:00']);
  const ram = await ewe('17', { class: 'ram' });
  expect(await desk.refused('note-event', { subjects: [ram], what: 'lambing' })).toMatchObject({
    code: 'does-not-lamb',
    field: 'subject',
  });
  const twice = await desk.refused('note-event', { subjects: [subject, subject], what: 'dry' });
  expect(twice).toMatchObject({ code: 'named-twice', field: 'subjects.1' });
});

test('two clocks under an EU certificate; courses are counted, and the last one warned of', async () => {
  const { medicine: m } = await medicine({
    purpose: 'antibiotic',
    periods: [
      { produce: 'meat', says: 'value', value: '10 d' },
      { produce: 'milk', says: 'zero' },
    ],
  });
  const subject = await ewe('18', { milking: true });
  await treat(subject, m, '2025-12-05T08:00');
  expect(await held(subject, 'meat', 'organic')).toEqual([]);
  const certificate = { of: `holding:${holding}`, name: 'Organic sheep', from: '2026-01-01' };
  await desk.ask('set-certificate', { ...certificate, rules: 'eu-organic' });
  await treat(subject, m, '2026-01-10T08:00');
  // Twice 10 d, counted in 24-hour days as the farm does; at least 48 h where the period is zero.
  expect((await held(subject, 'meat')).at(-1)).toBe('until 2026-01-20T08:00');
  expect(await held(subject, 'meat', 'organic')).toEqual(['until 2026-01-30T08:00']);
  expect(await held(subject, 'milk', 'organic')).toEqual(['until 2026-01-12T08:00']);
  // One that had nothing before the certificate may go for food ten days before she may as organic, each at its minute.
  const certified = await ewe('28');
  await treat(certified, m, '2026-01-10T08:00');
  const clearOn = async (at: string, destination?: 'organic') =>
    (await desk.ask('clear-list', { at, search: '28', ...(destination && { destination }) })).clear.length;
  expect([await clearOn('2026-01-20T07:59'), await clearOn('2026-01-20T08:00')]).toEqual([0, 1]);
  expect(await clearOn('2026-01-30T07:59', 'organic')).toBe(0);
  expect(await clearOn('2026-01-30T08:00', 'organic')).toBe(1);
  const standing = async () => one((await desk.ask('organic-standing', { subjects: [subject] })).rows);
  expect(await standing()).toMatchObject({ counted: 2, most: 3, isLast: false, isLost: false });
  const third = await treat(subject, m, '2026-02-10T08:00');
  expect(await standing()).toMatchObject({ counted: 3, isLast: true, isLost: false });
  await treat(subject, m, '2026-03-10T08:00');
  expect(await standing()).toMatchObject({ counted: 4, isLost: true });
  await desk.ask('except-from-organic', {
    administration: one(third.administrations),
    why: 'compulsory scheme',
  });
  expect(await standing()).toMatchObject({ counted: 3, isLast: true, isLost: false });
});

test('under US rules an antibiotic ends it outright, and nothing else has a date; no rules, no clock', async () => {
  const { medicine: m } = await medicine({ purpose: 'antibiotic' });
  const { medicine: drench } = await medicine({ name: 'Plain drench' });
  const [us, other] = [await ewe('19'), await ewe('20')];
  await desk.ask('set-certificate', { of: us, rules: 'us-organic', name: 'Certified', from: '2026-01-01' });
  await desk.ask('set-certificate', { of: other, rules: 'other', name: 'Some scheme', from: '2026-01-01' });
  for (const subject of [us, other]) await treat(subject, drench, '2026-02-01T08:00');
  expect([await held(us, 'meat', 'organic'), await held(other, 'meat', 'organic')]).toEqual([[], []]);
  await treat(us, m, '2026-02-02T08:00');
  expect(await held(us, 'meat', 'organic')).toEqual(['life -']);
  expect((await desk.ask('organic-standing', {})).rows).toMatchObject([{ subject: us, isLost: true }]);
});

test('bought in: a statement of what still runs, a stand-down that is signed, and no end for what nobody spoke of', async () => {
  const bought = { origin: 'bought', standing: 'unknown', happened: '2026-04-01T08:00' } as const;
  const [stated, stood] = [await ewe('21', bought), await ewe('22', bought)];
  const waitOf = async (subject: string) => one((await desk.ask('subject', { subject })).waits).hold;
  const said = { hold: await waitOf(stated), subject: stated, why: 'The seller’s paper of 1 April' };
  expect((await desk.refused('date-hold', { ...said, how: 'statement' })).code).toBe('end-missing');
  await desk.ask('date-hold', { ...said, how: 'statement', meatUntil: '2026-04-20' });
  expect(await held(stated, 'meat')).toEqual(['until 2026-04-21T00:00']);
  expect(await held(stated, 'milk')).toEqual(['unknown -']);

  const down = {
    hold: await waitOf(stood),
    subject: stood,
    why: 'nothing is known',
    how: 'stand-down' as const,
  };
  expect((await desk.refused('date-hold', { ...down, days: 110 })).field).toBe('signer');
  const signer = one((await desk.ask('farm', {})).people).person;
  expect((await desk.refused('date-hold', { ...down, days: 104, signer })).code).toBe('ask:short-stand-down');
  await desk.ask('date-hold', { ...down, days: 105, signer });
  expect(await held(stood, 'meat')).toEqual(['until 2026-07-15T08:00']);
  const why = one((await desk.ask('why-held', { subject: stood })).subjects);
  expect(one(why.rows)).toMatchObject({ countedFrom: 'the day it came', isRunning: true });
});

test('a lamb at foot is held with its dam, only by what she had meanwhile, and follows a correction', async () => {
  const { medicine: m } = await medicine({ sucklingYoung: 'No withdrawal for sucking lambs under 4 weeks.' });
  const dam = await ewe('23');
  const lamb = await ewe('24', { class: 'lamb', happened: '2026-03-01T08:00' });
  await treat(dam, m, '2026-02-01T08:00');
  const { foot } = await desk.ask('set-at-foot', { subject: lamb, dam, from: '2026-03-01' });
  expect(await held(lamb, 'meat')).toEqual([]);
  const { administrations } = await treat(dam, m, '2026-04-25T08:00');
  expect(await held(lamb, 'meat')).toEqual(['until 2026-05-05T08:00']);
  const { held: list } = await desk.ask('clear-list', { at: '2026-05-01T12:00' });
  expect(list.map((row) => row.subject).sort()).toEqual([dam, lamb].sort());
  const row = one(one((await desk.ask('why-held', { subject: lamb })).subjects).rows);
  expect(row).toMatchObject({ cameBy: '23', label: 'No withdrawal for sucking lambs under 4 weeks.' });
  await desk.ask('set-at-foot', { foot, subject: lamb, dam, until: '2026-04-20' });
  expect(await held(lamb, 'meat')).toEqual([]);
  await desk.ask('set-at-foot', { foot, subject: lamb, dam, until: '2026-04-28' });
  expect(await held(lamb, 'meat')).toHaveLength(1);
  expect(one((await desk.ask('at-foot', { subject: dam })).links).until).toBe('2026-04-28');
  const { entry } = one(
    (await desk.ask('book', { from: '2026-04-01', to: '2026-04-30', corrections: false })).rows.filter(
      (each) => each.administration === administrations[0],
    ),
  );
  await desk.ask('void', { entry, reason: 'it was another ewe' });
  expect(await held(lamb, 'meat')).toEqual([]);
});

test('a group says each reason once, and a mark is spoken of a week before it fades', async () => {
  const { medicine: m } = await medicine();
  const subjects = [await ewe('25'), await ewe('26'), await ewe('27')];
  for (const subject of subjects.slice(0, 2)) await treat(subject, m, '2026-04-28T08:00');
  const { group } = await desk.ask('set-group', { holding, name: 'Top field', add: subjects });
  const { summary, subjects: told } = await desk.ask('why-held', { group });
  const meat = summary.find((row) => row.produce === 'meat' && row.clock === 'food');
  expect(meat).toMatchObject({ heads: 2, until: '2026-05-08T08:00:00+01:00' });
  expect(told.at(-1)?.sentences).toEqual([]);

  const field = await lot('Field', 10, { class: 'lamb', happened: '2026-04-01T08:00' });
  await desk.ask('weigh', { subject: field, weight: '30 kg', how: 'scale' });
  const { session } = await desk.ask('open-session', {
    holding,
    mode: 'mass',
    subjects: [field],
    name: 'Work',
    lines: [{ medicine: m, reason: 'invented', source: 'vet' }],
    mark: { colour: 'blue', place: 'rump', lastsDays: 5 },
  });
  await desk.ask('treat-many', {
    session,
    given: '5 mL',
    tally: [{ subject: field, heads: 4, marked: true }],
    confirmed: ['outside-label'],
  });
  const fading = (await desk.ask('marks-fading', {})).marks;
  expect(fading).toMatchObject([{ colour: 'blue', isPast: false, heads: 4, lastsUntil: '2026-05-06' }]);
  desk.at('2026-05-08T09:00:00.000Z');
  expect((await desk.ask('marks-fading', {})).marks).toMatchObject([{ isPast: true }]);
});
