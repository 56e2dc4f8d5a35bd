import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DRENCH, farmDesk } from './farm-desk.ts';

let desk: ReturnType<typeof farmDesk>;
let holding = '';
let medicine = '';
let bottle = '';

beforeEach(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding } = await desk.started());
  ({ medicine } = await desk.ask('set-label', { act: 'first', terms: DRENCH }));
  const { containers } = await desk.ask('receive-batch', {
    medicine,
    number: 'B1',
    expiry: '2027-03',
    packs: [{ count: 1, size: '100 mL' }],
  });
  bottle = containers[0]?.container ?? '';
});
afterEach(() => desk.close());

async function lamb(weight = '10 kg') {
  const { animal } = await desk.ask('set-animal', { holding, tag: 'UK 0 123456 00001', class: 'lamb' });
  await desk.ask('weigh', { subject: `animal:${animal}`, weight, how: 'scale' });
  return `animal:${animal}`;
}
const single = () => ({ medicine, reason: 'worms' });
const movements = async () =>
  (await desk.ask('container', { container: bottle })).movements.map((row) => [
    row.cause,
    row.amount,
    row.left,
    row.note ?? '',
  ]);
const untilOf = (holds: readonly { produce: string; until?: string | undefined }[]) =>
  holds.find((hold) => hold.produce === 'meat')?.until;

describe('what leaked back', () => {
  test('three drops of 1 mL: how short as a range, split off the bottle as lost, the hold as long as ever', async () => {
    const subject = await lamb();
    const given = await desk.ask('treat', { subject, single: single(), leaked: { drops: 3 } });
    expect(given.quantity).toBe('1 mL');
    expect(given.deviations).toEqual([
      {
        code: 'leaked-back',
        text: '3 drops of 1 mL leaked back: about 15 % short, 6 to 21 % by how large the drops were',
      },
    ]);
    expect(await movements()).toEqual([
      ['received', '100 mL', '100 mL', ''],
      ['opened', '', '100 mL', ''],
      ['drawn', '-0.85 mL', '99.15 mL', ''],
      ['lost', '-0.15 mL', '99 mL', 'leaked back'],
    ]);
    expect(untilOf(given.holds)).toBeDefined();
    const [administration = ''] = given.administrations;
    const line = await desk.ask('treatment', { administration });
    expect(line.leaked).toBe('3 drops, booked as 0.15 mL');
    expect(line.draws).toMatchObject([{ amount: '0.85 mL', leaked: '0.15 mL', left: '99 mL' }]);
    const { rows } = await desk.ask('book', { from: '2026-05-01', to: '2026-05-01' });
    expect(rows[0]).toMatchObject({ quantity: '1 mL', deviations: [given.deviations[0]?.text] });
  });

  test('a dose that is written already: the leak is put to it, changed, carried through another correction, and taken away', async () => {
    const subject = await lamb();
    const before = await desk.ask('treat', { subject, single: single() });
    const [administration = ''] = before.administrations;
    const held = (await desk.ask('treatment', { administration })).holds;
    const preview = await desk.ask('preview-correction', { administration, leaked: { amount: '0.2 mL' } });
    expect(preview.deviations.map((each) => each.text)).toEqual(['0.2 mL of 1 mL leaked back: 20 % short']);
    expect(preview.draws).toMatchObject([{ amount: '0.8 mL', leaked: '0.2 mL', left: '99 mL' }]);
    const correct = (more: object) =>
      desk.ask('correct-treatment', { administration, reason: 'Some of it leaked back', ...more });
    await correct({ leaked: { amount: '0.2 mL' } });
    expect((await movements()).slice(2).map((row) => row.slice(0, 3))).toEqual([
      ['drawn', '-0.8 mL', '99.2 mL'],
      ['lost', '-0.2 mL', '99 mL'],
    ]);
    // Another day: what was said of the leak stays, and is not counted twice.
    await correct({ local: '2026-05-01T08:00' });
    expect(await desk.ask('treatment', { administration })).toMatchObject({ leaked: '0.2 mL' });
    expect((await desk.ask('container', { container: bottle })).container.left.text).toBe('99 mL');
    await correct({ leaked: { drops: 0 } });
    const line = await desk.ask('treatment', { administration });
    expect(line.leaked).toBeUndefined();
    expect(line.deviations).toEqual([]);
    expect(line.holds.map((hold) => hold.until?.slice(0, 10))).toEqual(
      held.map((hold) => hold.until?.slice(0, 10)),
    );
    expect((await desk.ask('container', { container: bottle })).container.left.text).toBe('99 mL');
  });

  test('leak and spill at once are two losses, and the sum is what left the bottle', async () => {
    const subject = await lamb();
    await desk.ask('treat', {
      subject,
      single: single(),
      leaked: { amount: '0.1 mL' },
      lost: { amount: '2 mL', why: 'Priming' },
    });
    expect((await movements()).slice(2)).toEqual([
      ['drawn', '-0.9 mL', '99.1 mL', ''],
      ['lost', '-0.1 mL', '99 mL', 'leaked back'],
      ['lost', '-2 mL', '97 mL', 'Priming'],
    ]);
    await desk.refold((store) => {
      const row = store.read.get<{ left_units: number }>('SELECT left_units FROM container');
      expect(row?.left_units).toBe(97_000);
    });
  });

  test("from the vet's own bottle nothing of ours moves, and it is said all the same", async () => {
    const subject = await lamb();
    const given = await desk.ask('treat', {
      subject,
      single: { ...single(), source: 'vet' },
      leaked: { drops: 2 },
    });
    expect(given.deviations.map((each) => each.code)).toEqual(['leaked-back']);
    expect(await movements()).toHaveLength(1);
  });

  test('of a lot it is held against all that was drawn', async () => {
    const { lot } = await desk.ask('set-lot', { holding, name: 'Lambs', class: 'lamb', heads: 10 });
    await desk.ask('weigh', { subject: `lot:${lot}`, weight: '10 kg', how: 'scale' });
    const given = await desk.ask('treat', {
      subject: `lot:${lot}`,
      single: single(),
      leaked: { amount: '1 mL' },
    });
    expect(given.deviations[0]?.text).toBe('1 mL of 10 mL for 10 head together leaked back: 10 % short');
  });

  test.each([
    ['more than was drawn', { amount: '1.2 mL' }, 'leaked-more-than-given'],
    ['drops that cannot come out of it', { drops: 60 }, 'leaked-more-than-given'],
    ['grams', { amount: '1 g' }, 'units-do-not-match'],
    ['no unit', { amount: '0.2' }, 'bad-amount'],
    ['a comma', { amount: '0,2 mL' }, 'bad-number'],
    ['nothing', { amount: '0 mL' }, 'bad-amount'],
  ])('%s is refused by its field', async (_name, leaked, code) => {
    const subject = await lamb();
    expect(await desk.refused('treat', { subject, single: single(), leaked })).toMatchObject({
      code,
      field: 'leaked',
    });
  });
});

describe('how a weight is known', () => {
  const animal = async () => (await lamb('50 kg')) as `animal:${string}`;

  test('by tape it is worked out by the desk from girth and length, and kept with them', async () => {
    const subject = await animal();
    const weighed = await desk.ask('weigh', {
      subject,
      how: 'tape',
      tape: { girth: '88.9 cm', length: '76.2 cm' },
    });
    expect(weighed.weight).toBe('55.6 kg');
    const page = await desk.ask('subject', { subject });
    expect(page.who).toMatchObject({ weight: '55.6 kg', weighedHow: 'tape' });
    const [last] = (await desk.ask('entries', {})).entries;
    expect(last?.kind).toBe('weighed');
    await desk.peek((store) => {
      const data = store.entry(last?.seq ?? 0)?.data;
      expect(data).toMatchObject({ tape: { girth: '88.9 cm', length: '76.2 cm' } });
    });
  });

  test.each([
    ['no length unit', { how: 'tape', tape: { girth: '88.9', length: '76.2 cm' } }, 'bad-length', 'girth'],
    ['a tape by eye', { how: 'eye', tape: { girth: '88.9 cm', length: '76.2 cm' } }, 'tape-unwanted', 'how'],
    ['no weight', { how: 'scale' }, 'weight-missing', 'weight'],
  ] as const)('%s is refused by its field', async (_name, ask, code, field) => {
    expect(await desk.refused('weigh', { subject: await animal(), ...ask })).toMatchObject({ code, field });
  });

  test('plan and race say how and when a weight is known', async () => {
    const subject = await animal();
    await desk.ask('weigh', { subject, weight: '52 kg', how: 'eye' });
    const lines = [single()];
    const plan = await desk.ask('plan-session', { holding, subjects: [subject], lines });
    expect(plan.rows[0]).toMatchObject({ weight: '52 kg', weighedHow: 'eye', weighedOn: '2026-05-01T10:00' });
    const { session } = await desk.ask('open-session', { holding, subjects: [subject], lines, name: 'W' });
    expect((await desk.ask('dose-for', { session, subject })).who).toMatchObject({ weighedHow: 'eye' });
    const typed = await desk.ask('dose-for', { session, subject, weight: '53 kg' });
    expect(typed.who.weighedHow).toBeUndefined();
  });

  test('growth predicts with the age of the last weighing, and no dose is worked out by it', async () => {
    const subject = await animal();
    desk.at('2026-05-21T09:00:00.000Z');
    await desk.ask('weigh', { subject, weight: '54 kg', how: 'crate' });
    expect((await desk.ask('subject', { subject })).predicted).toBeUndefined();
    desk.at('2026-05-31T09:00:00.000Z');
    // 4 kg in 20 days are 200 g a day; 10 days later 2 kg more.
    const says =
      '54 kg, weighed 10 days ago; at 200 g a day growing about 56 kg today: predicted, not weighed.';
    expect((await desk.ask('subject', { subject })).predicted).toBe(says);
    const lines = [single()];
    const { session } = await desk.ask('open-session', { holding, subjects: [subject], lines, name: 'W' });
    const dose = await desk.ask('dose-for', { session, subject });
    expect(dose.who).toMatchObject({ weight: '54 kg', predicted: says });
    expect(dose.doses[0]?.dose?.draw.text).toBe('5.4 mL');
    // A guess shows no growth.
    await desk.ask('weigh', { subject, weight: '57 kg', how: 'eye' });
    expect((await desk.ask('subject', { subject })).predicted).toBeUndefined();
  });
});
