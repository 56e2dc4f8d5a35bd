import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

let desk: FarmDesk;
let medicine: string;
beforeEach(async () => {
  desk = farmDesk();
  await desk.started();
  medicine = (await desk.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) })).medicine;
});
afterEach(() => desk.close());

const GS = '\u001d';
const GTIN = '05012345678900';
const scan = (serial: string) => `]d201${GTIN}17270300${'10'}AB17${GS}21${serial}`;
const delivery = () => ({
  medicine,
  number: 'AB17',
  expiry: '2027-03',
  packs: [{ count: 2, size: '500 mL' }],
  code: GTIN,
  serials: ['S1', 'S2'],
});

describe('the code of a pack', () => {
  test('of an unknown product says batch, expiry and serial; once taken in it says the product too', async () => {
    expect(await desk.ask('read-pack', { scan: scan('S1') })).toEqual({
      gtin: GTIN,
      expiry: '2027-03',
      number: 'AB17',
      serial: 'S1',
      batches: [],
      here: [],
      warnings: [],
    });
    const { batch } = await desk.ask('receive-batch', delivery());
    expect(await desk.ask('read-pack', { scan: scan('S3') })).toMatchObject({
      product: { medicine, name: 'Calverol drench', size: '500 mL' },
      batches: [{ batch, number: 'AB17' }],
    });
    // The long code holds the same number without the nought.
    const linear = await desk.ask('read-pack', { scan: GTIN.slice(1) });
    expect(linear).toMatchObject({ gtin: GTIN, product: { medicine }, batches: [] });
    expect(linear.number).toBeUndefined();
  });

  test('says which containers on the shelf it may be: by its serial number one, and never one that has another', async () => {
    const { containers } = await desk.ask('receive-batch', {
      ...delivery(),
      packs: [{ count: 3, size: '500 mL' }],
    });
    const hereBy = async (typed: string) =>
      (await desk.ask('read-pack', { scan: typed })).here.map(({ label }) => label);
    expect(await hereBy(scan('S2'))).toEqual(['AB17-2']);
    expect(await hereBy(scan('S9'))).toEqual(['AB17-3']);
    expect(await hereBy(`]d201${GTIN}17270300${'10'}AB17`)).toEqual(['AB17-1', 'AB17-2', 'AB17-3']);
    // A code without a batch says nothing of a container, and what has left is not here.
    expect(await hereBy(GTIN.slice(1))).toEqual([]);
    const container = containers[1]?.container ?? '';
    await desk.ask('move-stock', { container, cause: 'returned', where: 'Thorn Supplies' });
    expect(await hereBy(scan('S2'))).toEqual([]);
  });

  test('is remembered once', async () => {
    await desk.ask('receive-batch', delivery());
    const head = await desk.head();
    await desk.ask('receive-batch', { ...delivery(), number: 'AB18', serials: [] });
    expect(await desk.head()).toBe(head + 1);
  });

  test('of another medicine so far is asked about', async () => {
    await desk.ask('receive-batch', delivery());
    const other = (
      await desk.ask('set-label', {
        act: 'first',
        terms: { ...structuredClone(DRENCH), name: 'Other drench' },
      })
    ).medicine;
    const wrong = { ...delivery(), medicine: other, serials: [] };
    expect(await desk.refused('receive-batch', wrong)).toMatchObject({
      code: 'ask:code-of-other',
      field: 'medicine',
      message: 'The code of this pack stands for Calverol drench so far. Is it Other drench from now on?',
    });
    await desk.ask('receive-batch', { ...wrong, confirmed: ['code-of-other'] });
    expect((await desk.ask('read-pack', { scan: GTIN.slice(1) })).product?.name).toBe('Other drench');
  });

  test('with one serial number twice is asked about, in one delivery and over two', async () => {
    expect(await desk.refused('receive-batch', { ...delivery(), serials: ['S1', 'S1'] })).toMatchObject({
      code: 'ask:serial-twice',
      field: 'serials',
      message: 'Serial number S1 was scanned twice. Are these really two packs?',
    });
    await desk.ask('receive-batch', delivery());
    expect((await desk.ask('read-pack', { scan: scan('S2') })).sameSerial).toBe(
      'AB17-2, taken in on 1 May 2026, 10:00',
    );
    const again = { ...delivery(), serials: ['S2'], confirmed: ['batch-again'] };
    expect(await desk.refused('receive-batch', again)).toMatchObject({
      code: 'ask:serial-known',
      message:
        'Serial number S2 is in the book already: AB17-2, taken in on 1 May 2026, 10:00. Is this really another pack?',
    });
    expect(
      await desk.refused('receive-batch', {
        ...delivery(),
        serials: ['S4', 'S5', 'S6'],
        confirmed: ['batch-again'],
      }),
    ).toMatchObject({ code: 'more-serials-than-packs', field: 'packs' });
  });

  test.each([
    [`01${GTIN}10ABC17271231`, 'ambiguous'],
    ['5012345678901', 'unreadable'],
    [`${scan('S1')}${scan('S1')}`, 'ambiguous'],
    [`01${GTIN.slice(0, 9)}`, 'unreadable'],
    ['x'.repeat(300), 'unreadable'],
    ['', 'unreadable'],
  ])('%j is asked about and never guessed', async (typed, code) => {
    const fault = await desk.refused('read-pack', { scan: typed });
    expect(fault).toMatchObject({ code, field: 'scan' });
    expect(fault.next).toBeDefined();
  });

  test('of an expired pack says so', async () => {
    const old = await desk.ask('read-pack', { scan: `]d201${GTIN}17260400${'10'}A` });
    expect(old.warnings).toEqual([
      { code: 'expired', text: 'This pack expired: 30 Apr 2026 was its last day.' },
    ]);
  });
});
