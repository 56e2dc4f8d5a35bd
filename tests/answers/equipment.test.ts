import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DRENCH, farmDesk } from './farm-desk.ts';

let desk: ReturnType<typeof farmDesk>;
let holding = '';

beforeEach(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding } = await desk.started());
});
afterEach(() => desk.close());

const GUN = {
  what: 'gun',
  name: 'Blue gun',
  capacity: '30 mL',
  graduation: '0.5 mL',
  drawsBack: false,
} as const;

async function gun() {
  return (await desk.ask('set-equipment', GUN)).equipment;
}
async function one(equipment: string) {
  const found = (await desk.ask('equipment', {})).equipment.find((each) => each.equipment === equipment);
  if (found === undefined) throw new Error('it is not in the list');
  return found;
}
async function lotOf(heads: number) {
  const { lot } = await desk.ask('set-lot', { holding, name: `Lambs ${heads}`, class: 'lamb', heads });
  await desk.ask('weigh', { subject: `lot:${lot}`, weight: '40 kg', how: 'scale' });
  return `lot:${lot}`;
}
async function drench() {
  const { medicine } = await desk.ask('set-label', { act: 'first', terms: DRENCH });
  await desk.ask('receive-batch', {
    medicine,
    number: 'B1',
    expiry: '2027-03',
    packs: [{ count: 1, size: '5 L' }],
  });
  return medicine;
}

describe("the farm's own", () => {
  test('a gun is kept with what it holds and its marks, changed, and laid by', async () => {
    const equipment = await gun();
    expect(await one(equipment)).toMatchObject({
      what: 'gun',
      name: 'Blue gun',
      capacity: '30 mL',
      graduation: '0.5 mL',
      drawsBack: false,
      active: true,
      shotsSince: 0,
    });
    await desk.ask('set-equipment', {
      ...GUN,
      equipment,
      name: 'Red gun',
      graduation: '1 mL',
      active: false,
    });
    expect(await one(equipment)).toMatchObject({ name: 'Red gun', graduation: '1 mL', active: false });
    expect((await one(equipment)).due).toBeUndefined();
  });

  test.each([
    ['no capacity', { ...GUN, capacity: undefined }, 'measure-missing', 'capacity'],
    ['a capacity in grams', { ...GUN, capacity: '30 g' }, 'bad-syringe', 'capacity'],
    ['marks wider than it holds', { ...GUN, graduation: '40 mL' }, 'bad-syringe', 'graduation'],
    ['a comma', { ...GUN, graduation: '0,5 mL' }, 'bad-number', 'graduation'],
  ])('%s is refused by its field', async (_name, ask, code, field) => {
    expect(await desk.refused('set-equipment', ask)).toMatchObject({ code, field });
  });

  test('two in use may not be called the same', async () => {
    await gun();
    expect(await desk.refused('set-equipment', { ...GUN, name: 'blue  GUN' })).toMatchObject({
      code: 'name-taken',
      field: 'name',
    });
  });
});

describe('a gun is checked', () => {
  test('ten shots that give too much: how much to set it to, kept as it was decided, with its age in words', async () => {
    const equipment = await gun();
    const reply = await desk.ask('check-gun', { equipment, setTo: '10 mL', shots: 10, total: '110 mL' });
    // 110 ÷ 10 = 11 mL, 10 % too much; 10 × 10 ÷ 11 = 9.09, on marks of 0.5 mL: 9 mL.
    expect(reply.verdict).toBe('off');
    expect(reply.says).toBe('It gives 11 mL at 10 mL, 10 % too much. Set it to 9 mL and check again.');
    desk.at('2026-05-13T09:00:00.000Z');
    const { last, due } = await one(equipment);
    expect(last).toMatchObject({
      ago: '12 days ago',
      found: '10 shots at 10 mL gave 110 mL in all',
      by: 'Isla Thorn',
    });
    expect(due?.code).toBe('gun-check-due');
    // Set as it was told, it gives what is wanted: that is right, and nothing is to be set again.
    const again = await desk.ask('check-gun', {
      equipment,
      setTo: '9 mL',
      wanted: '10 mL',
      each: ['10 mL', '10.1 mL', '9.9 mL'],
    });
    expect(again.says).toBe('It gives 10 mL at 9 mL, where 10 mL is wanted: exactly right.');
    expect((await one(equipment)).due).toBeUndefined();
    const { checks } = await desk.ask('equipment-checks', { equipment });
    expect(checks.map((check) => check.verdict)).toEqual(['right', 'off']);
    expect(checks[1]?.working.length).toBeGreaterThan(1);
  });

  test('shots that are not alike cannot be set right, and a check of two shots says nothing', async () => {
    const equipment = await gun();
    const uneven = await desk.ask('check-gun', {
      equipment,
      setTo: '5 mL',
      each: ['5 mL', '4.5 mL', '5.5 mL'],
    });
    expect(uneven.verdict).toBe('uneven');
    const few = await desk.ask('check-gun', { equipment, setTo: '5 mL', each: ['5 mL', '5 mL'] });
    expect(few.verdict).toBe('too-few');
    expect((await one(equipment)).due?.code).toBe('gun-check-due');
  });

  test('set once and still off, the next setting goes from where it stands', async () => {
    const equipment = await gun();
    // 9 mL gives 10.8 mL, 10 mL is wanted: 9 × 10 ÷ 10.8 = 8.33, on marks of 0.5 mL: 8.5 mL.
    const reply = await desk.ask('check-gun', {
      equipment,
      setTo: '9 mL',
      wanted: '10 mL',
      shots: 10,
      total: '108 mL',
    });
    expect(reply.says).toContain('8 % too much. Set it to 8.5 mL and check again.');
  });

  test('half of what it stands at is rather a slip: it is asked, and taken when it is so', async () => {
    const equipment = await gun();
    const ask = { equipment, setTo: '10 mL', shots: 10, total: '50 mL' };
    expect(await desk.refused('check-gun', ask)).toMatchObject({ code: 'ask:gun-unlikely', field: 'setTo' });
    expect((await desk.ask('check-gun', { ...ask, confirmed: ['gun-unlikely'] })).verdict).toBe('off');
  });

  test('a weigher is no gun, and grams are no shot', async () => {
    const { equipment } = await desk.ask('set-equipment', { what: 'weigher', name: 'Crate' });
    const ask = { equipment, setTo: '10 mL', shots: 10, total: '100 mL' };
    expect((await desk.refused('check-gun', ask)).code).toBe('not-a-gun');
    expect(await desk.refused('check-gun', { ...ask, equipment: await gun(), total: '100 g' })).toMatchObject(
      {
        code: 'units-do-not-match',
        field: 'total',
      },
    );
  });
});

describe('a gun at the race', () => {
  const due = (warnings: readonly { code: string; text: string }[]) =>
    warnings.filter((each) => each.code === 'gun-check-due').map((each) => each.text);

  test('it fills the syringe of the line; unchecked it is asked for in plan, session and dose, and again after 200 shots', async () => {
    const equipment = await gun();
    const medicine = await drench();
    const subjects = [await lotOf(199), await lotOf(1), await lotOf(3)];
    const lines = [{ medicine, reason: 'worms', equipment }];
    const plan = await desk.ask('plan-session', { holding, subjects, lines });
    expect(due(plan.lines[0]?.warnings ?? [])).toEqual([
      'Blue gun has never been checked. Shoot ten doses into a measure before the next animal.',
    ]);
    await desk.ask('check-gun', { equipment, setTo: '4 mL', shots: 10, total: '40 mL' });
    const { session } = await desk.ask('open-session', { holding, subjects, lines, name: 'Worming' });
    const at = async () => desk.ask('session', { session });
    expect((await at()).lines[0]).toMatchObject({
      equipment,
      syringe: { capacity: '30 mL', graduation: '0.5 mL' },
    });
    expect(due((await at()).lines[0]?.warnings ?? [])).toEqual([]);

    // The clock goes on, or the doses would stand at the very instant of the check.
    desk.at('2026-05-01T10:00:00.000Z');
    const [many = '', lone = '', rest = ''] = subjects;
    await desk.ask('treat', { session, subject: many });
    expect((await one(equipment)).shotsSince).toBe(199);
    expect(due((await at()).lines[0]?.warnings ?? [])).toEqual([]);
    await desk.ask('treat', { session, subject: lone });
    expect(due((await at()).lines[0]?.warnings ?? [])).toEqual([
      '200 shots have been given with Blue gun since its last check. Shoot ten doses into a measure before the next animal.',
    ]);
    const dose = await desk.ask('dose-for', { session, subject: rest });
    expect(dose.doses[0]?.dose?.draw.text).toBe('4 mL');
    expect(due(dose.doses[0]?.dose?.warnings ?? [])).toHaveLength(1);

    desk.at('2026-05-01T11:00:00.000Z');
    await desk.ask('check-gun', { equipment, setTo: '4 mL', shots: 10, total: '40.2 mL' });
    expect((await one(equipment)).shotsSince).toBe(0);
    expect(due((await at()).lines[0]?.warnings ?? [])).toEqual([]);
  });

  test('the smallest that holds the dose may be a gun, and of a gun no error of a syringe is said', async () => {
    const equipment = await gun();
    const lines = [{ medicine: await drench(), reason: 'worms' }];
    const plan = await desk.ask('plan-session', { holding, subjects: [await lotOf(3)], lines });
    const drawnUp = plan.lines[0]?.drawnUp;
    expect(drawnUp).toMatchObject({ equipment, working: [] });
    expect(drawnUp?.errorPercent).toBeUndefined();
    expect(drawnUp?.says).toBe(
      "Blue gun is the smallest of the farm's that holds it; what a gun is off by, only shots into a measure show.",
    );
  });

  test('a dose outside a session is counted too, is found in the record, and a dose struck out is not', async () => {
    const equipment = await gun();
    const medicine = await drench();
    const subject = await lotOf(20);
    const given = await desk.ask('treat', { subject, single: { medicine, reason: 'worms', equipment } });
    const [administration = ''] = given.administrations;
    expect((await one(equipment)).shotsSince).toBe(20);
    const shown = await desk.ask('treatment', { administration });
    expect(shown.equipment).toBe('Blue gun');
    await desk.ask('void', { entry: shown.entry, reason: 'Wrong lot' });
    expect((await one(equipment)).shotsSince).toBe(0);
  });

  test('a weigher gives no medicine, and what is not in the book cannot be used', async () => {
    const { equipment } = await desk.ask('set-equipment', { what: 'weigher', name: 'Crate' });
    const medicine = await drench();
    const subjects = [await lotOf(2)];
    const ask = { holding, subjects, lines: [{ medicine, reason: 'worms', equipment }] };
    expect(await desk.refused('plan-session', ask)).toMatchObject({
      code: 'not-for-dosing',
      field: 'lines.0.equipment',
    });
    const none = { ...ask, lines: [{ medicine, reason: 'worms', equipment: 'nothing' }] };
    expect((await desk.refused('plan-session', none)).code).toBe('no-such-equipment');
  });
});

describe('a weigher is checked', () => {
  test('against a known weight; old or wrong it is a warning when work is planned', async () => {
    const { equipment } = await desk.ask('set-equipment', { what: 'weigher', name: 'Crate' });
    const medicine = await drench();
    const ask = { holding, subjects: [await lotOf(2)], lines: [{ medicine, reason: 'worms' }] };
    const said = async () =>
      (await desk.ask('plan-session', ask)).warnings
        .filter((each) => each.code === 'weigher-check-due')
        .map((each) => each.text);
    expect(await said()).toEqual([
      'Crate has never been checked against a known weight: doses by its weights may be wrong.',
    ]);
    const right = await desk.ask('check-weigher', { equipment, known: '40', showed: '40.5 kg' });
    expect(right).toMatchObject({
      verdict: 'right',
      says: '40 kg showed as 40.5 kg: 0.5 kg too heavy, near enough.',
    });
    expect(await said()).toEqual([]);
    desk.at('2026-06-01T09:00:00.000Z');
    expect(await said()).toEqual([
      'Crate was last checked against a known weight 31 days ago: check it before weighing.',
    ]);
    const wrong = await desk.ask('check-weigher', { equipment, known: '40 kg', showed: '39.4 kg' });
    expect(wrong.verdict).toBe('off');
    expect(wrong.says).toContain('0.6 kg too light. Doses by its weights are too small.');
    expect(await said()).toHaveLength(1);
  });

  test('a weight no sheep has is refused by its field', async () => {
    const { equipment } = await desk.ask('set-equipment', { what: 'weigher', name: 'Crate' });
    expect(await desk.refused('check-weigher', { equipment, known: '0', showed: '1' })).toMatchObject({
      code: 'bad-weight',
      field: 'known',
    });
  });
});
