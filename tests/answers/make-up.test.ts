import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { farmDesk } from './farm-desk.ts';

let desk: ReturnType<typeof farmDesk>;
let holding = '';

beforeEach(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding } = await desk.started());
});
afterEach(() => desk.close());

/** A powder of an invented substance, 900 mg in each g, dosed at 8 mg/kg; usable 24 h once opened or made up. */
const POWDER = {
  name: 'Fennadyl powder',
  form: 'powder' as const,
  kind: 'mass' as const,
  purpose: 'other' as const,
  actives: [{ substance: 'fennadyl', strength: '900 mg/g' }],
  doseLines: [{ id: 'd1', route: 'oral' as const, rate: { style: 'rate' as const, text: '8 mg/kg' } }],
  periods: [
    { produce: 'meat' as const, says: 'value' as const, value: '10 d' },
    { produce: 'milk' as const, says: 'not-for-this-produce' as const },
  ],
  inUse: '24 h',
};

async function received(terms: object, size: string, number = 'P1', count = 1) {
  const made = await desk.ask('set-label', { act: 'first', terms: { ...POWDER, ...terms } });
  const { containers } = await desk.ask('receive-batch', {
    medicine: made.medicine,
    number,
    expiry: '2027-03',
    packs: [{ count, size }],
  });
  return { ...made, containers: containers.map((each) => each.container) };
}
async function ewe(tag: string, weight: string) {
  const { animal } = await desk.ask('set-animal', { holding, tag, class: 'ewe' });
  await desk.ask('weigh', { subject: `animal:${animal}`, weight, how: 'scale' });
  return `animal:${animal}`;
}
const left = async (container: string) => (await desk.ask('container', { container })).container.left.text;

describe('made up on the farm', () => {
  test('52 g of a powder in 943 mL: its own strength, its own end, and what it was made of is drawn down', async () => {
    const { medicine, containers } = await received({}, '104 g');
    const [packet = ''] = containers;
    const made = await desk.ask('make-up', {
      from: [{ container: packet, amount: '52 g' }],
      water: '943 mL',
    });
    // 52 g × 900 mg/g = 46,800 mg in 943 mL = 49.63 mg/mL; 400 mg ÷ 49.63 = 8.06 mL.
    expect(made.says).toBe('52 g in 943 mL gives 49.63 mg in each mL; 50 kg needs 8.06 mL.');
    expect(made.strength).toBe('46800 mg in 943 mL');
    expect(made.warnings.map((each) => each.code)).toEqual(['volume-assumed']);
    expect(await left(packet)).toBe('52 g');
    const { container, movements } = await desk.ask('container', { container: made.container });
    expect(container).toMatchObject({ batch: 'P1', strength: '46800 mg in 943 mL', state: 'sealed' });
    expect(container.unusableFrom).toBe('2026-05-02T10:00');
    expect(movements.map((row) => [row.cause, row.amount])).toEqual([['made-up', '943 mL']]);
    const life = await desk.ask('container', { container: packet });
    expect(life.movements.map((row) => row.cause)).toEqual(['received', 'opened', 'used-to-make']);
    const [row] = (await desk.ask('medicines', {})).medicines;
    expect(row?.usable).toBe('52 g, and 943 mL made up');
    expect(row?.medicine).toBe(medicine);
  });

  test('a dose from it is worked out by its own strength, in mL, at the race and in the book', async () => {
    const { medicine, containers } = await received({}, '104 g');
    const [packet = ''] = containers;
    await desk.ask('make-up', { from: [{ container: packet, amount: '52 g' }], water: '943 mL' });
    const subject = await ewe('UK 0 123456 00001', '50 kg');
    const lines = [{ medicine, reason: 'worms' }];
    const plan = await desk.ask('plan-session', { holding, subjects: [subject], lines });
    expect(plan.rows[0]?.doses[0]?.draw.text).toBe('8.1 mL');
    expect(plan.lines[0]).toMatchObject({ needs: { text: '8.1 mL' } });
    expect(plan.lines[0]?.draws.map((draw) => [draw.batch, draw.take.text])).toEqual([['P1', '8.1 mL']]);
    const { session } = await desk.ask('open-session', {
      holding,
      subjects: [subject],
      lines,
      name: 'Worms',
    });
    expect((await desk.ask('session', { session })).lines[0]?.needs.text).toBe('8.1 mL');
    const given = await desk.ask('treat', { session, subject });
    expect(given.quantity).toBe('8.1 mL');
    expect(given.deviations).toEqual([]);
    const { rows } = await desk.ask('book', { from: '2026-05-01', to: '2026-05-01' });
    expect(rows[0]).toMatchObject({ quantity: '8.1 mL', batch: 'P1' });
    // A day later it is past its end: the powder is what is left, and is weighed out.
    desk.at('2026-05-02T11:00:00.000Z');
    const later = await desk.ask('plan-session', { holding, subjects: [subject], lines });
    expect(later.rows[0]?.doses[0]?.draw.text).toBe('440 mg');
  });

  test('mL of one strength do not fill up mL of another: it is short, and said', async () => {
    const { medicine, containers } = await received({}, '104 g');
    const [packet = ''] = containers;
    const from = [{ container: packet, amount: '1 g' }];
    await desk.ask('make-up', { from, water: '10 mL', life: '2 h' });
    await desk.ask('make-up', { from, water: '20 mL' });
    const subject = await ewe('UK 0 123456 00001', '150 kg');
    const plan = await desk.ask('plan-session', {
      holding,
      subjects: [subject],
      lines: [{ medicine, reason: 'worms' }],
    });
    // 150 kg × 8 mg/kg ÷ 90 mg/mL = 13.3 mL, and there are 10 mL of that strength.
    expect(plan.lines[0]?.draws.map((draw) => draw.take.text)).toEqual(['10 mL']);
    expect(plan.lines[0]?.short?.text).toBe('3.3 mL');
  });

  test('a concentrate and its water add up, or it is filled up to a mark', async () => {
    const { containers } = await received(
      {
        name: 'Fennadyl concentrate',
        kind: 'volume',
        form: 'drench',
        actives: [{ substance: 'fennadyl', strength: '200 mg/mL' }],
      },
      '1 L',
    );
    const [bottle = ''] = containers;
    const from = [{ container: bottle, amount: '100 mL' }];
    const made = await desk.ask('make-up', { from, water: '300 mL' });
    expect(made).toMatchObject({ volume: '400 mL', strength: '20000 mg in 400 mL' });
    expect(made.says).toBe('100 mL in 300 mL gives 50 mg in each mL; 50 kg needs 8 mL.');
    const marked = await desk.ask('make-up', { from, madeUpTo: '500 mL', label: 'Blue can', batch: 'own 7' });
    expect(marked).toMatchObject({ volume: '500 mL', label: 'Blue can', warnings: [] });
    expect((await desk.ask('container', { container: marked.container })).container.batch).toBe('own 7');
    // What is made up may be made up again, by its own strength.
    const again = await desk.ask('make-up', {
      from: [{ container: marked.container, amount: '100 mL' }],
      water: '100 mL',
    });
    expect(again.says).toContain('gives 20 mg in each mL');
  });

  test('it never keeps longer than what it was made of, or than the label lets it', async () => {
    const { containers } = await received({ inUse: '28 d' }, '100 g');
    const [packet = ''] = containers;
    const from = [{ container: packet, amount: '10 g' }];
    expect((await desk.ask('make-up', { from, water: '1 L' })).useBy).toBe('28 May 2026');
    desk.at('2026-05-11T09:00:00.000Z');
    expect((await desk.ask('make-up', { from, water: '1 L' })).useBy).toBe('28 May 2026');
    expect((await desk.ask('make-up', { from, water: '1 L', life: '3 d' })).useBy).toBe('13 May 2026');
    expect(await desk.refused('make-up', { from, water: '1 L', life: '29 d' })).toMatchObject({
      code: 'life-over-label',
      field: 'life',
    });
  });

  test('struck out, its stock goes back', async () => {
    const { containers } = await received({}, '104 g');
    const [packet = ''] = containers;
    await desk.ask('make-up', { from: [{ container: packet, amount: '52 g' }], water: '943 mL' });
    const { entries } = await desk.ask('entries', {});
    const entry = entries.find((each) => each.kind === 'container-made-up')?.entry;
    if (!entry) throw new Error('it is not in the journal');
    await desk.ask('void', { entry, reason: 'Poured away' });
    expect(await left(packet)).toBe('104 g');
  });
});

describe('what cannot be made up is one sentence with its field', () => {
  const cases: readonly [string, object, object, string, string][] = [
    ['more than is left', {}, { amount: '200 g' }, 'more-than-left', 'from.0.amount'],
    ['a powder in mL', {}, { amount: '20 mL' }, 'units-do-not-match', 'from.0.amount'],
    ['nothing', {}, { amount: '0 g' }, 'bad-amount', 'from.0.amount'],
    ['a comma', {}, { amount: '5,2 g' }, 'bad-number', 'from.0.amount'],
    ['water in grams', {}, { water: '943 g' }, 'units-do-not-match', 'water'],
    ['no water', {}, { water: undefined }, 'water-missing', 'water'],
    ['full-width digits', {}, { water: '９43 mL' }, 'bad-number', 'water'],
    ['a life of months', {}, { life: '2 months' }, 'bad-period', 'life'],
    ['no life anywhere', { inUse: undefined }, {}, 'life-missing', 'life'],
  ];
  test.each(cases)('%s', async (_name, terms, change, code, field) => {
    const { containers } = await received(terms, '104 g');
    const ask = { amount: '52 g', water: '943 mL', ...change } as Record<string, string>;
    const { amount = '', ...rest } = ask;
    const refused = await desk.refused('make-up', {
      from: [{ container: containers[0] ?? '', amount }],
      ...rest,
    });
    expect([refused.code, refused.field]).toEqual([code, field]);
    // One sentence, and not a heap of them.
    expect(refused.message).toMatch(/^[^.]+(\.\d[^.]*)*\.$/);
  });

  test('tablets dosed by the head, two medicines, an expired pack', async () => {
    const tablets = await received(
      {
        name: 'Sorrel tablets',
        kind: 'pieces',
        piece: 'tablet',
        form: 'tablet',
        actives: [{ substance: 'sorrelin', strength: '100 mg per tablet' }],
        doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '1 tablet per head' } }],
      },
      '20 tablets',
    );
    const powder = await received({}, '104 g', 'P2');
    const [tub = ''] = tablets.containers;
    const [packet = ''] = powder.containers;
    const make = (from: { container: string; amount: string }[]) =>
      desk.refused('make-up', { from, water: '1 L' });
    expect((await make([{ container: tub, amount: '2 tablets' }])).code).toBe('made-up-by-volume');
    const two = [
      { container: tub, amount: '2 tablets' },
      { container: packet, amount: '1 g' },
    ];
    expect((await make(two)).code).toBe('two-medicines');
    desk.at('2027-04-02T09:00:00.000Z');
    expect(await make([{ container: packet, amount: '1 g' }])).toMatchObject({
      code: 'not-usable',
      field: 'from.0.container',
    });
  });

  test('tablets dosed by substance may be dissolved', async () => {
    const { containers } = await received(
      {
        name: 'Sorrel tablets',
        kind: 'pieces',
        piece: 'tablet',
        form: 'tablet',
        actives: [{ substance: 'sorrelin', strength: '100 mg per tablet' }],
        doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '10 mg/kg' } }],
      },
      '20 tablets',
    );
    const made = await desk.ask('make-up', {
      from: [{ container: containers[0] ?? '', amount: '5 tablets' }],
      water: '250 mL',
    });
    expect(made.says).toBe('5 tablets in 250 mL gives 2 mg in each mL; 50 kg needs 250 mL.');
  });
});
