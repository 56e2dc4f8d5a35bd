import { randomUUID } from 'node:crypto';
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

const delivery = () => ({ medicine, number: 'B4', expiry: '2027-03', packs: [{ count: 2, size: '500 mL' }] });
const received = async (more: object = {}) => desk.ask('receive-batch', { ...delivery(), ...more });
async function bottle(more: object = {}): Promise<string> {
  const { containers } = await received({ packs: [{ count: 1, size: '500 mL' }], ...more });
  return containers[0]?.container ?? '';
}
const shown = async (container: string) => (await desk.ask('container', { container })).container;

describe('receiving a batch', () => {
  test('makes sealed containers with stickers, usable through the last day of the printed month', async () => {
    const { containers, batch } = await received({
      price: '42.50 GBP',
      supplier: 'Wold Vets',
      proof: 'INV 12',
      store: 'Fridge',
    });
    expect(containers.map((one) => one.label)).toEqual(['B4-1', 'B4-2']);
    const one = await desk.ask('container', { container: containers[0]?.container ?? '' });
    expect(one).toMatchObject({
      supplier: 'Wold Vets',
      proof: 'INV 12',
      container: {
        batch: 'B4',
        batchId: batch,
        name: 'Calverol drench',
        expiry: 'Mar 2027',
        state: 'sealed',
        useBy: '31 Mar 2027',
        unusableFrom: '2027-04-01',
        left: { amount: { kind: 'volume', microlitres: 500_000 }, text: '500 mL' },
        store: 'Fridge',
      },
      movements: [{ cause: 'received', amount: '500 mL', left: '500 mL', by: 'Isla Thorn' }],
    });
    const entry = await desk.peek((store) => store.entriesOf(`batch:${batch}`)[0]?.data);
    expect(entry).toMatchObject({ price: { minorUnits: 4250, currency: 'GBP' }, number: 'B4' });
  });

  test.each([
    [{ expiry: '2026-06-31' }, 'bad-day', 'expiry'],
    [{ expiry: 'soon' }, 'bad-day', 'expiry'],
    [{ expiry: '2026-04' }, 'ask:expired-on-receipt', 'expiry'],
    [{ expiry: '2026-04-30' }, 'ask:expired-on-receipt', 'expiry'],
    [{ expiry: '2072-03' }, 'ask:expiry-far-off', 'expiry'],
    [{ packs: [{ count: 1, size: '500 g' }] }, 'units-do-not-match', 'packs.0.size'],
    [{ packs: [{ count: 1, size: '20 tablets' }] }, 'units-do-not-match', 'packs.0.size'],
    [{ packs: [{ count: 1, size: '-500 mL' }] }, 'bad-number', 'packs.0.size'],
    [{ packs: [{ count: 1, size: '0 mL' }] }, 'bad-amount', 'packs.0.size'],
    [{ packs: [{ count: 1, size: '500' }] }, 'bad-amount', 'packs.0.size'],
    [
      { packs: Array.from({ length: 3 }, () => ({ count: 200, size: '1 mL' })) },
      'too-many-containers',
      'packs',
    ],
    [{ price: '42.505 GBP' }, 'bad-price', 'price'],
    [{ price: '42 XQQ' }, 'bad-price', 'price'],
    [{ medicine: 'none' }, 'no-such-medicine', 'medicine'],
    [{ prescription: 'none' }, 'no-such-prescription', 'prescription'],
    [{ happened: '2026-05-02' }, 'in-the-future', 'happened'],
    [{ happened: '2026-04-31' }, 'bad-day', 'happened'],
  ])('%j is not taken as it stands', async (more, code, field) => {
    expect(await desk.refused('receive-batch', { ...delivery(), ...more })).toMatchObject({ code, field });
    expect(await desk.head()).toBe(4);
  });

  test.each([
    [{ number: '' }],
    [{ packs: [] }],
    [{ packs: [{ count: 0, size: '5 mL' }] }],
    [{ packs: [{ count: 1.5, size: '5 mL' }] }],
    [{ expiry: null }],
    [{ other: 1 }],
  ])('%j is no delivery at all', async (more) => {
    const by = (await desk.ask('farm', {})).people[0]?.person;
    const answer = await desk.raw('receive-batch', { request: randomUUID(), by, ...delivery(), ...more });
    expect(answer).toMatchObject({ ok: false, error: { code: 'bad-input' } });
    expect(await desk.head()).toBe(4);
  });

  test('expired already is taken when somebody says so, and shows as expired', async () => {
    const container = await bottle({ expiry: '2026-04', confirmed: ['expired-on-receipt'] });
    expect((await shown(container)).state).toBe('expired');
    expect((await desk.ask('medicines', {})).medicines[0]).toMatchObject({ usable: '0 mL', containers: 1 });
  });

  test('the last day is still good', async () => {
    const container = await bottle({ expiry: '2026-05-01' });
    expect((await shown(container)).state).toBe('sealed');
    desk.at('2026-05-01T22:59:00.000Z');
    expect((await shown(container)).state).toBe('sealed');
    desk.at('2026-05-01T23:00:00.000Z');
    expect((await shown(container)).state).toBe('expired');
  });

  test('the same batch again is asked about, another expiry on it too, and no sticker is given out twice', async () => {
    await received();
    const again = { ...delivery(), number: 'b4', expiry: '2027-04' };
    expect(await desk.refused('receive-batch', again)).toMatchObject({
      code: 'ask:batch-again',
      field: 'number',
    });
    const once = { ...again, confirmed: ['batch-again'] };
    expect(await desk.refused('receive-batch', once)).toMatchObject({
      code: 'ask:batch-other-expiry',
      field: 'expiry',
    });
    const { containers } = await received({ confirmed: ['batch-again'] });
    expect(containers.map((one) => one.label)).toEqual(['B4-3', 'B4-4']);
  });

  test('sent twice is one delivery, and its id does not carry another', async () => {
    const request = randomUUID();
    const first = await received({ request });
    expect(await received({ request })).toEqual(first);
    expect((await desk.ask('cabinet', {})).containers).toHaveLength(2);
    expect((await desk.refused('receive-batch', { ...delivery(), request, number: 'B5' })).code).toBe(
      'request-id-reused',
    );
  });

  test('a new insert in the box becomes the label of this batch and of none before', async () => {
    const before = await received();
    const terms = {
      ...structuredClone(DRENCH),
      periods: [{ produce: 'meat' as const, says: 'value' as const, value: '42 d' }],
    };
    const after = await received({ number: 'B5', insert: { terms } });
    expect(after.revision).not.toBe(before.revision);
    const { revisions, batches } = await desk.ask('medicine', { medicine });
    expect(revisions.map(({ n, act }) => [n, act])).toEqual([
      [2, 'new-insert'],
      [1, 'first'],
    ]);
    expect(batches.map(({ number, revision }) => [number, revision])).toEqual([
      ['B4', before.revision],
      ['B5', after.revision],
    ]);
  });

  test('a new insert that cannot be read takes the whole delivery back', async () => {
    const terms = { ...structuredClone(DRENCH), inUse: 'a while' };
    expect((await desk.refused('receive-batch', { ...delivery(), insert: { terms } })).code).toBe(
      'bad-period',
    );
    expect(await desk.head()).toBe(4);
  });
});

describe('opening', () => {
  test('the in-use life begins, by the calendar of the farm', async () => {
    const container = await bottle();
    const reply = await desk.ask('open-container', { container });
    expect(reply).toEqual({ unusableFrom: '2026-05-29', useBy: '28 May 2026' });
    expect(await shown(container)).toMatchObject({
      state: 'open',
      opened: '1 May 2026, 10:00',
      expiry: 'Mar 2027',
    });
    desk.at('2026-05-28T23:00:00.000Z');
    expect((await shown(container)).state).toBe('past-in-use');
  });

  test('an expiry before the end of the in-use life stands', async () => {
    const container = await bottle({ expiry: '2026-05-10' });
    expect(await desk.ask('open-container', { container })).toEqual({
      unusableFrom: '2026-05-11',
      useBy: '10 May 2026',
    });
  });

  test('twice would start its life again', async () => {
    const container = await bottle();
    await desk.ask('open-container', { container });
    desk.at('2026-05-20T09:00:00.000Z');
    const fault = await desk.refused('open-container', { container });
    expect(fault).toMatchObject({ code: 'already-open', field: 'container' });
    expect(fault.message).toContain('1 May 2026, 10:00');
  });

  test('an expired or quarantined one that was opened is written down as it happened', async () => {
    const container = await bottle({ expiry: '2026-05-02' });
    await desk.ask('move-stock', { container, cause: 'quarantined', why: 'found in the sun' });
    desk.at('2026-05-04T09:00:00.000Z');
    expect((await desk.ask('open-container', { container })).unusableFrom).toBe('2026-05-03');
    expect((await shown(container)).state).toBe('quarantined');
    expect(
      (await desk.ask('move-stock', { container, cause: 'released', why: 'The vet says so' })).state,
    ).toBe('expired');
  });

  test('before it came in cannot be; on the day it came in can', async () => {
    const container = await bottle();
    expect((await desk.refused('open-container', { container, happened: '2026-04-30' })).code).toBe(
      'before-received',
    );
    expect((await desk.ask('open-container', { container, happened: '2026-05-01' })).unusableFrom).toBe(
      '2026-05-29',
    );
    expect(await shown(container)).toMatchObject({ state: 'open', opened: '1 May 2026' });
  });

  test('one that is not there is refused', async () => {
    expect(await desk.refused('open-container', { container: 'none' })).toMatchObject({
      code: 'no-such-container',
      field: 'container',
    });
  });
});

describe('moving stock', () => {
  test('loss, count and disposal leave what they should, and the history adds up', async () => {
    const container = await bottle();
    expect(
      await desk.ask('move-stock', { container, cause: 'lost', amount: '20 mL', why: 'spilt' }),
    ).toMatchObject({
      left: { text: '480 mL' },
      state: 'sealed',
    });
    expect((await desk.ask('move-stock', { container, cause: 'counted', amount: '0.45 L' })).left.text).toBe(
      '450 mL',
    );
    expect(await desk.ask('move-stock', { container, cause: 'disposed', how: 'vet took it' })).toMatchObject({
      left: { text: '0 mL' },
      state: 'disposed',
    });
    const { movements } = await desk.ask('container', { container });
    expect(movements.map(({ cause, amount, left }) => [cause, amount, left])).toEqual([
      ['received', '500 mL', '500 mL'],
      ['lost', '-20 mL', '480 mL'],
      ['counted', '-30 mL', '450 mL'],
      ['disposed', '-450 mL', '0 mL'],
    ]);
    expect((await desk.refused('move-stock', { container, cause: 'lost', amount: '1 mL' })).code).toBe(
      'container-gone',
    );
    expect((await desk.ask('cabinet', {})).containers).toEqual([]);
    expect((await desk.ask('cabinet', { show: 'all' })).containers).toMatchObject([{ state: 'disposed' }]);
  });

  test('more than is left is asked about, and a yes never leaves less than nothing', async () => {
    const container = await bottle();
    const ask = { container, cause: 'disposed' as const, amount: '600 mL', how: 'Medicine waste' };
    expect(await desk.refused('move-stock', ask)).toMatchObject({
      code: 'ask:more-than-left',
      field: 'amount',
    });
    expect(await desk.ask('move-stock', { ...ask, confirmed: ['more-than-left'] })).toMatchObject({
      left: { amount: { microlitres: 0 }, text: '0 mL' },
      state: 'disposed',
    });
    const { movements } = await desk.ask('container', { container });
    expect(movements.map(({ cause, left }) => [cause, left])).toEqual([
      ['received', '500 mL'],
      ['counted', '600 mL'],
      ['disposed', '0 mL'],
    ]);
  });

  test.each([
    [{ cause: 'lost' as const }, 'amount-missing'],
    [{ cause: 'counted' as const }, 'amount-missing'],
    [{ cause: 'lost' as const, amount: '0 mL' }, 'bad-amount'],
    [{ cause: 'lost' as const, amount: '-5 mL' }, 'bad-number'],
    [{ cause: 'counted' as const, amount: '-5 mL' }, 'bad-number'],
    [{ cause: 'lost' as const, amount: '5 g' }, 'units-do-not-match'],
    [{ cause: 'counted' as const, amount: '3 boluses' }, 'units-do-not-match'],
    [{ cause: 'lost' as const, amount: '5,5 mL' }, 'bad-number'],
    [{ cause: 'counted' as const, amount: '501 mL' }, 'ask:more-than-received'],
    [{ cause: 'quarantined' as const, amount: '5 mL', why: 'A crack' }, 'amount-unwanted'],
    [{ cause: 'lost' as const, amount: '501 mL' }, 'ask:more-than-left'],
  ])('%j is refused by its amount', async (move, code) => {
    const container = await bottle();
    expect(await desk.refused('move-stock', { container, ...move })).toMatchObject({ code, field: 'amount' });
    expect(await desk.head()).toBe(5);
  });

  test('a count from before a later loss leaves the loss standing', async () => {
    const container = await bottle();
    desk.at('2026-05-03T09:00:00.000Z');
    await desk.ask('move-stock', { container, cause: 'lost', amount: '50 mL' });
    const reply = await desk.ask('move-stock', {
      container,
      cause: 'counted',
      amount: '400 mL',
      happened: '2026-05-02',
    });
    expect(reply.left.text).toBe('350 mL');
    expect((await shown(container)).left.text).toBe('350 mL');
    // What is written about the time before a count does not change what was counted.
    await desk.ask('move-stock', { container, cause: 'counted', amount: '300 mL' });
    const earlier = await desk.ask('move-stock', {
      container,
      cause: 'lost',
      amount: '30 mL',
      happened: '2026-05-02T12:00',
    });
    expect(earlier.left.text).toBe('300 mL');
    expect((await shown(container)).left.text).toBe('300 mL');
  });

  test('quarantine takes a bottle out of what may be used, and only its end brings it back', async () => {
    const container = await bottle();
    expect((await desk.refused('move-stock', { container, cause: 'released', why: 'No reason' })).code).toBe(
      'not-quarantined',
    );
    expect((await desk.ask('move-stock', { container, cause: 'quarantined', why: 'A crack' })).state).toBe(
      'quarantined',
    );
    expect((await desk.refused('move-stock', { container, cause: 'quarantined', why: 'A crack' })).code).toBe(
      'already-quarantined',
    );
    expect((await desk.ask('medicines', {})).medicines[0]).toMatchObject({ usable: '0 mL', containers: 1 });
    expect(
      (await desk.ask('move-stock', { container, cause: 'released', why: 'The vet says so' })).state,
    ).toBe('sealed');
    const { movements } = await desk.ask('container', { container });
    expect(movements.map(({ cause, amount }) => [cause, amount])).toEqual([
      ['received', '500 mL'],
      ['quarantined', ''],
      ['released', ''],
    ]);
  });

  test('sent twice is lost once', async () => {
    const container = await bottle();
    const ask = { container, cause: 'lost' as const, amount: '20 mL', request: randomUUID() };
    const first = await desk.ask('move-stock', ask);
    expect(await desk.ask('move-stock', ask)).toEqual(first);
    expect((await shown(container)).left.text).toBe('480 mL');
  });
});

describe('the cabinet', () => {
  test('shows the earliest use-by first, the opened one before the sealed', async () => {
    await bottle({ number: 'LATE', expiry: '2028-01' });
    const soon = await bottle({ number: 'SOON', expiry: '2026-05-28' });
    const used = await bottle({ number: 'USED', expiry: '2028-01' });
    await desk.ask('open-container', { container: used });
    const labels = (await desk.ask('cabinet', {})).containers.map((one) => one.label);
    expect(labels).toEqual(['USED-1', 'SOON-1', 'LATE-1']);
    expect(soon).not.toBe(used);
  });

  test('is searched by name, batch and sticker, accents and case aside', async () => {
    await bottle({ number: 'Ä7' });
    await bottle({ number: 'B9' });
    const found = async (search: string) =>
      (await desk.ask('cabinet', { search })).containers.map((one) => one.label);
    expect(await found('a7')).toEqual(['Ä7-1']);
    expect(await found('CALVEROL')).toHaveLength(2);
    expect(await found('b9-1')).toEqual(['B9-1']);
    expect(await found('%')).toEqual([]);
  });

  test('what was given is in the life of its bottle: who got it, and what it left', async () => {
    const { holding } = (await desk.ask('farm', {})).holdings[0] ?? { holding: '' };
    const { animal } = await desk.ask('set-animal', { holding, class: 'ewe', management: 'E 7' });
    const container = await bottle({ packs: [{ count: 1, size: '5 mL' }] });
    const subject = `animal:${animal}`;
    const single = { medicine, doseLine: 'd1', reason: 'worms' };
    await desk.ask('treat', { subject, weight: '60 kg', single, given: '6 mL' });
    const { movements, container: after } = await desk.ask('container', { container });
    expect(movements).toMatchObject([
      { cause: 'received', left: '5 mL' },
      { cause: 'opened', amount: '' },
      { cause: 'drawn', amount: '-6 mL', to: 'E 7', left: '1 mL more went out than came in: count it' },
    ]);
    expect(after).toMatchObject({ state: 'empty', left: { amount: { microlitres: 0 } } });
    // Below none the bottle may well be there still: it stays in sight until it is counted.
    expect((await desk.ask('cabinet', {})).containers).toHaveLength(1);
    expect((await desk.ask('move-stock', { container, cause: 'counted', amount: '2 mL' })).state).toBe(
      'open',
    );
  });
});
