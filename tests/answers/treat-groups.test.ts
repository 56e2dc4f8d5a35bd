import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { readPdf } from '../paper/reading.ts';
import { DRENCH, farmDesk, one } from './farm-desk.ts';

/** 1 mL for each 5 kg, of an invented substance. */
const LAMB_DRENCH = {
  ...DRENCH,
  doseLines: [
    { id: 'd1', route: 'oral', rate: { style: 'rate', text: '2 mg/kg', perVolume: '1 mL per 5 kg' } },
  ],
} satisfies Ask<'check-label'>['terms'];

/** The fifteen lambs of the reference: 20, every kilo from 38 to 50, and 62 kg. */
const FIFTEEN = [20, ...Array.from({ length: 13 }, (_, n) => 38 + n), 62];

let desk: ReturnType<typeof farmDesk>;
let holding = '';

beforeEach(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding } = await desk.started());
});
afterEach(() => desk.close());

async function medicine(terms: Partial<Ask<'check-label'>['terms']> = {}) {
  const made = await desk.ask('set-label', { act: 'first', terms: { ...LAMB_DRENCH, ...terms } });
  await desk.ask('receive-batch', {
    medicine: made.medicine,
    number: 'B-1',
    expiry: '2027-03',
    packs: [{ count: 2, size: '1 L' }],
  });
  return made.medicine;
}

async function lamb(n: number, weight?: number): Promise<`animal:${string}`> {
  const { animal } = await desk.ask('set-animal', {
    holding,
    tag: `UK 0 123456 ${String(n).padStart(5, '0')}`,
    class: 'lamb',
  });
  const subject = `animal:${animal}` as const;
  if (weight !== undefined) await desk.ask('weigh', { subject, weight: `${weight} kg`, how: 'crate' });
  return subject;
}

async function lambs(weights: readonly number[]) {
  const subjects: `animal:${string}`[] = [];
  for (const [n, weight] of weights.entries()) subjects.push(await lamb(n + 1, weight));
  return subjects;
}

type Grouping = Ask<'plan-session'>['lines'][number]['grouping'];
const ask = (subjects: string[], of: string, grouping: Grouping, more: { equipment?: string } = {}) => ({
  holding,
  mode: 'mass' as const,
  subjects,
  lines: [{ medicine: of, reason: 'worms', grouping, ...more }],
});

/** All that is printed on a paper, its lines joined. */
async function paperText(paper: string): Promise<string> {
  const { base64 } = await desk.ask('paper', { paper });
  const { text } = await readPdf(Buffer.from(base64, 'base64'));
  return text.replaceAll(/\s+/g, ' ');
}

const meat = (holds: readonly { produce: string; state: string; untilText?: string | undefined }[]) =>
  holds.find((hold) => hold.produce === 'meat');

describe('a drafted group', () => {
  test('the fifteen lambs in three parts: gates, total, the worst, both ends; run as a mass run by rule', async () => {
    const drench = await medicine();
    const subjects = await lambs(FIFTEEN);
    const planned = ask(subjects, drench, { how: 'drafted', parts: 3 });
    const plan = await desk.ask('plan-session', planned);
    const group = one(plan.lines).grouping;
    expect(group?.parts.map(({ says }) => says)).toEqual([
      '20 kg: 1 lamb, 4 mL; dose this one by itself; set the gate at 20 kg',
      '38 to 48 kg: 11 lambs, 9.6 mL each; set the gate at 48 kg',
      '49 to 62 kg: 3 lambs, 12.4 mL each',
    ]);
    expect([group?.total.text, group?.worstOver]).toEqual(['146.8 mL', '26.5']);
    expect(one(plan.lines).needs.text).toBe('146.8 mL');
    expect(group?.ends.map(({ code, total, worstOver }) => [code, total.text, worstOver])).toEqual([
      ['least-product', '142.6 mL', '115'],
      ['least-worst', '146.8 mL', '26.5'],
      ['to-heaviest', '186 mL', '210'],
    ]);
    expect(plan.rows.map((row) => [row.parts?.[0], row.doses[0]?.draw.text]).slice(0, 3)).toEqual([
      [1, '4 mL'],
      [2, '9.6 mL'],
      [2, '9.6 mL'],
    ]);

    const { session: id } = await desk.ask('open-session', { ...planned, name: 'Drench' });
    const shown = await desk.ask('session', { session: id });
    expect(one(shown.lines).grouping?.parts.map(({ heads }) => heads)).toEqual([1, 11, 3]);
    expect(shown.waiting.map(({ parts }) => parts?.[0])).toEqual(plan.rows.map(({ parts }) => parts?.[0]));
    const done = await desk.ask('treat-many', { session: id });
    expect(done).toMatchObject({ heads: 15, deviations: Array(8).fill({ code: 'group-dose' }) });
    expect(one(done.deviations).text).toContain('9.6 mL given, 7.6 mL by its own 38 kg, within the 100 %');
    expect(meat(done.holds)).toMatchObject({ state: 'until', untilText: '29 May 2026, 10:00' });
    // In the book and on paper: by what each was dosed; and today's rules decide nothing otherwise.
    const { rows } = await desk.ask('book', { from: '2026-05-01', to: '2026-05-01' });
    expect(new Set(rows.map(({ dosedTo }) => dosedTo))).toEqual(
      new Set(['dosed to 20 kg, part 1 of 3', 'dosed to 48 kg, part 2 of 3', 'dosed to 62 kg, part 3 of 3']),
    );
    expect((await desk.ask('recheck', {})).different).toEqual([]);
  });

  test('a lamb that weighs more than its part is dosed to stops, and gets what the part it belongs to gets', async () => {
    const drench = await medicine();
    const subjects = await lambs(FIFTEEN);
    const planned = { ...ask(subjects, drench, { how: 'drafted', parts: 3 }), mode: 'each' as const };
    const { session: id } = await desk.ask('open-session', { ...planned, name: 'Drench' });
    const subject = one(subjects, 10);
    const before = await desk.ask('dose-for', { session: id, subject });
    expect(one(before.doses).group?.says).toBe('Part 2 of 3, dosed to 48 kg: 9.6 mL');
    expect(one(before.doses).dose?.working.map(({ text }) => text)[0]).toBe(
      'Part 2 of 3 is dosed to 48 kg; for its own 47 kg it would be 9.4 mL',
    );
    expect(before.stops).toEqual([]);

    const heavier = await desk.ask('dose-for', { session: id, subject, weight: '49.5 kg' });
    expect(heavier.stops.map(({ code }) => code)).toEqual(['other-part-3']);
    expect(one(heavier.stops).text).toContain(
      'more than the 48 kg that part 2 is dosed to: it belongs to part 3',
    );
    expect(one(heavier.doses).dose?.draw.text).toBe('12.4 mL');
    const refused = await desk.refused('treat', { session: id, subject, weight: '49.5 kg' });
    expect(refused.code).toBe('ask:other-part-3');
    const treated = await desk.ask('treat', {
      session: id,
      subject,
      weight: '49.5 kg',
      confirmed: ['other-part-3'],
    });
    expect(treated).toMatchObject({ quantity: '12.4 mL', deviations: [{ code: 'group-dose' }] });

    // Heavier than all: its own dose, by itself.
    const heaviest = one(subjects, 14);
    const alone = await desk.ask('dose-for', { session: id, subject: heaviest, weight: '66 kg' });
    expect(alone.stops.map(({ code }) => code)).toEqual(['dose-by-itself']);
    expect(one(alone.doses).dose?.draw.text).toBe('13.2 mL');
    expect(one(alone.doses).group).toBeUndefined();

    // So light that its part would give it more than double: the part below.
    const light = await desk.ask('dose-for', { session: id, subject: one(subjects, 1), weight: '19 kg' });
    expect(light.stops.map(({ code }) => code)).toContain('other-part-1');
    expect(one(light.doses).dose?.draw.text).toBe('4 mL');
  });

  test('in a mass run it got what its part got: grown beyond the part is named, over the cap is off label', async () => {
    const drench = await medicine();
    const subjects = await lambs([30, 31, 50]);
    const planned = ask(subjects, drench, { how: 'drafted', parts: 2 });
    const { session: id } = await desk.ask('open-session', { ...planned, name: 'Drench' });
    await desk.ask('weigh', { subject: one(subjects), weight: '36 kg', how: 'crate' });
    await desk.ask('weigh', {
      subject: one(subjects, 2),
      weight: '20 kg',
      how: 'crate',
      confirmed: ['weight-jump'],
    });
    const done = await desk.ask('treat-many', { session: id, confirmed: ['outside-label'] });
    expect(done.deviations.map(({ code }) => code)).toEqual(['under-own-dose', 'over-label']);
    expect(one(done.deviations).text).toBe(
      'dosed to 31 kg and weighs 36 kg: 6.2 mL given, 7.2 mL by its own weight',
    );
    expect(one(done.deviations, 1).text).toBe('10 mL given, 4 mL by its own 20 kg');
    expect(done.holds.filter(({ produce }) => produce === 'meat').map(({ state }) => state)).toEqual([
      'until',
      'until',
      'unknown',
    ]);
    expect((await desk.ask('recheck', {})).different).toEqual([]);
  });

  test('an animal whose own dose is over the most of the label is left out by name, and is in no part', async () => {
    const most = { doseLines: [{ ...one(LAMB_DRENCH.doseLines), mostDose: '9 mL' }] };
    const drench = await medicine(most);
    const subjects = await lambs([40, 44, 46]);
    const plan = await desk.ask('plan-session', ask(subjects, drench, { how: 'drafted', parts: 2 }));
    // 46 kg itself needs 9.2 mL: it is left out by its own dose, and is in no part.
    expect(plan.leftOut.map(({ why }) => why.code)).toEqual(['over-most']);
    expect(
      one(plan.lines)
        .grouping?.parts.map(({ to }) => to)
        .at(-1),
    ).toBe('44 kg');
  });

  test('a gun with coarse marks: every part is rounded up to them', async () => {
    const drench = await medicine();
    const subjects = await lambs([30, 31, 41, 42]);
    const { equipment } = await desk.ask('set-equipment', {
      what: 'gun',
      name: 'Drench gun',
      capacity: '20 mL',
      graduation: '0.5 mL',
    });
    const plan = await desk.ask(
      'plan-session',
      ask(subjects, drench, { how: 'drafted', parts: 2 }, { equipment }),
    );
    expect(one(plan.lines).grouping?.parts.map(({ dose }) => dose.text)).toEqual(['6.5 mL', '8.5 mL']);
    expect(one(plan.lines).needs.text).toBe('30 mL');
  });

  test('without a weight it is left out by name; with a cap that no parts hold it says how many would', async () => {
    const drench = await medicine();
    const subjects = [...(await lambs([10, 30, 60])), await lamb(9)];
    const plan = await desk.ask('plan-session', ask(subjects, drench, { how: 'drafted', parts: 3 }));
    expect(plan.leftOut.map(({ shown, why }) => [shown, why.code])).toEqual([
      ['UK 0 123456 00009', 'weight-missing'],
    ]);
    const refused = await desk.refused(
      'plan-session',
      ask(subjects, drench, { how: 'drafted', parts: 2, capPercent: '50' }),
    );
    expect([refused.code, refused.field, refused.next]).toEqual([
      'cap-cannot-hold',
      'lines.0.grouping.capPercent',
      'Draft into 3 parts, or dose the lightest by themselves.',
    ]);
    const high = await desk.refused(
      'plan-session',
      ask(subjects, drench, { how: 'drafted', parts: 2, capPercent: '120' }),
    );
    expect([high.code, high.field]).toEqual(['cap-too-high', 'lines.0.grouping.capPercent']);
  });

  test('the work sheet has the parts as headings, and the corrected line stays dosed to its part', async () => {
    const drench = await medicine();
    const subjects = await lambs([30, 31, 49, 50, 51]);
    const planned = ask(subjects, drench, { how: 'drafted', parts: 2 });
    const { session: id } = await desk.ask('open-session', { ...planned, name: 'Drench' });
    const sheet = await desk.ask('work-sheet', { session: id });
    expect(sheet).toMatchObject({ rows: 5, leftOut: 0 });
    const printed = await paperText(sheet.paper);
    expect(printed).toContain('Part 1 of 2: 30 to 31 kg: 2 lambs, 6.2 mL each');
    expect(printed).toContain('Part 2 of 2: 49 to 51 kg: 3 lambs, 10.2 mL each');
    expect(printed).toContain('dosed to 51 kg');
    const done = await desk.ask('treat-many', { session: id });
    const administration = one(done.administrations);
    await desk.ask('correct-treatment', { administration, why: 'worms, autumn', reason: 'Wrong reason' });
    const record = await desk.ask('book-paper', { holding, from: '2026-05-01', to: '2026-05-01' });
    expect(await paperText(record.paper)).toContain('dosed to 31 kg, part 1 of 2');
    const line = await desk.ask('treatment', { administration });
    expect(line.deviations).toEqual([]);
    expect(line.versions.map(({ dosedTo }) => dosedTo)).toEqual(
      Array.from({ length: line.versions.length }, () => 'dosed to 31 kg, part 1 of 2'),
    );
  });
});

describe('all to the heaviest', () => {
  test('a lot to a typed sample, with the chance only when it was drawn at random', async () => {
    const drench = await medicine();
    const { lot } = await desk.ask('set-lot', { holding, name: 'Hill lambs', class: 'lamb', heads: 200 });
    const sample = [
      '31 kg',
      '33.5 kg',
      '34 kg',
      '30 kg',
      '29 kg',
      '32 kg',
      '33 kg',
      '31.5 kg',
      '28 kg',
      '30.5 kg',
    ];
    const asked = (picked?: 'random' | 'biggest') =>
      ask([`lot:${lot}`], drench, { how: 'heaviest', sample, ...(picked === undefined ? {} : { picked }) });
    const unsaid = await desk.ask('plan-session', asked());
    expect(unsaid.leftOut.map(({ why }) => why.code)).toEqual(['weight-missing']);
    expect(one(unsaid.lines).grouping?.sample?.says).toContain('Say how they were picked');

    const random = await desk.ask('plan-session', asked('random'));
    expect(one(random.rows).doses[0]?.draw.text).toBe('6.8 mL');
    expect(one(random.lines).grouping?.sample).toMatchObject({
      weighed: 10,
      heads: 200,
      chancePercent: '95',
    });
    expect(one(random.lines).needs.text).toBe('1360 mL');
    const eye = await desk.ask('plan-session', asked('biggest'));
    expect(one(eye.lines).grouping?.sample?.chancePercent).toBeUndefined();
    expect(one(eye.lines).grouping?.sample?.says).toContain('no chance can be given');

    const { session: id } = await desk.ask('open-session', { ...asked('random'), name: 'Drench' });
    const done = await desk.ask('treat-many', { session: id });
    expect([done.quantity, done.deviations]).toEqual(['1360 mL', []]);
    expect((await desk.ask('recheck', {})).different).toEqual([]);
    const { rows } = await desk.ask('book', { from: '2026-05-01', to: '2026-05-01' });
    expect(one(rows).dosedTo).toBe('dosed to 34 kg, the heaviest of its group');
  });

  test('not where the label has a floor of weight: one that was not weighed cannot be held to it', async () => {
    const floor = { doseLines: [{ ...one(LAMB_DRENCH.doseLines), leastWeight: '15 kg' }] };
    const drench = await medicine(floor);
    const subjects = [...(await lambs([30, 31])), await lamb(9)];
    const plan = await desk.ask(
      'plan-session',
      ask(subjects, drench, { how: 'heaviest', picked: 'biggest' }),
    );
    expect(plan.rows).toHaveLength(2);
    expect(plan.leftOut.map(({ why }) => why.text)).toEqual([
      'Weight: the label is not for every weight, so weigh each by itself.',
    ]);
  });

  test.each([
    ['an antibiotic', { purpose: 'antibiotic' }],
    ['an anti-inflammatory', { purpose: 'anti-inflammatory' }],
    ['a narrow margin', { narrowMargin: true }],
    [
      'a dose a head',
      { doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '5 mL/head' } }] },
    ],
  ] as const)('is not offered for %s, and the plan says why', async (_, terms) => {
    const drench = await medicine(terms as unknown as Partial<Ask<'check-label'>['terms']>);
    const subjects = await lambs([30, 31]);
    const each = await desk.ask('plan-session', ask(subjects, drench, undefined));
    expect(one(each.lines).eachBecause).toBeTypeOf('string');
    const refused = await desk.refused('plan-session', ask(subjects, drench, { how: 'heaviest' }));
    expect([refused.code, refused.field]).toEqual(['drafting-not-offered', 'lines.0.grouping']);
  });
});

test('where no dose line is named the one that fits their class is kept, and the race doses by it', async () => {
  const [all] = LAMB_DRENCH.doseLines;
  const drench = await medicine({
    doseLines: [
      { ...all, id: 'ewes', classes: ['ewe'], rate: { style: 'rate', text: '1 mg/kg' } },
      { ...all, id: 'lambs', classes: ['lamb'] },
    ],
  } as Partial<Ask<'check-label'>['terms']>);
  const subjects = await lambs([30, 31, 40]);
  const planned = ask(subjects, drench, { how: 'drafted', parts: 2 });
  const { session: id } = await desk.ask('open-session', { ...planned, name: 'Drench' });
  const dose = await desk.ask('dose-for', { session: id, subject: one(subjects) });
  expect(one(dose.doses).dose?.draw.text).toBe('6.2 mL');
  expect((await desk.ask('treat-many', { session: id })).deviations).toEqual([]);
});

describe('what it is drawn up in', () => {
  test('the smallest of the farm that holds it, its error, and a finer one first where marks are more than 5 % off', async () => {
    const drench = await medicine();
    for (const [name, capacity, graduation] of [
      ['Big syringe', '20 mL', '1 mL'],
      ['Middle syringe', '10 mL', '1 mL'],
      ['Fine syringe', '12 mL', '0.2 mL'],
    ] as const) {
      await desk.ask('set-equipment', { what: 'syringe', name, capacity, graduation });
    }
    const subjects = await lambs([31, 43]);
    const plan = await desk.ask('plan-session', ask(subjects, drench, undefined));
    const { drawnUp } = one(plan.lines);
    // 6.2 mL is 7 mL on whole marks: 12.9 % over; 8.6 mL in 10 mL may be off by 4 %.
    expect(drawnUp).toMatchObject({ name: 'Middle syringe', isTaken: false, errorPercent: '4' });
    expect(drawnUp?.finer).toMatchObject({ name: 'Fine syringe' });
    expect(drawnUp?.finer?.says).toContain('by 12.9 %');
  });
});

describe('before it is recorded', () => {
  test('the race says what it starts, which dose of a course it is, and that an old weight is to be taken again', async () => {
    const drench = await medicine({
      doseLines: [{ ...one(LAMB_DRENCH.doseLines), repeats: { doses: 2, due: '14 d' } }],
    } as Partial<Ask<'check-label'>['terms']>);
    const subject = await lamb(1, 30);
    const { session: id } = await desk.ask('open-session', {
      holding,
      name: 'Drench',
      subjects: [subject],
      lines: [{ medicine: drench, reason: 'worms' }],
    });
    const now = await desk.ask('dose-for', { session: id, subject });
    expect(one(now.doses).foreseen).toMatchObject({ meat: 'Meat withdrawal until 29 May 2026, 10:00' });
    expect(one(now.doses).foreseen?.course?.says).toContain('By the label 2 doses');
    expect(now.oldWeight).toBeUndefined();
    const first = await desk.ask('treat', {
      subject,
      single: { medicine: drench, reason: 'worms' },
      course: { planned: ['2026-05-01', '2026-05-15'] },
    });
    desk.at('2026-05-16T09:00:00.000Z');
    const later = await desk.ask('dose-for', { session: id, subject });
    expect(later.oldWeight).toBe(
      'Weighed 15 days ago: weigh it again. A weight is good to dose by for 14 days (practice).',
    );
    expect(one(later.doses).foreseen?.course).toMatchObject({
      course: first.course,
      says: 'Dose 2 of 2 of its course, planned for 15 May 2026.',
    });
  });
});
