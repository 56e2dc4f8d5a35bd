import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DRENCH, farmDesk, one } from './farm-desk.ts';

const desk = farmDesk('2026-05-01T09:00:00.000Z');
let holding = '';

beforeAll(async () => {
  ({ holding } = await desk.started());
});
afterAll(() => desk.close());

let made = 0;
type Bottle = { size: string; expiry?: string; count?: number };
type Line = (typeof DRENCH.doseLines)[number] & { repeats?: { doses: number; due: string } };

/** A drench with bottles of its own, and a lot of so many head at 60 kg: 6 mL each. */
async function stocked(bottles: readonly Bottle[], more: { line?: Partial<Line>; inUse?: string } = {}) {
  made += 1;
  const doseLines = [{ ...one(DRENCH.doseLines), ...more.line }];
  const terms = { ...DRENCH, name: `Calverol ${made}`, doseLines, inUse: more.inUse ?? DRENCH.inUse };
  const { medicine } = await desk.ask('set-label', { act: 'first', terms });
  const containers: string[] = [];
  for (const [i, { size, expiry = '2027-03', count = 1 }] of bottles.entries()) {
    const number = `C${made}${'ABCD'[i]}`;
    const came = await desk.ask('receive-batch', {
      medicine,
      number,
      expiry,
      packs: [{ count, size }],
      store: 'Shed',
    });
    containers.push(...came.containers.map(({ container }) => container));
  }
  return { medicine, containers };
}

async function lambs(heads: number) {
  made += 1;
  const { lot } = await desk.ask('set-lot', { holding, name: `Lambs ${made}`, class: 'lamb', heads });
  const subject = `lot:${lot}` as const;
  await desk.ask('weigh', { subject, weight: '60 kg', how: 'eye' });
  return subject;
}

async function plan(medicine: string, heads: number, more: { equipment?: string } = {}) {
  const subject = await lambs(heads);
  const lines = [{ medicine, reason: 'worms', ...more }];
  const reply = await desk.ask('plan-session', { holding, mode: 'mass', subjects: [subject], lines });
  return { ...one(reply.lines), subject };
}
const takes = (draws: readonly { label: string; take: { text: string } }[] | undefined) =>
  draws?.map(({ label, take }) => `${label} ${take.text}`);

describe('what is lost is planned in', () => {
  const GUN = { what: 'gun', capacity: '20 mL', graduation: '0.5 mL' } as const;

  test('priming as measured and spill stand beside the doses, with the working', async () => {
    const { medicine } = await stocked([{ size: '1 L' }]);
    const { equipment } = await desk.ask('set-equipment', { ...GUN, name: 'Blue gun', priming: '25 mL' });
    const line = await plan(medicine, 24, { equipment });
    // By hand: 24 × 6 = 144 mL; 3 % of it 4.32 mL; one bottle, so one priming of 25 mL.
    expect(line.needs.text).toBe('144 mL');
    expect(line.withLosses).toMatchObject({
      lost: { text: '29.32 mL' },
      total: { text: '173.32 mL' },
      says: '144 mL for the animals, 29.32 mL for priming and spill: 173.32 mL in all',
    });
    expect(line.withLosses?.working.map(({ text }) => text)).toContain(
      '144 mL + 25 mL + 4.32 mL = 173.32 mL',
    );
    expect(line.short).toBeUndefined();
  });

  test('each bottle is primed anew, which may take one more; enough for the animals alone is said as that', async () => {
    const { equipment } = await desk.ask('set-equipment', { ...GUN, name: 'Red gun', priming: '25 mL' });
    // 25 × 6 = 150 mL in two bottles of 100; 2 × 25 + 4.5 makes 204.5, a third bottle, and a third priming: 229.5.
    const three = await plan((await stocked([{ size: '100 mL', count: 3 }])).medicine, 25, { equipment });
    expect(three.withLosses?.total.text).toBe('229.5 mL');
    expect(three.withLosses?.draws).toHaveLength(3);
    const two = await plan((await stocked([{ size: '100 mL', count: 2 }])).medicine, 25, { equipment });
    expect(two.short).toBeUndefined();
    expect(two.withLosses?.short?.text).toBe('4.5 mL');
  });

  test('a gun whose priming was never measured is said, and not called enough', async () => {
    const { medicine } = await stocked([{ size: '1 L' }]);
    const { equipment } = await desk.ask('set-equipment', { ...GUN, name: 'Old gun' });
    const line = await plan(medicine, 10, { equipment });
    expect(line.warnings.map(({ code }) => code)).toContain('priming-not-measured');
  });

  test.each(['5 g', '0 mL', '2 L', '-3 mL', '25'])(
    'priming of %s is refused by its field',
    async (priming) => {
      const refused = await desk.refused('set-equipment', { ...GUN, name: 'Bad gun', priming });
      expect(refused).toMatchObject({ field: 'priming' });
    },
  );

  test('as few bottles as can be are opened, and the race draws from those that were planned', async () => {
    const { medicine } = await stocked([{ size: '500 mL' }, { size: '100 mL' }, { size: '400 mL' }]);
    const subject = await lambs(50);
    const ask = { holding, subjects: [subject], lines: [{ medicine, reason: 'worms' }] };
    const planned = await desk.ask('plan-session', { ...ask, mode: 'mass' });
    // 300 mL and 3 % spill: the 400 alone does, the 100 first would open two.
    expect(takes(planned.lines[0]?.withLosses?.draws)).toEqual([`C${made - 1}C-1 309 mL`]);
    const { session } = await desk.ask('open-session', { ...ask, name: 'Worming', mode: 'mass' });
    const given = await desk.ask('treat-many', { session });
    expect(takes(given.draws)).toEqual([`C${made - 1}C-1 300 mL`]);
  });
});

describe('a course is covered to its last day', () => {
  const WEEKLY = { repeats: { doses: 3, due: '7 d' } };

  test('from which bottles each day comes, what one leaves going on into the next', async () => {
    const { medicine } = await stocked([{ size: '100 mL', count: 2 }], { line: WEEKLY, inUse: '10 d' });
    const line = await plan(medicine, 8);
    // A day takes 48 mL and 1.44 mL of spill. The first bottle, opened on 1 May, ends with 10 May.
    expect(line.course?.days.map(({ local, draws }) => [local.slice(0, 10), takes(draws)])).toEqual([
      ['2026-05-01', [`C${made - 1}A-1 49.44 mL`]],
      ['2026-05-08', [`C${made - 1}A-1 49.44 mL`]],
      ['2026-05-15', [`C${made - 1}A-2 49.44 mL`]],
    ]);
    expect(line.course?.noneFrom).toBeUndefined();
    expect(line.course?.total.text).toBe('148.32 mL');
  });

  test('the day from which there is none is named: the bottle ends before the last dose', async () => {
    const { medicine } = await stocked([{ size: '1 L' }], { line: WEEKLY, inUse: '8 d' });
    const line = await plan(medicine, 10);
    // Opened on 1 May for 8 days: the dose of the 8th is within it, the one of the 15th is not.
    expect(line.course?.noneFrom).toBe('2026-05-15');
    expect(line.course?.short?.text).toBe('61.8 mL');
    expect(line.warnings.find(({ code }) => code === 'course-short')?.text).toContain('from 15 May 2026');
    expect(line.short).toBeUndefined();
  });

  test('a bottle that expires on the way serves only until then, and one set aside serves no day', async () => {
    const { medicine, containers } = await stocked(
      [{ size: '1 L', expiry: '2026-05-12' }, { size: '30 mL' }, { size: '1 L', expiry: '2028-01' }],
      { line: WEEKLY },
    );
    await desk.ask('move-stock', { container: one(containers, 2), cause: 'quarantined', why: 'A crack' });
    const line = await plan(medicine, 10);
    expect(line.course?.days.map(({ draws, short }) => [takes(draws), short?.text])).toEqual([
      [[`C${made - 1}A-1 61.8 mL`], undefined],
      [[`C${made - 1}A-1 61.8 mL`], undefined],
      [[`C${made - 1}B-1 30 mL`], '31.8 mL'],
    ]);
  });

  test('one that goes on is planned for its own days that are left, and a dose that stands alone is no course', async () => {
    const { medicine } = await stocked([{ size: '1 L' }], { line: WEEKLY });
    const subject = await lambs(2);
    const single = { medicine, reason: 'worms' };
    const planned = ['2026-05-01', '2026-05-06', '2026-05-20'];
    await desk.ask('treat', { subject, single, course: { planned } });
    const next = await desk.ask('plan-session', { holding, subjects: [subject], lines: [single] });
    expect(next.lines[0]?.course?.days.map(({ local }) => local.slice(0, 10))).toEqual([
      '2026-05-01',
      '2026-05-20',
    ]);
    const alone = await stocked([{ size: '1 L' }]);
    expect((await plan(alone.medicine, 3)).course).toBeUndefined();
  });

  test('the days a person planned go before those of the label', async () => {
    const { medicine } = await stocked([{ size: '1 L' }], { line: WEEKLY });
    const subject = await lambs(2);
    const reply = await desk.ask('plan-session', {
      holding,
      subjects: [subject],
      lines: [{ medicine, reason: 'worms' }],
      courseDays: ['2026-05-01', '2026-05-04'],
    });
    expect(reply.lines[0]?.course?.days.map(({ local }) => local.slice(0, 10))).toEqual([
      '2026-05-01',
      '2026-05-04',
    ]);
  });
});
