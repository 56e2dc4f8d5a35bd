import { afterAll, beforeAll, expect, test } from 'vitest';
import { DRENCH, farmDesk, one } from './farm-desk.ts';

/** Several medicines in one session: what is planned for one and not recorded holds it by that medicine. */
let desk: ReturnType<typeof farmDesk>;
let holding = '';
let long = '';
let short = '';
let made = 0;

async function medicine(name: string, meat: string) {
  const periods = [{ produce: 'meat', says: 'value', value: meat }, one(DRENCH.periods, 1)] as const;
  const terms = { ...DRENCH, name, actives: [], periods: [...periods] };
  const rate = { style: 'rate', text: '5 mL per head' } as const;
  const doseLines = [{ id: 'd1', title: 'All sheep', route: 'oral', rate } as const];
  const { medicine: id } = await desk.ask('set-label', { act: 'first', terms: { ...terms, doseLines } });
  await desk.ask('receive-batch', {
    medicine: id,
    number: name,
    expiry: '2027-03',
    packs: [{ count: 1, size: '5 L' }],
  });
  return id;
}

beforeAll(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding } = await desk.started());
  long = await medicine('Longol', '28 d');
  short = await medicine('Shortol', '7 d');
});
afterAll(() => desk.close());

async function ewe() {
  made += 1;
  const tag = `UK 0 123456 ${String(made).padStart(5, '0')}`;
  return `animal:${(await desk.ask('set-animal', { holding, tag, class: 'ewe' })).animal}` as const;
}
const lot = async (heads: number) => {
  made += 1;
  const { lot: id } = await desk.ask('set-lot', { holding, name: `Pen ${made}`, class: 'lamb', heads });
  return `lot:${id}` as const;
};

async function open(subjects: string[], more: object = {}) {
  const { session } = await desk.ask('open-session', {
    holding,
    name: `Work ${made}`,
    subjects: subjects as `lot:${string}`[],
    lines: [
      { medicine: long, reason: 'worms' },
      { medicine: short, reason: 'fluke' },
    ],
    ...more,
  });
  const [a, b] = (await desk.ask('session', { session })).lines.map(({ line }) => line);
  return { session, a: a ?? '', b: b ?? '' };
}

/** When its meat is clear by the list of the day after, as a local time; "clear" on it. */
async function meat(subject: string, at = '2026-05-02') {
  const { held, clear } = await desk.ask('clear-list', { at });
  if (clear.some((row) => row.subject === subject)) return 'clear';
  return held.find((row) => row.subject === subject)?.clear?.slice(0, 10);
}

test('with a record of one medicine and none of the other it may have had that one, however many heads are counted', async () => {
  const [whole, part] = [await ewe(), await ewe()];
  const { session, b } = await open([whole, part]);
  await desk.ask('treat', { session, subject: whole });
  await desk.ask('treat', { session, subject: part, lines: [b] });
  expect(await meat(part)).toBe('2026-05-08');
  const waits = one((await desk.ask('session', { session })).waiting);
  expect(waits.subject).toBe(part);
  expect(waits.left).toHaveLength(1);
  const { possibly } = await desk.ask('close-session', { session, headsThrough: 2 });
  expect(possibly.map(({ subject, of }) => [subject, of])).toEqual([[part, ['Longol']]]);
  expect(await meat(part)).toBe('2026-05-29');
  expect(await meat(whole)).toBe('2026-05-29');
  const { possibly: shown } = await desk.ask('session', { session });
  expect(one(shown).why).toMatch(/^No record of Longol in Work/);
  const { holds, waits: said } = await desk.ask('subject', { subject: part });
  expect(holds.map(({ text }) => text).join('\n')).toContain('(may have been treated with Longol, 28 d)');
  expect(one(said).text).toBe(
    'No record of Longol was made at its session, so it counts as treated with it.',
  );
  // What is recorded late ends it, and only a record of that medicine.
  const late = { hold: one(shown).hold, subject: part, how: 'recorded-late', why: 'in the book' } as const;
  await desk.ask('treat', {
    subject: part,
    single: { medicine: short, reason: 'fluke' },
    confirmed: ['dosed-today'],
  });
  expect((await desk.refused('resolve-possible', late)).message).toContain('with Longol is in the book');
  await desk.ask('treat', { subject: part, single: { medicine: long, reason: 'worms' } });
  await desk.ask('resolve-possible', late);
});

test('whoever closes may say, medicine by medicine, that it got none; of what is recorded or not planned nobody can', async () => {
  const [first, second, third] = [await ewe(), await ewe(), await ewe()];
  const { session, a, b } = await open([first, second, third]);
  await desk.ask('treat', { session, subject: first, lines: [a] });
  await desk.ask('treat', { session, subject: second, lines: [b] });
  const closing = (gotNone: { subject: string; lines: string[] }[]) => ({
    session,
    headsThrough: 3,
    gotNone: gotNone as { subject: `animal:${string}`; lines: string[] }[],
  });
  const recorded = await desk.refused('close-session', closing([{ subject: first, lines: [a] }]));
  expect([recorded.code, recorded.field]).toEqual(['recorded-already', 'gotNone']);
  const stranger = await desk.refused('close-session', closing([{ subject: await ewe(), lines: [a] }]));
  expect(stranger.code).toBe('not-planned-for-it');
  const { possibly } = await desk.ask(
    'close-session',
    closing([
      { subject: second, lines: [a] },
      { subject: third, lines: [b] },
    ]),
  );
  // The first is held by the second medicine, the third went through uncounted and may have had the first.
  expect(possibly.map(({ subject, of }) => [subject, of])).toEqual([
    [first, ['Shortol']],
    [third, ['Longol']],
  ]);
  expect(await meat(second)).toBe('2026-05-08');
});

test('a mass run by line leaves the other medicine waiting; whoever is left out of a run is not held by it', async () => {
  const [some, none, pen] = [await ewe(), await ewe(), await lot(40)];
  const { session, a, b } = await open([some, none, pen], { mode: 'mass' });
  await desk.ask('treat-many', { session, lines: [a], except: [{ subject: none, why: 'sick' }] });
  const after = await desk.ask('session', { session });
  expect(after.waiting.map(({ subject, left, leftOut }) => [subject, left, leftOut])).toEqual([
    [some, [b], undefined],
    // Of the second medicine nobody said anything.
    [none, [a, b], undefined],
    [pen, [b], undefined],
  ]);
  // Only the second is still to be drawn for those who had the first.
  expect(after.lines.map(({ needs }) => needs.text)).toEqual(['5 mL', '210 mL']);
  await desk.ask('treat-many', {
    session,
    lines: [b],
    except: [
      { subject: none, why: 'sick' },
      { subject: some, why: 'refused it' },
    ],
  });
  const { waiting } = await desk.ask('session', { session });
  expect(waiting.map(({ subject, leftOut }) => [subject, leftOut])).toEqual([
    [some, 'refused it'],
    [none, 'sick'],
  ]);
  // As many as are recorded: who was left out did not come through, and the first surely got no second.
  const { possibly } = await desk.ask('close-session', { session, headsThrough: 41 });
  expect(possibly).toEqual([]);
  expect([await meat(some), await meat(none), await meat(pen)]).toEqual([
    '2026-05-29',
    'clear',
    '2026-05-29',
  ]);
});

test('where more went through than all others account for, whoever was left out of the run is among them', async () => {
  const close = async (more: number, isNone = false) => {
    const [read, out, pen] = [await ewe(), await ewe(), await lot(10)];
    const { session, a, b } = await open([read, out, pen], { mode: 'mass' });
    const given = await desk.ask('treat-many', {
      session,
      except: [{ subject: out, why: 'not read' }],
      tally: [{ subject: pen, heads: 4, marked: false }],
    });
    // One ewe and four of the pen: of each medicine once, and not dose by dose.
    expect(given.quantity).toBe('25 mL of Longol and 25 mL of Shortol');
    const gotNone = isNone ? [{ subject: out, lines: [a, b] }] : [];
    const { possibly } = await desk.ask('close-session', { session, headsThrough: 5 + more, gotNone });
    return possibly.map(({ subject }) => (subject === out ? 'out' : subject === pen ? 'pen' : 'read'));
  };
  expect(await close(0)).toEqual([]);
  // The other six of the pen account for them, and not for a seventh.
  expect(await close(6)).toEqual(['pen']);
  expect(await close(7)).toEqual(['out', 'pen']);
  expect(await close(7, true)).toEqual(['pen']);
});

test('those of a lot that were marked keep what was planned for the lot; heads not recorded hold it all', async () => {
  const [pen, other] = [await lot(100), await lot(50)];
  const { session, a, b } = await open([pen, other], {
    mode: 'mass',
    mark: { colour: 'red', place: 'rump' },
  });
  await desk.ask('treat-many', {
    session,
    lines: [b],
    tally: [
      { subject: pen, heads: 10, marked: true },
      { subject: other, heads: 20, marked: false },
    ],
  });
  const { waiting } = await desk.ask('session', { session });
  const red = waiting.find(({ subject }) => subject !== pen && subject !== other);
  expect(red).toMatchObject({ heads: 10, left: [a] });
  const { possibly, warnings } = await desk.ask('close-session', { session, headsThrough: 30 });
  // Nobody more went through: the ninety are free, the ten and the lot that was treated in part may have had the other.
  expect(warnings).toEqual([]);
  expect(possibly.map(({ subject, of }) => [subject, of])).toEqual([
    [other, ['Longol']],
    [red?.subject, ['Longol']],
  ]);
  expect(await meat(pen)).toBe('clear');
  expect(await meat(red?.subject ?? '')).toBe('2026-05-29');
  const again = await open([await lot(100)], { mode: 'mass' });
  const { subject: next } = one((await desk.ask('session', { session: again.session })).waiting);
  await desk.ask('treat-many', {
    session: again.session,
    tally: [{ subject: next, heads: 10, marked: false }],
  });
  const { inPart } = await desk.ask('session', { session: again.session });
  expect(inPart).toMatchObject([{ subject: next, heads: 90, of: ['Longol', 'Shortol'] }]);
  desk.at('2026-05-12T09:00:00.000Z');
  const closed = await desk.ask('close-session', { session: again.session, headsThrough: 100 });
  expect(closed.possibly.map(({ of }) => of)).toEqual([['Longol', 'Shortol']]);
  // The ninety may have been treated on the last day of the work, not with the ten on the first.
  expect(await meat(next, '2026-05-13')).toBe('2026-06-09');
});

test('a lot without a record that went into another one before the closing holds that one', async () => {
  const [pen, other] = [await lot(20), await lot(5)];
  const { session } = await open([pen]);
  const id = (subject: string) => subject.slice('lot:'.length);
  await desk.ask('move-heads', { from: id(pen), to: { lot: id(other) }, heads: 20 });
  const { possibly } = await desk.ask('close-session', { session, headsThrough: 20 });
  expect(possibly.map(({ subject }) => subject)).toEqual([pen]);
  expect(await meat(other, '2026-05-13')).toBe('2026-06-09');
});

test('a label typed wrongly moves only whom that medicine may hold', async () => {
  const part = await ewe();
  const { session, b } = await open([part]);
  await desk.ask('treat', { session, subject: part, lines: [b] });
  await desk.ask('close-session', { session, headsThrough: 1 });
  const { medicines } = await desk.ask('medicines', {});
  for (const [id, value] of [
    [short, '9 d'],
    [long, '35 d'],
  ] as const) {
    const { revision } = one(medicines.filter((each) => each.medicine === id));
    const { revisions } = await desk.ask('medicine', { medicine: id });
    const { terms } = one(revisions.filter((each) => each.revision === revision));
    const [first, ...rest] = terms.periods;
    const periods = [{ ...one([first]), value }, ...rest] as typeof terms.periods;
    const { moved } = await desk.ask('set-label', {
      act: 'typed-wrongly',
      medicine: id,
      revision,
      terms: { ...terms, periods },
      why: 'mistyped',
    });
    const mine = moved.filter(({ subject }) => subject === part);
    expect(mine.map(({ given }) => given.startsWith('possibly'))).toEqual([id === long]);
  }
});

test('what was let go because it is in the book is held again when that record goes, to nobody or to another', async () => {
  for (const goes of ['struck out', 'to another', 'to a day before the session'] as const) {
    const [whole, late] = [await ewe(), await ewe()];
    const { session } = await open([whole, late], { happened: '2026-05-01T08:00' });
    await desk.ask('treat', { session, subject: whole });
    await desk.ask('close-session', { session, headsThrough: 2 });
    const { hold } = one((await desk.ask('session', { session })).possibly);
    const before = await meat(late, '2026-05-20');
    const written = [];
    for (const medicine of [long, short]) {
      const { administrations } = await desk.ask('treat', {
        subject: late,
        single: { medicine, reason: 'worms' },
      });
      written.push(one(administrations));
    }
    await desk.ask('resolve-possible', { hold, subject: late, how: 'recorded-late', why: 'in the notes' });
    const administration = one(written);
    // A correction of something else takes nothing away.
    await desk.ask('correct-treatment', { administration, why: 'fluke and worms', reason: 'incomplete' });
    expect((await desk.ask('session', { session })).possibly, goes).toEqual([]);
    const reason = 'written by mistake';
    if (goes === 'struck out') {
      await desk.ask('void', { entry: (await desk.ask('treatment', { administration })).entry, reason });
    } else {
      const change = goes === 'to another' ? { subject: await ewe() } : { local: '2026-03-01T08:00' };
      await desk.ask('correct-treatment', { administration, ...change, reason });
    }
    expect(await meat(late, '2026-05-20'), goes).toBe(before);
    expect(one((await desk.ask('session', { session })).possibly).subject).toBe(late);
  }
});

test('in a session opened again, a record of a time before it began lets go of nobody', async () => {
  const [whole, late] = [await ewe(), await ewe()];
  const { session } = await open([whole, late]);
  await desk.ask('treat', { session, subject: whole });
  await desk.ask('close-session', { session, headsThrough: 2 });
  const end = await desk.peek((store) =>
    store.read.get<{ request: string; n: number }>(
      "SELECT request, n FROM journal WHERE line ->> '$.kind' = 'session-closed' ORDER BY seq DESC LIMIT 1",
    ),
  );
  await desk.ask('void', { entry: end ?? { request: '', n: 0 }, reason: 'one more' });
  const before = await meat(late, '2026-05-20');
  expect(before).toMatch(/^2026-0[56]/);
  await desk.ask('treat', { session, subject: late, happened: '2026-03-01T08:00' });
  expect(await meat(late, '2026-05-20')).toBe(before);
});
