import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readPdf } from '../paper/reading.ts';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

/** 500 mL came in on 1 May and 1 L on 3 May; every figure below is added up by hand. */
let desk: FarmDesk;
let holding: string;
let medicine: string;
const day = (n: number) => `2026-05-0${n}`;

beforeAll(async () => {
  desk = farmDesk();
  ({ holding } = await desk.started());
  medicine = (await desk.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) })).medicine;
  const receive = async (number: string, size: string) => {
    const packs = [{ count: 1, size }];
    const got = await desk.ask('receive-batch', { medicine, number, expiry: '2027-03', packs });
    return got.containers[0]?.container ?? '';
  };
  const first = await receive('B4', '500 mL');
  const { animal } = await desk.ask('set-animal', { holding, tag: 'UK 0123456 00012', class: 'ewe' });
  const subject = `animal:${animal}`;
  await desk.ask('treat', {
    subject,
    single: { medicine, reason: 'Worms' },
    given: '6 mL',
    weight: '60 kg',
  });
  desk.at(`${day(2)}T09:00:00.000Z`);
  await desk.ask('move-stock', { container: first, cause: 'lost', amount: '4 mL', why: 'spilt' });
  desk.at(`${day(3)}T09:00:00.000Z`);
  const second = await receive('C7', '1 L');
  await desk.ask('write-stocktake', {
    counts: [
      { container: first, amount: '470 mL', difference: 'not-known' },
      { container: second, amount: '1 L' },
    ],
  });
  desk.at(`${day(4)}T09:00:00.000Z`);
  await desk.ask('move-stock', {
    container: first,
    cause: 'disposed',
    amount: '470 mL',
    how: 'medicine waste',
  });
});
afterAll(() => desk.close());

const ask = (from: number, to: number, more: { medicine?: string; batch?: string } = {}) =>
  desk.ask('balance', { holding, from: day(from), to: day(to), ...more });

describe('what came in and where it went', () => {
  test('is told of each batch and of all, and adds up', async () => {
    const { medicines } = await ask(1, 4);
    expect(medicines).toEqual([
      {
        ...{ medicine, name: 'Calverol drench', kind: 'volume', rows: [], leftOut: 0 },
        ...{ opening: '0 mL', received: '1500 mL', used: '6 mL', lost: '4 mL' },
        ...{ disposed: '470 mL', corrected: '−20 mL', closing: '1000 mL' },
        batches: [
          {
            ...{ batch: 'B4', opening: '0 mL', received: '500 mL', used: '6 mL', lost: '4 mL' },
            ...{ disposed: '470 mL', corrected: '−20 mL', closing: '0 mL' },
          },
          {
            ...{ batch: 'C7', opening: '0 mL', received: '1000 mL', used: '', lost: '' },
            ...{ disposed: '', corrected: '', closing: '1000 mL' },
          },
        ],
      },
    ]);
  });

  test('runs from movement to movement, and a count says what was found', async () => {
    const { medicines } = await ask(1, 4, { medicine });
    expect(medicines[0]?.rows.map((row) => [row.what, row.batch, row.in, row.out, row.balance])).toEqual([
      ['Received', 'B4', '500 mL', '', '500 mL'],
      ['Given', 'B4', '', '6 mL', '494 mL'],
      ['Lost: spilt', 'B4', '', '4 mL', '490 mL'],
      ['Received', 'C7', '1000 mL', '', '1490 mL'],
      [expect.stringMatching(/^Counted, 470 mL found/), 'B4', '', '20 mL', '1470 mL'],
      [expect.stringMatching(/^Counted, 1000 mL found as the book had it/), 'C7', '', '', '1470 mL'],
      [expect.stringMatching(/^Disposed of: .*medicine waste/), 'B4', '', '470 mL', '1000 mL'],
    ]);
    expect(medicines[0]?.rows[1]).toMatchObject({ treated: 'UK 0 123456 00012' });
  });

  test('begins a later time with what was there, and of one batch tells only that', async () => {
    const { medicines } = await ask(2, 3, { medicine, batch: 'b4' });
    expect(medicines).toMatchObject([
      { opening: '494 mL', received: '', used: '', lost: '4 mL', corrected: '−20 mL', closing: '470 mL' },
    ]);
    expect(medicines[0]?.batches).toHaveLength(1);
    expect((await ask(1, 4, { batch: 'other' })).medicines).toEqual([]);
  });

  test('is printed as the screen says it', async () => {
    const days = { from: day(1), to: day(4) };
    const { paper } = await desk.ask('book-paper', { holding, ...days, form: 'medicines', medicine });
    const { text } = await readPdf((await desk.paper(paper))?.bytes ?? new Uint8Array());
    const { medicines } = await ask(1, 4, { medicine });
    for (const row of medicines[0]?.rows ?? []) {
      expect(text).toContain(row.what.slice(0, 20));
      expect(text).toContain(row.balance);
    }
    expect(text).toContain('At the beginning 0 mL; in 1500 mL, out 500 mL; at the end 1000 mL.');
  });

  test('of a medicine that is not in the book, or of days turned round, is refused beside its field', async () => {
    const days = { from: day(1), to: day(4) };
    const wrong = await desk.refused('balance', { holding, ...days, medicine: 'none.1' });
    expect(wrong.code).toBe('no-such-medicine');
    const turned = await desk.refused('balance', { holding, from: day(4), to: day(1) });
    expect(turned).toMatchObject({ code: 'dates-crossed', field: 'to' });
  });
});
