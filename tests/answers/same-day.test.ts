import { expect, test } from 'vitest';
import { DRENCH, one } from './farm-desk.ts';
import { desk, ewe, freshDesk, holding, medicineOf, type Terms, told, treat } from './off-label-desk.ts';

/** Two full doses of one day are twice the label's dose, however many records they were written in. */
freshDesk();

const again = { confirmed: ['dosed-today'] };

async function lotOf(heads: number): Promise<`lot:${string}`> {
  const { lot } = await desk.ask('set-lot', {
    holding,
    name: `Lot of ${heads}`,
    class: 'lamb',
    heads,
    happened: '2026-04-01',
  });
  await desk.ask('weigh', { subject: `lot:${lot}`, weight: '30 kg', how: 'crate' });
  return `lot:${lot}`;
}

test('the second whole dose of a day is asked about, and written it is outside the label', async () => {
  const { medicine } = await medicineOf();
  const subject = await ewe();
  expect((await treat(subject, medicine, { happened: '2026-05-01T08:00' })).meat?.until).toBe(
    '2026-05-29T08:00:00+01:00',
  );
  const second = { subject, single: { medicine, reason: 'worms' }, happened: '2026-05-01T09:30' };
  expect(await desk.refused('treat', second)).toMatchObject({
    code: 'ask:dosed-today',
    field: 'subject',
    message: expect.stringContaining(
      'had this medicine on that day already: 6 mL and 6 mL on one day, 12 mL together: dose 2 times the label',
    ),
  });
  const written = await treat(subject, medicine, { happened: '2026-05-01T09:30', ...again });
  expect(written.codes).toEqual(['over-label']);
  expect(written.meat?.state).toBe('unknown');
  const byVet = await treat(
    await ewe(),
    medicine,
    { happened: '2026-05-01T08:00', given: '12 mL' },
    { instruction: await told({ meat: '60 d' }) },
  );
  expect(byVet.codes).toEqual(['over-label']);
});

test('written in whatever order: a late entry of the morning finds the dose of the afternoon', async () => {
  const { medicine } = await medicineOf();
  const subject = await ewe();
  await treat(subject, medicine, { happened: '2026-05-01T09:30' });
  const late = await treat(subject, medicine, { happened: '2026-05-01T06:00', ...again });
  expect(late.codes).toEqual(['over-label']);
  const other = await ewe();
  await treat(other, medicine, { happened: '2026-05-01' });
  expect((await treat(other, medicine, { happened: '2026-05-01T09:00', ...again })).codes).toEqual([
    'over-label',
  ]);
});

test('one dose in two halves is one dose, and a dose of another day is another', async () => {
  const { medicine } = await medicineOf();
  const subject = await ewe();
  await treat(subject, medicine, { happened: '2026-04-30T23:50', given: '3 mL' });
  expect((await treat(subject, medicine, { happened: '2026-04-30T23:55', given: '3 mL' })).codes).toEqual([
    'other-than-worked-out',
  ]);
  expect((await treat(subject, medicine, { happened: '2026-05-01T00:10' })).codes).toEqual([]);
  expect(
    (await treat(subject, medicine, { happened: '2026-05-01T00:20', given: '1 mL', ...again })).codes,
  ).toEqual(['other-than-worked-out', 'over-label']);
});

test('another line of the same label does not make two doses into one each', async () => {
  const line = {
    route: 'oral',
    rate: { style: 'rate', text: '1 mg/kg', perVolume: '1 mL per 10 kg' },
  } as const;
  const { medicine } = await medicineOf({
    doseLines: [
      { id: 'worms', title: 'Worms', ...line },
      { id: 'fluke', title: 'Fluke', ...line },
    ],
  });
  const subject = await ewe();
  await treat(subject, medicine, {}, { doseLine: 'worms' });
  expect((await treat(subject, medicine, again, { doseLine: 'fluke' })).codes).toEqual(['over-label']);
});

test('a line that prints its repeats counts with a dose by another line, whichever is written last', async () => {
  const line = one(DRENCH.doseLines);
  const { medicine, revision, terms } = await medicineOf({
    doseLines: [
      { ...line, id: 'weekly', title: 'Weekly', repeats: { doses: 2, due: '7 d' } },
      { ...line, id: 'once', title: 'Once' },
    ],
  });
  const [weekly, once] = [
    ['weekly', '2026-05-01T07:00'],
    ['once', '2026-05-01T08:00'],
  ] as const;
  for (const [first, second] of [
    [weekly, once],
    [once, weekly],
  ] as const) {
    const subject = await ewe();
    await treat(subject, medicine, { happened: first[1] }, { doseLine: first[0] });
    const last = await treat(subject, medicine, { happened: second[1], ...again }, { doseLine: second[0] });
    expect(last.codes).toEqual(['over-label']);
    expect(await meatOf(subject)).toEqual(['until', 'unknown']);
    // A label corrected elsewhere lets go of nobody.
    await retyped(medicine, revision, { ...terms, inUse: first === weekly ? '14 d' : '21 d' });
    expect((await meatOf(subject)).at(-1)).toBe('unknown');
  }
});

test('a line that prints its repeats is judged by them', async () => {
  const { medicine } = await medicineOf({
    doseLines: [
      {
        id: 'd1',
        route: 'oral',
        rate: { style: 'rate', text: '1 mg/kg', perVolume: '1 mL per 10 kg' },
        repeats: { doses: 4, due: '6 h' },
      },
    ],
  });
  const subject = await ewe();
  await treat(subject, medicine, { happened: '2026-05-01T02:00' });
  expect((await treat(subject, medicine, { happened: '2026-05-01T08:00' })).codes).toEqual([]);
});

const meatOf = (subject: string) =>
  desk.peek((store) =>
    store.read
      .all<{ state: string }>(
        `SELECT hold.state FROM hold JOIN administration AS a ON hold.source = 'administration:' || a.id
         WHERE hold.subject = ? AND produce = 'meat' AND clock = 'food' ORDER BY a.seq`,
        subject,
      )
      .map(({ state }) => state),
  );
const retyped = (medicine: string, revision: string, terms: Terms) =>
  desk.ask('set-label', { act: 'typed-wrongly', medicine, revision, terms, why: 'mistyped' });

test('a label typed anew judges by the same doses of the day', async () => {
  const twice = {
    route: 'oral',
    rate: { style: 'rate', text: '2 mg/kg', perVolume: '2 mL per 10 kg' },
  } as const;
  const { medicine, revision, terms } = await medicineOf({ doseLines: [{ id: 'd1', ...twice }] });
  const subject = await ewe();
  await treat(subject, medicine, { happened: '2026-05-01T07:00', given: '6 mL' });
  const second = await treat(subject, medicine, { happened: '2026-05-01T08:00', given: '6 mL' });
  expect(second.codes).toEqual(['other-than-worked-out']);
  expect(await meatOf(subject)).toEqual(['until', 'until']);
  await retyped(medicine, revision, { ...terms, doseLines: DRENCH.doseLines });
  expect(await meatOf(subject)).toEqual(['until', 'unknown']);
});

test('after the first is struck out the second is corrected, and judged without it', async () => {
  const { medicine, revision, terms } = await medicineOf();
  const subject = await ewe();
  const first = await treat(subject, medicine, { happened: '2026-05-01T07:00' });
  const second = await treat(subject, medicine, { happened: '2026-05-01T08:00', ...again });
  const entry = (await desk.ask('treatment', { administration: one(first.administrations) })).entry;
  await desk.ask('void', { entry, reason: 'written twice' });
  await retyped(medicine, revision, { ...terms, inUse: '14 d' });
  expect(await meatOf(subject)).toEqual(['unknown']);
  await desk.ask('correct-treatment', {
    administration: one(second.administrations),
    reason: 'it was the only one',
  });
  expect(await meatOf(subject)).toEqual(['until']);
});

test('a move entered later corrects the second dose of those who came, and of nobody who had one', async () => {
  const { medicine } = await medicineOf();
  const [hill, field] = [await lotOf(100), await lotOf(40)];
  await treat(hill, medicine, { happened: '2026-05-01T06:00' });
  const { administrations } = await treat(field, medicine, { happened: '2026-05-01T08:00' });
  const move = (happened: string) =>
    desk.ask('move-heads', { from: hill.slice(4), to: { lot: field.slice(4) }, heads: 5, happened });
  await move('2026-05-01T09:00');
  expect(await meatOf(field)).toEqual(['until']);
  await move('2026-05-01T07:00');
  expect(await meatOf(field)).toEqual(['unknown']);
  const { versions } = await desk.ask('treatment', { administration: one(administrations) });
  expect(versions.map(({ correction }) => correction?.reason)).toContain(
    'Heads came to it that had this medicine already',
  );
});

test('as many other doses as were known and have been struck out since do not hide one that came with a move', async () => {
  const { medicine } = await medicineOf();
  const [hill, field] = [await lotOf(100), await lotOf(40)];
  const drop = await treat(field, medicine, { happened: '2026-05-01T05:00', given: '0.1 mL' });
  await treat(hill, medicine, { happened: '2026-05-01T06:00' });
  await treat(field, medicine, { happened: '2026-05-01T08:00', ...again });
  const { entry } = await desk.ask('treatment', { administration: one(drop.administrations) });
  await desk.ask('void', { entry, reason: 'it was water' });
  await desk.ask('move-heads', {
    from: hill.slice(4),
    to: { lot: field.slice(4) },
    heads: 5,
    happened: '2026-05-01T07:00',
  });
  expect(await meatOf(field)).toEqual(['unknown']);
});

test('a move entered later corrects a dose that comes too soon, by the label, for those who came', async () => {
  const { medicine } = await medicineOf({
    doseLines: [
      {
        id: 'd1',
        route: 'oral',
        rate: { style: 'rate', text: '1 mg/kg', perVolume: '1 mL per 10 kg' },
        repeats: { doses: 2, due: '7 d' },
      },
    ],
  });
  const [hill, field, pen] = [await lotOf(100), await lotOf(40), await lotOf(30)];
  await treat(hill, medicine, { happened: '2026-04-25T06:00' });
  const dosed = async (lot: string) =>
    await treat(lot as `lot:${string}`, medicine, { happened: '2026-04-28T08:00' });
  expect([(await dosed(field)).codes, (await dosed(pen)).codes]).toEqual([[], []]);
  const move = (to: string, happened: string) =>
    desk.ask('move-heads', { from: hill.slice(4), to: { lot: to.slice(4) }, heads: 5, happened });
  await move(field, '2026-04-26T07:00');
  await move(pen, '2026-04-29T07:00');
  // Three days after the first, where the label says seven; the pen's own had no dose before.
  expect([await meatOf(field), await meatOf(pen)]).toEqual([['unknown'], ['until']]);
  expect(await desk.ask('recheck', {})).toMatchObject({ different: [] });
});

test('some of a lot: two parts of it are one dose each until they are more than it had', async () => {
  const { medicine } = await medicineOf();
  const lot = await lotOf(100);
  const part = (heads: number, more = {}) => treat(lot, medicine, { heads, ...more });
  expect((await part(60)).codes).toEqual([]);
  expect((await part(40)).codes).toEqual([]);
  expect((await part(1, again)).codes).toEqual(['over-label']);
});

test('who came out of a lot that was dosed that day had that dose, whichever is written first', async () => {
  const { medicine } = await medicineOf();
  const lot = await lotOf(100);
  const taken = async (heads: number, happened: string) => {
    const { to } = await desk.ask('move-heads', {
      from: lot.slice('lot:'.length),
      to: { newLot: `Pen at ${happened}` },
      heads,
      happened,
    });
    await desk.ask('weigh', { subject: to as `lot:${string}`, weight: '30 kg', how: 'crate' });
    return to as `lot:${string}`;
  };
  await treat(lot, medicine, { happened: '2026-05-01T06:00' });
  const pen = await taken(10, '2026-05-01T07:00');
  expect((await treat(pen, medicine, { happened: '2026-05-01T08:00', ...again })).codes).toEqual([
    'over-label',
  ]);

  const late = await taken(5, '2026-05-01T07:30');
  for (const [name, happened, codes] of [
    ['After they came out', '2026-05-01T08:30', []],
    ['Before they came out', '2026-05-01T07:10', ['over-label']],
  ] as const) {
    const { medicine: other } = await medicineOf({ name });
    await treat(late, other, { happened: '2026-05-01T08:00' });
    expect((await treat(lot, other, { happened, ...again })).codes, name).toEqual(codes);
  }
});

test('the race says it before the dose is drawn', async () => {
  const { medicine } = await medicineOf();
  const subject = await ewe();
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Drench',
    mode: 'each',
    lines: [{ medicine, doseLine: 'd1', reason: 'worms' }],
    subjects: [subject],
  });
  const before = await desk.ask('dose-for', { session, subject });
  expect(before.stops).toEqual([]);
  await treat(subject, medicine, { happened: '2026-05-01T07:00' });
  const now = await desk.ask('dose-for', { session, subject });
  expect(now.stops.map(({ code }) => code)).toEqual(['dosed-today']);
  expect(one(now.doses).foreseen?.meat).toContain('time never clears it');
});

test('a mass run asks once about all who had it today', async () => {
  const { medicine } = await medicineOf();
  const [one, two, three] = [await ewe(), await ewe(), await ewe()];
  for (const subject of [one, two]) await treat(subject, medicine, { happened: '2026-05-01T07:00' });
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Drench',
    mode: 'mass',
    lines: [{ medicine, doseLine: 'd1', reason: 'worms' }],
    subjects: [one, two, three],
  });
  expect(await desk.refused('treat-many', { session })).toMatchObject({
    code: 'ask:dosed-today',
    field: 'except',
    message: expect.stringMatching(/Was it given again\? It is so with 1 more\. Leave out who was not\.$/),
  });
  const except = [one, two].map((subject) => ({ subject, why: 'dosed in the morning' }));
  expect((await desk.ask('treat-many', { session, except })).administrations).toHaveLength(1);
});
