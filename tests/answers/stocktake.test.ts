import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

let desk: FarmDesk;
let medicine: string;
let holding: string;
let one: string;
let two: string;
beforeEach(async () => {
  desk = farmDesk();
  ({ holding } = await desk.started());
  medicine = (await desk.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) })).medicine;
  const { containers } = await desk.ask('receive-batch', {
    medicine,
    number: 'B4',
    expiry: '2027-03',
    packs: [{ count: 2, size: '500 mL' }],
    store: 'Fridge',
  });
  one = containers[0]?.container ?? '';
  two = containers[1]?.container ?? '';
});
afterEach(() => desk.close());

const leftIn = async (container: string) => (await desk.ask('container', { container })).container.left.text;

describe('a stocktake', () => {
  test('the sheet has what is on the shelf, store by store', async () => {
    await desk.ask('receive-batch', {
      medicine,
      number: 'B5',
      expiry: '2027-04',
      packs: [{ count: 1, size: '1 L' }],
    });
    await desk.ask('move-stock', { container: two, cause: 'disposed', how: 'Medicine waste' });
    const { stores } = await desk.ask('stocktake-sheet', {});
    expect(stores).toMatchObject([
      { store: '', containers: [{ label: 'B5-1', unit: 'mL', left: { text: '1000 mL' } }] },
      { store: 'Fridge', containers: [{ label: 'B4-1', batch: 'B4', useBy: '31 Mar 2027' }] },
    ]);
    expect((await desk.ask('stocktake-sheet', { store: 'Fridge' })).stores).toHaveLength(1);
    const made = await desk.ask('stocktake-paper', { showBook: false });
    expect(made).toMatchObject({ containers: 2, paper: expect.stringMatching(/^[0-9a-f]{64}$/) });
  });

  test('is written in one request, with the cause of each difference', async () => {
    expect(
      await desk.ask('write-stocktake', {
        counts: [
          { container: one, amount: '480 mL', difference: 'spilt', note: 'the cap was loose' },
          { container: two, amount: '0.5 L' },
        ],
      }),
    ).toEqual({ counted: 2, differed: 1, warnings: [] });
    expect(await leftIn(one)).toBe('480 mL');
    const { movements, container } = await desk.ask('container', { container: one });
    expect(movements.at(-1)).toMatchObject({
      cause: 'counted',
      amount: '-20 mL',
      left: '480 mL',
      note: 'Spilt or leaked: the cap was loose',
    });
    expect(container.counted).toBe('1 May 2026, 10:00');
    expect(await desk.ask('drift', {})).toMatchObject({
      medicines: [
        {
          name: 'Calverol drench',
          sum: '−20 mL',
          counts: [
            { label: 'B4-1', book: '500 mL', found: '480 mL', difference: '−20 mL' },
            { label: 'B4-2', book: '500 mL', found: '500 mL', difference: '0 mL', why: '' },
          ],
        },
      ],
    });
  });

  test('what was given and not written down is said to hold nobody yet', async () => {
    const { warnings } = await desk.ask('write-stocktake', {
      counts: [{ container: one, amount: '488 mL', difference: 'not-written' }],
    });
    expect(warnings).toMatchObject([{ code: 'treatment-missing', text: expect.stringContaining('12 mL') }]);
  });

  test.each([
    [{ amount: '480 mL' }, 'difference-missing', 'difference.'],
    [{ amount: '-5 mL' }, 'bad-number', 'amount.'],
    [{ amount: '480' }, 'bad-amount', 'amount.'],
    [{ amount: '480 g' }, 'units-do-not-match', 'amount.'],
    [{ amount: '5,5 mL' }, 'bad-number', 'amount.'],
    [{ amount: '600 mL', difference: 'counted-wrongly' }, 'ask:more-than-received', 'amount.'],
  ] as const)('%j is not taken, and neither is the rest', async (count, code, field) => {
    const head = await desk.head();
    const fault = await desk.refused('write-stocktake', {
      counts: [
        { container: one, ...count },
        { container: two, amount: '500 mL' },
      ],
    });
    expect(fault).toMatchObject({ code, field: `${field}${one}` });
    expect(fault.message).toMatch(/B4-1/);
    expect(await desk.head()).toBe(head);
  });

  test('the same container twice, one that is gone, and one that never was', async () => {
    const twice = { container: one, amount: '500 mL' };
    expect(await desk.refused('write-stocktake', { counts: [twice, twice] })).toMatchObject({
      code: 'counted-twice',
    });
    await desk.ask('move-stock', { container: two, cause: 'returned', where: 'The supplier' });
    expect(
      await desk.refused('write-stocktake', { counts: [{ container: two, amount: '500 mL' }] }),
    ).toMatchObject({ code: 'container-gone', field: `amount.${two}` });
    expect(
      await desk.refused('write-stocktake', { counts: [{ container: 'none', amount: '5 mL' }] }),
    ).toMatchObject({ code: 'no-such-container' });
  });

  test('a difference is against the book at the time of the count, not now', async () => {
    const { animal } = await desk.ask('set-animal', { holding, class: 'ewe', management: 'E 7' });
    desk.at('2026-05-01T12:00:00.000Z');
    await desk.ask('treat', {
      subject: `animal:${animal}`,
      weight: '60 kg',
      containers: [one],
      single: { medicine, reason: 'worms' },
    });
    expect(
      await desk.ask('write-stocktake', {
        happened: '2026-05-01T11:00',
        counts: [{ container: one, amount: '500 mL' }],
      }),
    ).toMatchObject({ differed: 0 });
    expect(await leftIn(one)).toBe('494 mL');
  });
});

describe('wastage from the farm’s own figures', () => {
  test('three opened containers used up: what reached no animal ÷ what was opened', async () => {
    const { containers } = await desk.ask('receive-batch', {
      medicine,
      number: 'B6',
      expiry: '2027-04',
      packs: [{ count: 3, size: '100 mL' }],
    });
    const { animal } = await desk.ask('set-animal', { holding, class: 'ewe', management: 'E 7' });
    for (const [n, { container }] of containers.entries()) {
      desk.at(`2026-05-0${n + 2}T09:00:00.000Z`);
      await desk.ask('open-container', { container });
      await desk.ask('treat', {
        subject: `animal:${animal}`,
        weight: '60 kg',
        given: '70 mL',
        containers: [container],
        single: { medicine, reason: 'worms' },
        confirmed: ['dose-differs', 'over-label', 'given-differs'],
      });
      if (n === 0)
        await desk.ask('move-stock', { container, cause: 'lost', amount: '10 mL', why: 'Priming' });
      // 20 or 30 are left: given and not written down is no loss, poured away is.
      if (n === 1) {
        await desk.ask('write-stocktake', {
          counts: [{ container, amount: '10 mL', difference: 'not-written' }],
        });
      }
      await desk.ask('move-stock', {
        container,
        cause: 'disposed',
        how: 'Back to the supplier',
        where: 'Bin',
      });
    }
    const { medicines } = await desk.ask('drift', { medicine });
    // Lost: 30, 10 and 30 of 300 mL: 23.3 %, and 100 ÷ (100 − 23.33…) = 1.30.
    expect(medicines[0]?.wastage).toMatchObject({
      from: 'own',
      containers: 3,
      ratePercent: '23.3',
      factor: '1.3',
      says: '23.3 % of 3 used-up containers reached no animal: order 1.3 times what is needed.',
    });
  });

  test('before three are used up it starts from practice, and says so', async () => {
    const { medicines } = await desk.ask('drift', { medicine });
    expect(medicines[0]?.wastage).toMatchObject({
      from: 'start',
      containers: 0,
      says: 'Not enough is used up yet (no container) to know its own losses; planning starts from 3 %.',
    });
  });
});
