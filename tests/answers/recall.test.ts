import { randomUUID } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

let desk: FarmDesk;
let medicine: string;
let holding: string;
let batch: string;
let bottles: string[];
beforeEach(async () => {
  desk = farmDesk();
  ({ holding } = await desk.started());
  medicine = (await desk.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) })).medicine;
  const came = await desk.ask('receive-batch', {
    medicine,
    number: 'B4',
    expiry: '2027-03',
    packs: [{ count: 2, size: '500 mL' }],
    supplier: 'Wold Vets',
    store: 'Fridge',
  });
  batch = came.batch;
  bottles = came.containers.map((one) => one.container);
});
afterEach(() => desk.close());

const ewe = async (management: string) =>
  `animal:${(await desk.ask('set-animal', { holding, class: 'ewe', management })).animal}`;
const dose = (subject: string, container = bottles[0] ?? '') =>
  desk.ask('treat', {
    subject,
    weight: '60 kg',
    containers: [container],
    single: { medicine, reason: 'worms' },
  });

const nameOf = (request: string, kind: string) =>
  desk.peek((store) => {
    for (let n = 1; n < 9; n += 1) {
      if (store.entryNamed(request, n)?.kind === kind) return { request, n };
    }
    throw new Error(`no ${kind}`);
  });

describe('recall of a batch', () => {
  test('says what came in, what is left and where, who got it and how they stand', async () => {
    await dose(await ewe('E 7'));
    await desk.ask('move-stock', {
      container: bottles[1] ?? '',
      cause: 'lost',
      amount: '20 mL',
      why: 'Spilled',
    });
    const found = await desk.ask('recall', { number: ' b4 ' });
    expect(found).toMatchObject({
      number: 'B4',
      name: 'Calverol drench',
      batch,
      deliveries: [
        { received: '1 May 2026, 10:00', expiry: 'Mar 2027', supplier: 'Wold Vets', containers: 2 },
      ],
      balance: [
        { cause: 'Came in', text: '1000 mL' },
        { cause: 'Given', text: '6 mL' },
        { cause: 'Lost', text: '20 mL' },
        { cause: 'Left', text: '974 mL' },
      ],
      containers: [
        { label: 'B4-1', left: { text: '494 mL' }, state: 'open', store: 'Fridge' },
        { label: 'B4-2', left: { text: '480 mL' }, state: 'sealed', store: 'Fridge' },
      ],
      got: [
        {
          shown: 'E 7',
          heads: 1,
          isPossible: false,
          given: [{ local: '1 May 2026, 10:00', amount: '6 mL', from: 'B4-1' }],
          now: [{ isHere: true, says: 'here', holds: ['Meat held until 29 May 2026, 10:00'] }],
        },
      ],
      says: ['2 containers of it are still here.', '1 head got it or may have got it.'],
    });
  });

  test('every delivery of the number is one batch, and of another medicine it is not', async () => {
    await desk.ask('receive-batch', {
      medicine,
      number: 'b4',
      expiry: '2027-03',
      packs: [{ count: 1, size: '250 mL' }],
      confirmed: ['batch-again'],
    });
    const found = await desk.ask('recall', { batch });
    expect(found.deliveries).toHaveLength(2);
    expect(found.containers).toHaveLength(3);
    expect(found.balance.at(-1)).toEqual({ cause: 'Left', text: '1250 mL' });

    const other = (
      await desk.ask('set-label', {
        act: 'first',
        terms: { ...structuredClone(DRENCH), name: 'Other drench' },
      })
    ).medicine;
    await desk.ask('receive-batch', {
      medicine: other,
      number: 'B4',
      expiry: '2027-03',
      packs: [{ count: 1, size: '100 mL' }],
    });
    expect(await desk.refused('recall', { number: 'B4' })).toMatchObject({
      code: 'ambiguous',
      field: 'number',
      message: 'Batch number: there is a batch B4 of Other drench and of Calverol drench.',
    });
    expect((await desk.ask('recall', { number: 'B4', medicine: other })).containers).toHaveLength(1);
    expect((await desk.ask('find-batch', { search: 'b4' })).batches.map((one) => one.name)).toEqual([
      'Other drench',
      'Calverol drench',
    ]);
  });

  test('follows the heads of a lot to where they went, and the animals that left', async () => {
    const { lot } = await desk.ask('set-lot', { holding, name: 'Top field', class: 'ewe', heads: 12 });
    await dose(`lot:${lot}`);
    const gone = await ewe('E 8');
    await dose(gone);
    desk.at('2026-05-12T09:00:00.000Z');
    const { lot: other } = await desk.ask('set-lot', { holding, name: 'Low field', class: 'ewe', heads: 40 });
    await desk.ask('move-heads', { from: lot, to: { lot: other }, heads: 5 });
    await desk.ask('depart', { subjects: [{ subject: gone }], how: 'slaughter', to: 'Beck Abattoir' });
    await desk.ask('depart', {
      subjects: [{ subject: `lot:${lot}`, heads: 3 }],
      how: 'sold',
      to: 'Fell Farm',
    });
    const { got, says } = await desk.ask('recall', { batch });
    expect(got).toMatchObject([
      {
        shown: 'Top field',
        heads: 12,
        given: [{ amount: '72 mL' }],
        now: [
          {
            shown: 'Top field',
            heads: 4,
            says: '4 here; 3 sold on 12 May 2026, 10:00 to Fell Farm',
            holds: ['Meat held until 29 May 2026, 10:00'],
          },
          { shown: 'Low field', heads: 45, says: '45 here', holds: ['Meat held until 29 May 2026, 10:00'] },
        ],
      },
      {
        shown: 'E 8',
        now: [{ isHere: false, says: 'to slaughter on 12 May 2026, 10:00, Beck Abattoir', holds: [] }],
      },
    ]);
    expect(says).toContain('1 of these animals or lots has left.');
    expect(says).toContain('From 1 more some heads have left.');
  });

  test('what moved before the treatment is not among them', async () => {
    const { lot } = await desk.ask('set-lot', { holding, name: 'Top field', class: 'ewe', heads: 12 });
    const { lot: other } = await desk.ask('set-lot', { holding, name: 'Low field', class: 'ewe', heads: 40 });
    await desk.ask('move-heads', { from: lot, to: { lot: other }, heads: 5 });
    desk.at('2026-05-01T10:00:00.000Z');
    await dose(`lot:${lot}`);
    const { got } = await desk.ask('recall', { batch });
    expect(got.map((one) => one.now.map((place) => place.shown))).toEqual([['Top field']]);
  });

  test('finds a dose of the same number out of the bottle of the vet', async () => {
    const subject = await ewe('E 9');
    await desk.ask('treat', {
      subject,
      weight: '60 kg',
      single: { medicine, reason: 'worms', source: 'vet', batch: 'b4' },
    });
    expect((await desk.ask('recall', { batch })).got).toMatchObject([
      { shown: 'E 9', given: [{ amount: '6 mL', from: 'the vet’s bottle' }] },
    ]);
    await desk.ask('treat', {
      subject,
      weight: '60 kg',
      single: { medicine, reason: 'worms', source: 'vet', batch: 'V 1' },
      confirmed: ['dosed-today'],
    });
    expect(await desk.ask('recall', { number: 'v 1' })).toMatchObject({
      deliveries: [],
      containers: [],
      got: [{ shown: 'E 9' }],
      says: ['Nothing of it is left here.', '1 head got it or may have got it.'],
    });
  });

  test('follows what was made up from it, into the animals that got that', async () => {
    const made = await desk.ask('make-up', {
      from: [{ container: bottles[1] ?? '', amount: '100 mL' }],
      madeUpTo: '1 L',
      life: '24 h',
      label: 'Mix 1',
    });
    await dose(await ewe('E 7'), made.container);
    const { containers, balance, got } = await desk.ask('recall', { batch });
    expect(containers).toMatchObject([
      { label: 'B4-1', isMadeUp: false },
      { label: 'B4-2', isMadeUp: false, left: { text: '400 mL' } },
      { label: 'Mix 1', isMadeUp: true },
    ]);
    expect(balance).toContainEqual({ cause: 'Made up with water', text: '100 mL' });
    expect(got).toMatchObject([{ shown: 'E 7', given: [{ from: 'Mix 1' }] }]);
  });

  test('a struck-out treatment is no more among them', async () => {
    const request = randomUUID();
    await desk.ask('treat', {
      request,
      subject: await ewe('E 7'),
      weight: '60 kg',
      single: { medicine, reason: 'worms' },
    });
    expect((await desk.ask('recall', { batch })).got).toHaveLength(1);
    await desk.ask('void', {
      entry: await nameOf(request, 'administered'),
      reason: 'Written on the wrong ewe',
    });
    expect((await desk.ask('recall', { batch })).got).toEqual([]);
  });

  test.each([
    [{}, 'batch-missing', 'number'],
    [{ number: 'B5' }, 'no-such-batch', 'number'],
    [{ batch: 'nowhere' }, 'no-such-batch', 'batch'],
    [{ number: 'B4', medicine: 'nowhere' }, 'no-such-batch', 'number'],
    [{ number: 'x'.repeat(300) }, 'bad-input', 'number'],
  ])('%j is refused in one sentence', async (asked, code, field) => {
    expect(await desk.refused('recall', asked)).toMatchObject({ code, field });
  });

  test('prints', async () => {
    await dose(await ewe('E 7'));
    const { paper, checkCode } = await desk.ask('recall-paper', { batch });
    expect(paper).toMatch(/^[0-9a-f]{64}$/);
    expect(checkCode).not.toBe('');
  });

  test('what is left is set aside at once, and once only', async () => {
    await desk.ask('move-stock', { container: bottles[0] ?? '', cause: 'disposed', how: 'Medicine waste' });
    expect(await desk.ask('set-batch-aside', { batch, why: 'The supplier calls it back' })).toEqual({
      setAside: ['B4-2'],
    });
    const { containers } = await desk.ask('recall', { batch });
    expect(containers.map((one) => one.state)).toEqual(['disposed', 'quarantined']);
    expect(await desk.ask('set-batch-aside', { batch, why: 'Again' })).toEqual({ setAside: [] });
    const { movements } = await desk.ask('container', { container: bottles[1] ?? '' });
    expect(movements.at(-1)).toMatchObject({ cause: 'quarantined', note: 'The supplier calls it back' });
  });
});
