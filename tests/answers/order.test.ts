import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Reply } from '../../src-shared/calls/all.ts';
import { type FarmDesk, farmDesk, one } from './farm-desk.ts';
import { type OrderDesk, orderDesk } from './order-desk.ts';

/** One farm for the whole file; each medicine stands for a case of its own. */
let farm: FarmDesk;
let holding: string;
const TODAY = '2026-05-01';

beforeAll(async () => {
  farm = farmDesk(`${TODAY}T09:00:00.000Z`);
  ({ holding } = await farm.started());
});
afterAll(async () => {
  await farm.close();
});

const medicine: OrderDesk['medicine'] = (...asked) => orderDesk(farm).medicine(...asked);
const receive: OrderDesk['receive'] = (...asked) => orderDesk(farm).receive(...asked);
const foresee: OrderDesk['foresee'] = (...asked) => orderDesk(farm).foresee(...asked);

describe('the outlook through the call', () => {
  let reply: Reply<'outlook'>;
  beforeAll(async () => {
    const id = await medicine('Three packs');
    await receive(id, 'A', '2026-05-31', '2 × 100 mL', {
      price: '100.00 GBP',
      supplier: 'Glenside Supplies',
    });
    await receive(id, 'C', '2026-12-31', '1 × 100 mL', { price: '50.00 GBP' });
    await foresee(id, 'First dose', '2026-05-01', 30, '2 mL');
    await foresee(id, 'Booster', '2026-06-10', 60, '2 mL');
    await farm.ask('set-supply', {
      medicine: id,
      supplier: 'Glenside Supplies',
      packs: [
        { size: '100 mL', price: '50.00 GBP' },
        { size: '50 mL', price: '30.00 GBP' },
      ],
      leadDays: '5',
    });
    reply = await farm.ask('outlook', { medicine: id, days: 45 });
  });

  it('is this table of days: three packs, two expiries, two sessions, 28 days once opened', () => {
    // Nothing is used up yet, so 3 % is added for spill: 30 × 2 mL = 60, with spill 61.8; 60 × 2 = 120, 123.6.
    const happens: Record<
      string,
      [start: string, planned: string, short: string, end: string, says: string]
    > = {
      // expire first, on 31 May. 300 − 61.8 = 238.2.
      '2026-05-01': ['300 mL', '61.8 mL', '', '238.2 mL', 'opens A-1'],
      // Opened on 1 May with 28 days: 28 May is its last. 100 − 61.8 = 38.2 are lost.
      '2026-05-28': ['238.2 mL', '', '', '200 mL', 'A-1 38.2 mL past-in-use'],
      '2026-05-31': ['200 mL', '', '', '100 mL', 'A-2 100 mL expired'],
      // 123.6 needed, C-1 holds 100.
      '2026-06-10': ['100 mL', '123.6 mL', '23.6 mL', '0 mL', 'opens C-1'],
    };
    const eventful = reply.days.filter(
      (day) => day.start !== day.end || day.plannedText !== '' || day.gone.length > 0,
    );
    expect(
      Object.fromEntries(
        eventful.map((day) => [
          day.day,
          [
            day.startText,
            day.plannedText,
            day.shortText,
            day.endText,
            [
              ...day.opened.map((label) => `opens ${label}`),
              ...day.gone.map(({ label, text, why }) => `${label} ${text} ${why}`),
            ].join(', '),
          ],
        ]),
      ),
    ).toEqual(happens);
    expect(reply.days).toHaveLength(45);
    expect([one(reply.days).day, one(reply.days, 44).day, reply.until]).toEqual([
      '2026-05-01',
      '2026-06-14',
      '2026-06-14',
    ]);
  });

  it('says by when to order, which packs, and what is lost', () => {
    // Here on 9 June, five days after 4 June. 23.6 mL: one of 50 mL at 30.00 is cheaper than one of 100 mL.
    expect(reply.headline).toEqual({
      says: 'Order by 4 Jun 2026: Three packs runs out on 10 Jun 2026: “Booster” then lacks 23.6 mL.',
      small: 'It may end sooner: not all that is used is known.',
      state: 'by',
      orderBy: '2026-06-04',
      runOut: '2026-06-10',
    });
    expect(reply.buy?.packs).toEqual([{ size: '50 mL', count: 1, price: '30.00 GBP' }]);
    expect(reply.buy?.says).toBe('1 × 50 mL = 30.00 GBP. 26.4 mL of it is left over or dies opened.');
    // 38.2 of 100 mL at 50.00 are 19.10; a whole pack is 50.00.
    expect(reply.unused.map(({ says }) => says)).toEqual([
      '38.2 mL of Three packs in A-1 is left when it has been open too long, on 28 May 2026: 19.10 GBP lost.',
      '100 mL of Three packs in A-2 is left when it expires, on 31 May 2026: 50.00 GBP lost.',
    ]);
    expect(reply.unusedCost).toEqual(['69.10 GBP']);
    expect(reply.unusedSays).toBe(
      '138.2 mL of Three packs will not be used up, in 2 containers, the first of which ends on 28 May 2026: 69.10 GBP lost.',
    );
    expect(reply.working.map(({ text }) => text)).toContain('“Booster”, 10 Jun 2026: 60 × 2 mL = 120 mL');
  });
});

it('buys 250 + 500 + 500 for 510, and not 2 × 500, where an opened pack lasts ten hours', async () => {
  const id = await medicine('Ten hours', { inUse: '10 h' });
  await foresee(id, 'Ewes', '2026-05-01', 300, '2 mL');
  await foresee(id, 'Hoggs', '2026-05-08', 130, '2 mL');
  await farm.ask('set-supply', {
    medicine: id,
    packs: [
      { size: '250 mL', price: '110.00 GBP' },
      { size: '500 mL', price: '200.00 GBP' },
    ],
  });
  const { buy } = await farm.ask('outlook', { medicine: id });
  expect(buy?.packs.map(({ count, size }) => `${count} × ${size}`)).toEqual(['1 × 250 mL', '2 × 500 mL']);
  expect(buy?.cost).toBe('510.00 GBP');
});

describe('how a medicine is bought', () => {
  let id: string;
  beforeAll(async () => {
    id = await medicine('Bought drench');
    await receive(id, 'S1', '2027-03', '4 × 250 mL', { price: '442.00 GBP', supplier: 'Fell Vets Supply' });
  });

  it('offers what the deliveries show: the price of one of four', async () => {
    const { seen, written, currency } = await farm.ask('supply', { medicine: id });
    expect(seen).toEqual({ supplier: 'Fell Vets Supply', packs: [{ size: '250 mL', price: '110.50 GBP' }] });
    expect(written).toBeUndefined();
    expect(currency).toBe('GBP');
  });

  it('refuses another currency, a lead time below nought, an empty pack and a size that stands twice', async () => {
    const set = (more: object) => farm.refused('set-supply', { medicine: id, packs: [], ...more });
    expect(await set({ packs: [{ size: '250 mL', price: '120.00 EUR' }] })).toEqual({
      code: 'other-currency',
      field: 'packs.0.price',
      message: 'Price: this book keeps its prices in GBP, and 120.00 EUR is another currency.',
      next: 'Write what it costs in GBP.',
    });
    expect(await set({ leadDays: '-1' })).toMatchObject({
      code: 'bad-lead',
      field: 'leadDays',
      message: 'Days an order takes: write whole days from 0 to 365, not “-1”.',
    });
    expect(await set({ leadDays: '366' })).toMatchObject({ code: 'bad-lead' });
    expect(await set({ packs: [{ size: '0 mL' }] })).toMatchObject({
      code: 'bad-amount',
      field: 'packs.0.size',
      message: 'Pack size: a pack cannot be empty.',
    });
    expect(await set({ packs: [{ size: '1 L' }, { size: '1000 mL' }] })).toMatchObject({
      code: 'size-twice',
      field: 'packs.1.size',
    });
    expect(await set({ packs: [{ size: '5 tablets' }] })).toMatchObject({ code: 'units-do-not-match' });
    expect(await set({ least: 'a bottle' })).toMatchObject({ field: 'least' });
  });

  it('keeps what is wished: the day it goes under it decides, and it is bought too', async () => {
    await farm.ask('set-supply', { medicine: id, packs: [], leadDays: '3 days', least: '900 mL' });
    await foresee(id, 'Ewes', '2026-07-01', 100, '4 mL');
    const { headline, buy } = await farm.ask('outlook', { medicine: id });
    // 1000 − 412 = 588 left on 1 July; 900 are wished. Two of 250 mL make up for 312.
    expect(headline.says).toBe(
      'Order by 27 Jun 2026: Bought drench goes under the 900 mL that you wish to keep on 1 Jul 2026.',
    );
    expect(buy?.packs).toEqual([{ size: '250 mL', count: 2, price: '110.50 GBP' }]);
    expect(buy?.says).toContain('Packs and prices are those of the deliveries so far.');
  });
});

describe('work to come', () => {
  it('is counted once: who waits in a session is not counted by the plan for the group, and given is given', async () => {
    const id = await medicine('Counted once');
    await receive(id, 'O1', '2027-03', '1 × 1 L');
    const { lot } = await farm.ask('set-lot', {
      holding,
      name: 'Gimmers',
      class: 'ewe-lamb',
      heads: 40,
    });
    await farm.ask('weigh', { subject: `lot:${lot}`, weight: '40 kg', how: 'crate' });
    const { lot: rest } = await farm.ask('set-lot', { holding, name: 'Old ewes', class: 'ewe', heads: 10 });
    const { group } = await farm.ask('set-group', {
      holding,
      name: 'All',
      add: [`lot:${lot}`, `lot:${rest}`],
    });
    const { work } = await farm.ask('foresee-work', {
      medicine: id,
      name: 'Summer drench',
      on: '2026-06-01',
      group,
    });
    const works = async () => (await farm.ask('outlook', { medicine: id })).works;
    // 40 kg get 4 mL; the old ewes have no weight, and are not guessed at.
    expect(await works()).toEqual([
      {
        key: `work ${work}`,
        source: 'foreseen',
        what: 'Summer drench',
        on: '2026-06-01',
        onText: '1 Jun 2026',
        heads: 50,
        doses: '160 mL',
        need: '164.8 mL',
        unknown: expect.stringContaining('10 head have no dose by the label yet.'),
        work,
      },
    ]);
    const { session } = await farm.ask('open-session', {
      holding,
      name: 'Today’s drench',
      mode: 'mass',
      subjects: [`lot:${lot}`],
      lines: [{ medicine: id, reason: 'Worms' }],
    });
    expect((await works()).map(({ source, heads, on }) => [source, heads, on])).toEqual([
      ['session', 40, TODAY],
      ['foreseen', 10, '2026-06-01'],
    ]);
    await farm.ask('close-session', { session, headsThrough: 0, notThrough: [`lot:${lot}`] });
    await farm.ask('end-foreseen-work', { work, state: 'dropped' });
    expect(await works()).toEqual([]);
    expect(await farm.refused('end-foreseen-work', { work, state: 'done' })).toMatchObject({
      code: 'already-ended',
    });
  });

  it('refuses what cannot be foreseen, naming the field', async () => {
    const id = await medicine('Refused drench');
    const ask = { medicine: id, name: 'Ewes', on: '2026-06-01', heads: '10', dose: '2 mL' };
    const refused = async (more: object) => {
      const { code, field } = await farm.refused('foresee-work', { ...ask, ...more });
      return [code, field];
    };
    expect(await refused({ on: '2026-06-31' })).toEqual(['bad-day', 'on']);
    expect(await refused({ on: '2026-04-30' })).toEqual(['in-the-past', 'on']);
    expect(await refused({ on: '2028-06-01' })).toEqual(['too-far-ahead', 'on']);
    expect(await refused({ heads: '-3' })).toEqual(['bad-heads', 'heads']);
    expect(await refused({ heads: '' })).toEqual(['heads-missing', 'heads']);
    expect(await refused({ dose: '2' })).toEqual(['bad-amount', 'dose']);
    expect(await refused({ dose: '' })).toEqual(['dose-missing', 'dose']);
    expect(await refused({ name: ' ' })).toEqual(['name-missing', 'name']);
    expect(await refused({ group: 'nobody' })).toEqual(['no-such-group', 'group']);
  });

  it('has the doses of a vaccine as they fall due, by the label’s own dose a head', async () => {
    const id = await medicine('Vaccine of invention', {
      form: 'injection',
      purpose: 'vaccine',
      inUse: '10 h',
      doseLines: [
        {
          id: 'v1',
          route: 'subcutaneous',
          rate: { style: 'rate', text: '2 mL per head' },
          repeats: { doses: 2, due: '28 d' },
          protects: '365 d',
        },
      ],
    });
    await receive(id, 'V1', '2027-03', '1 × 100 mL');
    const { lot } = await farm.ask('set-lot', { holding, name: 'Vaccinated', class: 'ewe', heads: 20 });
    await farm.ask('treat', { subject: `lot:${lot}`, single: { medicine: id, reason: 'Protection' } });
    const { works, warnings } = await farm.ask('outlook', { medicine: id });
    expect(works.map(({ source, on, heads, doses }) => [source, on, heads, doses])).toEqual([
      ['vaccine', '2026-05-29', 20, '40 mL'],
    ]);
    expect(warnings.map(({ code }) => code)).toContain('use-unknown');
  });
});

it('lists for the vet how much is foreseen, what it was last given for, and proposes no packs', async () => {
  const id = await medicine('Talked about', { prescription: 'vet-prescription' });
  await receive(id, 'T1', '2027-03', '1 × 100 mL', { price: '20.00 GBP' });
  const { animal } = await farm.ask('set-animal', { holding, class: 'ewe', management: 'T 1' });
  await farm.ask('treat', {
    subject: `animal:${animal}`,
    weight: '60 kg',
    single: { medicine: id, reason: 'Foot rot' },
  });
  await foresee(id, 'Tups', '2026-05-20', 50, '10 mL');
  const { medicines } = await farm.ask('order-outlook', {});
  const found = medicines.find((each) => each.medicine === id);
  expect(found?.isOfTheVet).toBe(true);
  expect(found?.talk).toEqual({ foreseen: '515 mL', given: { on: '1 May 2026, 10:00', reason: 'Foot rot' } });
  expect([found?.buy, found?.noBuy]).toEqual([undefined, undefined]);
  expect(found?.headline.says).toBe(
    'Talked about runs out on 20 May 2026: “Tups” then lacks 421 mL. How long an order takes is not written down.',
  );
});

it('counts treatments one by one of four weeks and more, and nothing before', async () => {
  const id = await medicine('Used daily');
  await receive(id, 'U1', '2028-03', '1 × 1 L');
  const { animal } = await farm.ask('set-animal', { holding, class: 'ewe', management: 'U 1' });
  const subject = `animal:${animal}`;
  for (const day of ['2026-05-10', '2026-05-20']) {
    farm.at(`${day}T09:00:00.000Z`);
    await farm.ask('treat', { subject, weight: '50 kg', single: { medicine: id, reason: 'Worms' } });
  }
  expect((await farm.ask('outlook', { medicine: id })).warnings.map(({ code }) => code)).toContain(
    'use-unknown',
  );
  farm.at('2026-05-29T09:00:00.000Z');
  const { working, days, headline } = await farm.ask('outlook', { medicine: id, days: 30 });
  // Two of 5 mL and 3 % spill are 10.3 mL in the 28 days from 1 May.
  expect(working.at(-1)?.text).toBe('10.3 mL used in 28 days besides planned work: 0.368 mL a day');
  expect(one(days).otherText).toBe('0.37 mL');
  // It was opened on 10 May and lasts 28 days: nothing of it may be used on 7 June.
  expect(headline).toMatchObject({ state: 'no-day', runOut: '2026-06-07' });
});

it('counts use of what does not keep once opened on single days, and does not open a pack every day', async () => {
  farm.at('2026-06-01T09:00:00.000Z');
  const id = await medicine('At once', { inUse: 'at once' });
  await receive(id, 'N1', '2028-03', '4 × 100 mL');
  const { animal } = await farm.ask('set-animal', { holding, class: 'ewe', management: 'N 1' });
  for (const day of ['2026-06-10', '2026-07-10']) {
    farm.at(`${day}T09:00:00.000Z`);
    await farm.ask('treat', {
      subject: `animal:${animal}`,
      weight: '50 kg',
      single: { medicine: id, reason: 'Worms' },
    });
  }
  farm.at('2026-07-31T09:00:00.000Z');
  const { days, warnings } = await farm.ask('outlook', { medicine: id, days: 100 });
  // 10.3 mL on 2 of 60 days: 5.15 mL every 30 days, and each time a pack is opened and the rest of it gone.
  expect(
    days
      .filter(({ opened }) => opened.length > 0)
      .map(({ day, otherText, plannedText }) => [day, otherText, plannedText]),
  ).toEqual([
    ['2026-08-30', '5.2 mL', ''],
    ['2026-09-29', '5.2 mL', ''],
  ]);
  expect(warnings.map(({ code }) => code)).toContain('use-occasions');
  expect(warnings.map(({ code }) => code)).not.toContain('use-spread');
});

it('plans with the farm’s own losses, and counts what was thrown away at the end of a bottle only once', async () => {
  const id = await medicine('Thrown away', { inUse: '10 h' });
  const { containers } = await receive(id, 'W1', '2028-03', '3 × 100 mL');
  const { animal } = await farm.ask('set-animal', { holding, class: 'ewe', management: 'W 1' });
  for (const { container } of containers) {
    await farm.ask('treat', {
      subject: `animal:${animal}`,
      single: { medicine: id, reason: 'Worms' },
      given: '38 mL',
      containers: [container],
    });
    await farm.ask('move-stock', { container, cause: 'lost', amount: '2 mL', why: 'Spilt' });
    await farm.ask('move-stock', {
      container,
      cause: 'disposed',
      amount: '60 mL',
      how: 'Take-back',
      where: 'Vet',
      why: 'Open too long',
    });
  }
  await foresee(id, 'Ewes', '2026-08-20', 38, '10 mL');
  // 2 mL lost of the 40 that were not thrown away are 5 %: 380 × 100 ÷ 95 = 400.
  const { works } = await farm.ask('outlook', { medicine: id });
  expect(works.map(({ need }) => need)).toEqual(['400 mL']);
});
