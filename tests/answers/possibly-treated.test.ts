import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, farmDesk, one } from './farm-desk.ts';

/** Who may have been treated counts as treated: what may end that hold, and what must not. */
type Line = Ask<'open-session'>['lines'][number];
let desk: ReturnType<typeof farmDesk>;
let holding = '';
let me = '';
let made = 0;

beforeEach(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding, person: me } = await desk.started());
});
afterEach(() => desk.close());

const MEAT = (value: string) =>
  [{ produce: 'meat', says: 'value', value }, { ...one(DRENCH.periods, 1) }] as const;

async function medicine(name: string, meat: string) {
  const terms = { ...DRENCH, name, periods: [...MEAT(meat)] };
  const { medicine: id, revision } = await desk.ask('set-label', { act: 'first', terms });
  await receive(id, '2027-03');
  return { medicine: id, revision, terms };
}
const receive = (id: string, expiry: string) =>
  desk.ask('receive-batch', {
    medicine: id,
    number: `B-${expiry}`,
    expiry,
    packs: [{ count: 1, size: '1 L' }],
  });

async function ewe(more: object = {}) {
  made += 1;
  const { animal } = await desk.ask('set-animal', {
    holding,
    tag: `UK 0 123456 ${String(made).padStart(5, '0')}`,
    class: 'ewe',
    ...more,
  });
  const subject = `animal:${animal}` as const;
  await desk.ask('weigh', { subject, weight: '60 kg', how: 'crate' });
  return subject;
}

/** Two go through, one is recorded; the other is held as possibly treated. */
async function unread(...lines: Omit<Line, 'source'>[]) {
  const [read, other] = [await ewe(), await ewe()];
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Worming',
    subjects: [read, other],
    lines: lines.map((line) => ({ ...line, source: 'ours' as const })),
  });
  await desk.ask('treat', { session, subject: read });
  await desk.ask('close-session', { session, headsThrough: 2 });
  const { hold } = one((await desk.ask('session', { session })).possibly);
  return { session, hold, subject: other };
}

const clears = async (subject: string) => {
  const { held } = await desk.ask('clear-list', { at: '2026-05-02' });
  return held.find((row) => row.subject === subject)?.clear?.slice(0, 16);
};

test('a treatment in another session says nothing of what it may have been given in this one', async () => {
  const long = await medicine('Longol', '28 d');
  const short = await medicine('Shortol', '1 d');
  const { subject } = await unread({ medicine: long.medicine, reason: 'worms' });
  expect(await clears(subject)).toBe('2026-05-29T10:00');
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Later',
    subjects: [subject],
    lines: [{ medicine: short.medicine, reason: 'worms' }],
  });
  await desk.ask('treat', { session, subject });
  expect(await clears(subject)).toBe('2026-05-29T10:00');
});

test('the vet’s longer period that the session followed holds the unread too, also after the label is corrected', async () => {
  const { medicine: m, revision, terms } = await medicine('Longol', '28 d');
  const { person: vet } = await desk.ask('set-person', { name: 'Vet Cairn', roles: ['vet'] });
  const { instruction } = await desk.ask('record-instruction', {
    vet,
    what: 'Longer than the label',
    form: 'told',
    reason: 'lean ewes',
    medicine: m,
    periods: [{ produce: 'meat', period: '60 d' }],
  });
  const { subject } = await unread({ medicine: m, reason: 'worms', instruction });
  expect(await clears(subject)).toBe('2026-06-30T10:00');
  const corrected = { ...terms, periods: [...MEAT('35 d')] };
  await desk.ask('set-label', {
    act: 'typed-wrongly',
    medicine: m,
    revision,
    terms: corrected,
    why: 'reads 35 d',
  });
  expect(await clears(subject)).toBe('2026-06-30T10:00');
});

test('the end that the vet gave one who may have been treated stays when the label is corrected', async () => {
  const { medicine: m, revision, terms } = await medicine('Longol', '28 d');
  const { subject, hold } = await unread({ medicine: m, reason: 'worms' });
  const word = { hold, subject, how: 'vet-word', meatUntil: '2026-07-01', why: 'lean' } as const;
  await desk.ask('date-hold', word);
  expect(await clears(subject)).toBe('2026-07-02T00:00');
  const corrected = { ...terms, periods: [...MEAT('35 d')] };
  const act = { act: 'typed-wrongly', medicine: m, revision, why: 'reads 35 d' } as const;
  await desk.ask('set-label', { ...act, terms: corrected });
  expect(await clears(subject)).toBe('2026-07-02T00:00');
});

test('of the boxes at the race the one with the longest period holds the unread', async () => {
  const { medicine: m, terms } = await medicine('Longol', '42 d');
  await desk.ask('set-label', {
    act: 'new-insert',
    medicine: m,
    terms: { ...terms, periods: [...MEAT('28 d')] },
  });
  await receive(m, '2028-03');
  const { subject } = await unread({ medicine: m, reason: 'worms' });
  expect(await clears(subject)).toBe('2026-06-12T10:00');
});

test('“recorded by now” is taken only when all that was planned is in the book; a seller knows nothing of it', async () => {
  const a = await medicine('Longol', '28 d');
  const b = await medicine('Shortol', '1 d');
  const { subject, hold } = await unread(
    { medicine: a.medicine, reason: 'worms' },
    { medicine: b.medicine, reason: 'fluke' },
  );
  const late = { hold, subject, how: 'recorded-late', why: 'It is in the book' } as const;
  const refused = await desk.refused('resolve-possible', late);
  expect([refused.code, refused.field]).toEqual(['not-recorded', 'how']);
  expect(refused.message).toBe(
    'Since Worming began no treatment of it with Longol or Shortol is in the book.',
  );
  await desk.ask('treat', { subject, single: { medicine: b.medicine, reason: 'fluke' } });
  expect((await desk.refused('resolve-possible', late)).message).toContain('with Longol is in the book');
  for (const how of ['statement', 'finding'] as const) {
    expect((await desk.refused('resolve-possible', { ...late, how })).code).toBe('no-answer-to-this');
  }
  const stated = { hold, subject, how: 'statement', meatUntil: '2026-05-01', why: 'paper' } as const;
  expect((await desk.refused('date-hold', stated)).code).toBe('vet-word-only');
  expect(
    (await desk.refused('date-hold', { ...stated, how: 'stand-down', days: 105, signer: me })).code,
  ).toBe('vet-word-only');
  expect(await clears(subject)).toBe('2026-05-29T10:00');
  await desk.ask('treat', { subject, single: { medicine: a.medicine, reason: 'worms' } });
  await desk.ask('resolve-possible', late);
  expect(await clears(subject)).toBe('2026-05-29T10:00');
});

test('one bought in whose day alone is known stands down from the end of that day', async () => {
  const subject = await ewe({ origin: 'bought', standing: 'unknown', happened: '2026-04-01' });
  const { hold } = one((await desk.ask('subject', { subject })).waits);
  const not = { hold, subject, how: 'not-treated', why: 'nobody did' } as const;
  expect((await desk.refused('resolve-possible', not)).code).toBe('no-answer-to-this');
  await desk.ask('date-hold', {
    hold,
    subject,
    how: 'stand-down',
    days: 105,
    signer: me,
    why: 'nobody knows',
  });
  expect(await clears(subject)).toBe('2026-07-16T00:00');
});

test('a period of zero is said as none, before it is given and after', async () => {
  const { medicine: m } = await medicine('Nilol', '0 d');
  const subject = await ewe();
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Nil',
    subjects: [subject],
    lines: [{ medicine: m, reason: 'worms' }],
  });
  const shown = await desk.ask('dose-for', { session, subject });
  expect(one(shown.doses).foreseen?.meat).toBe('No meat withdrawal (0 days)');
  await desk.ask('treat', { session, subject });
  expect(one((await desk.ask('session', { session })).last).until).toBe('no withdrawal (0 days)');
});
