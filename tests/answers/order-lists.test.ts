import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FarmDesk, farmDesk, one } from './farm-desk.ts';
import { type OrderDesk, orderDesk } from './order-desk.ts';

let farm: FarmDesk;

beforeAll(async () => {
  farm = farmDesk('2026-05-01T09:00:00.000Z');
  await farm.started();
});
afterAll(async () => {
  await farm.close();
});

const medicine: OrderDesk['medicine'] = (...asked) => orderDesk(farm).medicine(...asked);
const receive: OrderDesk['receive'] = (...asked) => orderDesk(farm).receive(...asked);
const foresee: OrderDesk['foresee'] = (...asked) => orderDesk(farm).foresee(...asked);

describe('an order list', () => {
  let id: string;
  let order: string;
  beforeAll(async () => {
    id = await medicine('Ordered drench');
    await farm.ask('set-supply', {
      medicine: id,
      supplier: '=Odd Supplies',
      packs: [{ size: '500 mL', price: '80.00 GBP' }],
      leadDays: '4',
    });
    await foresee(id, 'Ewes', '2026-06-01', 300, '4 mL');
  });
  const lineNow = async () => one(one((await farm.ask('orders', { show: 'all', order })).orders).lines);

  it('is for what is missing, and from then on that is on its way', async () => {
    const before = await farm.ask('outlook', { medicine: id });
    // 1200 mL and 3 % spill: 1236.
    expect(before.buy?.packs).toEqual([{ size: '500 mL', count: 3, price: '80.00 GBP' }]);
    ({ order } = await farm.ask('write-order', {
      supplier: '=Odd Supplies',
      lines: [{ medicine: id, size: '500 mL', count: 3 }],
    }));
    const { headline, buy } = await farm.ask('outlook', { medicine: id });
    expect(headline.state).toBe('ordered');
    expect(headline.small).toContain('1500 mL from =Odd Supplies, order 1 of 1 May 2026');
    expect(buy).toBeUndefined();
  });

  it('shows what came, what is open and what does not come', async () => {
    const { line, says } = await lineNow();
    expect(says).toBe('Waited for.');
    const other = await medicine('Not ordered');
    expect(
      await farm.refused('receive-batch', {
        medicine: other,
        number: 'X',
        expiry: '2027-03',
        packs: [{ count: 1, size: '500 mL' }],
        order: { order, line },
      }),
    ).toMatchObject({ code: 'order-of-other' });
    await receive(id, 'D1', '2027-03', '2 × 500 mL', { order: { order, line } });
    expect(await lineNow()).toMatchObject({
      state: 'open',
      says: '1000 mL came, 500 mL is waited for.',
      packsOpen: 1,
      deliveries: [{ number: 'D1', on: '1 May 2026, 10:00', text: '2 × 500 mL' }],
    });
    await farm.ask('close-order-line', { order, line, why: 'Out of stock there' });
    expect(await lineNow()).toMatchObject({
      state: 'short',
      says: '1000 mL came; 500 mL does not come. Closed on 1 May 2026, 10:00: Out of stock there.',
    });
    expect(await farm.refused('close-order-line', { order, line })).toMatchObject({ code: 'already-closed' });
    // It came all the same.
    await receive(id, 'D2', '2027-04', '1 × 500 mL', { order: { order, line } });
    expect(await lineNow()).toMatchObject({ state: 'received', says: 'All of it came.', missing: '' });
    expect((await farm.ask('orders', {})).orders).toEqual([]);
  });

  it('is comma-separated text that no spreadsheet runs, and a paper', async () => {
    const { name, text } = await farm.ask('order-file', { order });
    expect(name).toBe('order-1.csv');
    expect(text.split('\r\n')[1]).toBe(
      "1,2026-05-01,'=Odd Supplies,Ordered drench,3,500 mL,80.00 GBP,1500 mL,,received".replace(',,', ',"",'),
    );
    const { paper } = await farm.ask('order-paper', { order });
    expect(paper).toMatch(/^[0-9a-f]{64}$/);
  });

  it('takes nothing that a vet decides on, nor a price in another currency', async () => {
    const vets = await medicine('Of the vet', { prescription: 'vet-prescription' });
    const unknown = await medicine('Of nobody', { prescription: 'not-stated' });
    const write = (medicineOf: string, more: object = {}) =>
      farm.refused('write-order', {
        supplier: 'Glenside Supplies',
        lines: [{ medicine: medicineOf, size: '500 mL', count: 1, ...more }],
      });
    expect(await write(vets)).toMatchObject({ code: 'vet-decides', field: 'lines.0.medicine' });
    expect((await write(unknown)).message).toBe(
      'Of nobody: its label on record does not say who may supply it.',
    );
    expect(await write(id, { price: '80 EUR' })).toMatchObject({
      code: 'other-currency',
      field: 'lines.0.price',
    });
    expect(await write(id, { size: '0 mL' })).toMatchObject({ code: 'bad-amount', field: 'lines.0.size' });
  });
});

it('stands the same when every entry is folded anew', async () => {
  const before = await farm.peek((store) => store.read.all(RECORDS));
  // One of each: what is bought how, what is foreseen, and the list.
  expect(before).toHaveLength(3);
  await farm.refold((store) => {
    expect(store.read.all(RECORDS)).toEqual(before);
  });
});

const RECORDS = `SELECT * FROM record WHERE what IN ('supply', 'work', 'order') ORDER BY what, id`;
