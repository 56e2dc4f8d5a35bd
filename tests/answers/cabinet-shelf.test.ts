import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DRENCH, type FarmDesk, farmDesk, one } from './farm-desk.ts';

let desk: FarmDesk;
let medicine: string;
beforeEach(async () => {
  desk = farmDesk();
  await desk.started();
  medicine = (await desk.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) })).medicine;
});
afterEach(() => desk.close());

const delivery = () => ({ medicine, number: 'B4', expiry: '2027-03', packs: [{ count: 1, size: '500 mL' }] });
async function bottle(more: object = {}): Promise<string> {
  return one((await desk.ask('receive-batch', { ...delivery(), ...more })).containers).container;
}

describe('a delivery', () => {
  test('a price in another currency than the book keeps is asked about by its field, and taken when it is so', async () => {
    await desk.ask('receive-batch', { ...delivery(), price: '42.50 GBP' });
    const other = { ...delivery(), number: 'B7', price: '49.00 EUR' };
    expect(await desk.refused('receive-batch', other)).toMatchObject({
      code: 'ask:other-currency',
      field: 'price',
      message:
        'This book keeps its prices in GBP, and 49.00 EUR is another currency: it will be in no sum. Is it right?',
    });
    await desk.ask('receive-batch', { ...other, confirmed: ['other-currency'] });
  });
});

describe('the shelf against the work ahead', () => {
  test('names the next session and the earliest lambing, by their days, and nothing that is over', async () => {
    expect(await desk.ask('shelf-ahead', {})).toEqual({ ahead: [] });
    const { holdings } = await desk.ask('farm', {});
    const holding = holdings[0]?.holding ?? '';
    for (const [name, lambingFrom] of [
      ['Hill ewes', '2027-04-01'],
      ['Early ewes', '2027-03-10'],
      ['Last year', '2026-03-10'],
    ] as const) {
      await desk.ask('set-group', { holding, name, dates: { lambingFrom } });
    }
    const { ahead } = await desk.ask('shelf-ahead', {});
    expect(ahead).toEqual([
      { key: 'lambing', on: '2027-03-10', title: 'Before lambing (from 10 Mar 2027)', what: 'Early ewes' },
    ]);
  });
});

describe('what left without going into an animal', () => {
  test('stands in one list with how, to whom and how much, the newest first', async () => {
    const [first, second] = [await bottle(), await bottle({ number: 'B5' })];
    await desk.ask('move-stock', {
      container: first,
      cause: 'disposed',
      how: 'Medicine waste',
      amount: '40 mL',
    });
    desk.at('2026-05-02T09:00:00.000Z');
    await desk.ask('move-stock', {
      container: second,
      cause: 'returned',
      where: 'Thorn Supplies',
      why: 'Too much',
    });
    const { disposals } = await desk.ask('disposals', {});
    expect(disposals.map(({ cause, amount, how, where, why }) => [cause, amount, how, where, why])).toEqual([
      ['returned', '500 mL', '', 'Thorn Supplies', 'Too much'],
      ['disposed', '40 mL', 'Medicine waste', '', ''],
    ]);
  });

  test.each([
    ['disposed', 'how-missing', 'how'],
    ['returned', 'where-missing', 'where'],
    ['quarantined', 'why-missing', 'why'],
    ['released', 'why-missing', 'why'],
  ] as const)('%s without a word of it is refused, and nothing is written', async (cause, code, field) => {
    const container = await bottle();
    const head = await desk.head();
    expect(await desk.refused('move-stock', { container, cause })).toMatchObject({ code, field });
    expect(await desk.head()).toBe(head);
  });
});
