import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readTable } from '../../src-main/exchange/table.ts';
import type { Ask } from '../../src-shared/calls/all.ts';
import { readPdf } from '../paper/reading.ts';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

/** Invented; its strength is not known. */
const PASTE = {
  name: 'Sorbacin injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'antibiotic',
  actives: [{ substance: 'sorbacin', strength: '200 mg/mL' }],
  doseLines: [{ id: 'd1', route: 'subcutaneous', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
  periods: [{ produce: 'meat', says: 'value', value: '10 d' }],
  inUse: 'none',
} satisfies Ask<'check-label'>['terms'];

let desk: FarmDesk;
let keeper = '';
let vet = '';
let ewe = '';
let lambs = '';
let drench = '';
let injection = '';
let group = '';
const bottles: Record<string, string> = {};

async function bought(medicine: string, number: string, size: string, price?: string): Promise<void> {
  const { containers } = await desk.ask('receive-batch', {
    medicine,
    number,
    expiry: '2028-12',
    packs: [{ size, count: 1 }],
    ...(price === undefined ? {} : { price }),
  });
  bottles[number] = containers[0]?.container ?? '';
}
const give = (subject: string, medicine: string, bottle: string, more: Partial<Ask<'treat'>>) =>
  desk.ask('treat', {
    subject,
    single: { medicine, source: 'ours', reason: 'worms' },
    containers: [bottles[bottle] ?? ''],
    confirmed: ['dosed-today'],
    ...more,
  });

beforeAll(async () => {
  desk = farmDesk('2026-01-02T09:00:00.000Z');
  const { holding, person } = await desk.started();
  keeper = person;
  vet = (await desk.ask('set-person', { name: 'Vera Quill', roles: ['vet'] })).person;
  const { animal } = await desk.ask('set-animal', { holding, tag: 'UK 0 700123 00001', class: 'ewe' });
  ewe = `animal:${animal}`;
  await desk.ask('weigh', { subject: ewe, weight: '60 kg', how: 'scale' });
  const { lot } = await desk.ask('set-lot', { holding, name: 'Hill lambs', class: 'lamb', heads: 10 });
  lambs = `lot:${lot}`;
  await desk.ask('weigh', { subject: lambs, weight: '30 kg', how: 'crate' });
  ({ group } = await desk.ask('set-group', { holding, name: 'Sick pen', add: [ewe] }));
  drench = (await desk.ask('set-label', { act: 'first', terms: DRENCH })).medicine;
  injection = (await desk.ask('set-label', { act: 'first', terms: PASTE })).medicine;
  // 10.00 for 300 mL: a third of a penny and a bit for each mL.
  await bought(drench, 'D1', '300 mL', '10.00 GBP');
  await bought(drench, 'D2', '300 mL');
  await bought(injection, 'S1', '100 mL', '20.00 GBP');
  desk.at('2026-05-01T09:00:00.000Z');
});
afterAll(() => desk.close());

describe('the vet’s page', () => {
  it('begins a year back without a visit, and with nothing to tell it is empty', async () => {
    const page = await desk.ask('vet-page', {});
    expect(page).toMatchObject({
      since: '2025-05-01',
      to: '2026-05-01',
      given: [],
      again: [],
      otherwise: [],
      notInWriting: [],
    });
    expect(page.because).toContain('no earlier visit');
  });

  it('tells what was given and why, what came again, what had no effect and what is not in writing', async () => {
    await desk.ask('record-vet-visit', { vet, what: 'Flock health review', happened: '2026-03-01' });
    const lame = { medicine: injection, source: 'ours' as const, reason: 'Lame' };
    const times = ['2026-02-20', '2026-03-10', '2026-03-10T15:00', '2026-04-25'];
    const given: string[] = [];
    for (const happened of times) {
      const { administrations } = await give(ewe, injection, 'S1', { single: lame, happened });
      given.push(administrations[0] ?? '');
    }
    await desk.ask('record-reaction', {
      administration: given[2] ?? '',
      what: 'no-effect',
      seen: 'Still lame after a week',
      happened: '2026-03-17',
    });
    await desk.ask('record-instruction', {
      vet,
      what: 'A second course if she is lame again',
      form: 'told',
      reason: 'lame',
      happened: '2026-03-18',
    });
    const page = await desk.ask('vet-page', {});
    expect(page.since).toBe('2026-03-01');
    expect(page.because).toContain('Vera Quill');
    expect(page.given).toMatchObject([
      { name: 'Sorbacin injection', reason: 'Lame', treatments: 3, heads: 3, isAntimicrobial: true },
    ]);
    // 20 Feb and 10 Mar are 18 days apart; the second of 10 Mar is the same day; 25 Apr is 46 days later.
    expect(page.again).toMatchObject([
      { subject: ewe, days: 18, times: [{ day: '2026-02-20' }, { day: '2026-03-10' }] },
    ]);
    expect(page.noEffect).toMatchObject([{ product: 'Sorbacin injection', seen: 'Still lame after a week' }]);
    // 3 × 6 mL × 200 mg.
    expect(page.antimicrobials).toMatchObject([{ group: 'not-said', mg: '3600', text: '3.6 g' }]);
    expect(page.notInWriting).toMatchObject([{ vetName: 'Vera Quill', day: '2026-03-18' }]);
    expect((await desk.ask('vet-visits', {})).visits).toMatchObject([
      { what: 'Flock health review', day: '2026-03-01' },
    ]);
  });

  it('takes more days as a repeat when the farm says so, and any first day', async () => {
    await desk.ask('set-use-rules', { livingKg: '75', slaughteredKg: '20', repeatDays: 60 });
    const { again } = await desk.ask('vet-page', { since: '2026-04-01' });
    expect(again).toMatchObject([{ days: 64, times: [{}, {}, { day: '2026-04-25' }] }]);
    expect((await desk.refused('vet-page', { since: '2026-05-02' })).field).toBe('since');
  });

  it('what a lot was given counts for those who were in it then', async () => {
    const single = { medicine: injection, source: 'ours' as const, reason: 'Cough' };
    await give(lambs, injection, 'S1', { single, given: '1 mL', happened: '2026-04-20' });
    const { to } = await desk.ask('move-heads', {
      from: lambs.slice('lot:'.length),
      heads: 2,
      to: { newLot: 'Poorly lambs' },
      happened: '2026-04-25',
    });
    await give(to, injection, 'S1', { single, given: '1 mL', happened: '2026-04-29' });
    const { again } = await desk.ask('vet-page', {});
    expect(again.filter(({ reason }) => reason === 'Cough')).toMatchObject([
      { subject: to, shown: 'Poorly lambs', days: 9, times: [{ day: '2026-04-20' }, { day: '2026-04-29' }] },
    ]);
  });

  it('names what was not as the label says', async () => {
    await give(ewe, drench, 'D1', { given: '12 mL', happened: '2026-04-27' });
    const { otherwise } = await desk.ask('vet-page', {});
    expect(otherwise).toContainEqual(
      expect.objectContaining({
        name: 'Calverol drench',
        who: 'UK 0 700123 00001',
        heads: 1,
        isOffLabel: true,
      }),
    );
  });

  it('names vaccines that have lapsed, as they stand today', async () => {
    const { medicine } = await desk.ask('set-label', {
      act: 'first',
      terms: {
        name: 'Ovivax eight',
        form: 'injection',
        kind: 'volume',
        purpose: 'vaccine',
        doseLines: [
          {
            id: 'd1',
            route: 'subcutaneous',
            rate: { style: 'rate', text: '2 mL per head' },
            protects: '150 d',
          },
        ],
        periods: [{ produce: 'meat', says: 'zero' }],
      },
    });
    const single = { medicine, source: 'vet' as const, reason: 'yearly' };
    await desk.ask('treat', { subject: ewe, single, happened: '2025-10-01' });
    const { vaccines } = await desk.ask('vet-page', {});
    expect(vaccines.map(({ text }) => text)).toEqual([
      'UK 0 700123 00001: Ovivax eight has lapsed since 1 Mar 2026.',
    ]);
  });

  it('is printed', async () => {
    const { paper } = await desk.ask('vet-page-paper', {});
    const { base64 } = await desk.ask('paper', { paper });
    const { text } = await readPdf(Buffer.from(base64, 'base64'));
    for (const said of [
      'For the vet',
      'since the visit of Vera Quill',
      'Sorbacin injection (antimicrobial)',
      'Still lame after a week',
      'A second course if she is lame again',
      'Poorly lambs',
    ]) {
      expect(text).toContain(said);
    }
  });

  it.each([
    ['not-a-vet', 'vet', () => ({ vet: keeper, what: 'Visit' })],
    ['dates-crossed', 'next', () => ({ vet, what: 'Visit', next: '2026-05-01' })],
    ['in-the-future', 'happened', () => ({ vet, what: 'Visit', happened: '2026-05-02' })],
  ])('refuses %s at %s', async (code, field, ask) => {
    expect(await desk.refused('record-vet-visit', ask())).toMatchObject({ code, field });
  });
});

describe('training', () => {
  it('is noted with whom and when, and its review comes due until it is renewed', async () => {
    const note = { person: keeper, what: 'Injecting', with: 'Vera Quill' };
    await desk.ask('note-training', { ...note, happened: '2024-05-20', reviewOn: '2026-05-20' });
    await desk.ask('note-training', { ...note, what: 'Dosing gun', how: 'seen', happened: '2026-01-03' });
    const soon = await desk.ask('trainings', {});
    expect(soon.trainings.map(({ what, review }) => [what, review])).toEqual([
      ['Dosing gun', 'none'],
      ['Injecting', 'soon'],
    ]);
    desk.at('2026-05-21T09:00:00.000Z');
    expect((await desk.ask('trainings', {})).trainings[1]).toMatchObject({
      review: 'over',
      day: '2024-05-20',
    });
    await desk.ask('note-training', { ...note, what: 'injecting', reviewOn: '2028-05-20' });
    const after = await desk.ask('trainings', { person: keeper });
    expect(after.trainings.map(({ review }) => review)).toEqual(['later', 'none', 'renewed']);
    const [first] = after.trainings;
    if (first === undefined) throw new Error('no training');
    await desk.ask('void', { entry: first.entry, reason: 'Another person' });
    expect((await desk.ask('trainings', {})).trainings[1]?.review).toBe('over');
    desk.at('2026-05-01T09:00:00.000Z');
  });

  it.each([
    ['no-such-person', 'person', { person: 'nobody', what: 'Injecting', with: 'Vera Quill' }],
    ['dates-crossed', 'reviewOn', { what: 'Injecting', with: 'Vera Quill', reviewOn: '2026-05-01' }],
  ])('refuses %s at %s', async (code, field, more) => {
    expect(await desk.refused('note-training', { person: keeper, ...more })).toMatchObject({ code, field });
  });
});

describe('cost', () => {
  it('is by the price of the batch and what was drawn, losses apart, and rows add up', async () => {
    const month = { from: '2026-05-01', to: '2026-05-31' };
    // 60 kg: 6 mL; eight lambs of 30 kg: 24 mL, with 5 mL left in the gun.
    await give(ewe, drench, 'D1', {});
    await give(lambs, drench, 'D1', { lost: { amount: '5 mL', why: 'priming' } });
    const found = await desk.ask('cost', month);
    // 1000 ÷ 300 = 3⅓ p a mL: 20 p for 6 mL, 80 p for 24 mL, 16⅔ p for the 5 lost.
    expect(found).toMatchObject({
      total: [{ minorUnits: 100, currency: 'GBP', text: '1.00 GBP' }],
      lost: [{ minorUnits: 17 }],
      medicines: [{ name: 'Calverol drench', doses: 9, cost: [{ minorUnits: 100 }], isPart: false }],
      unknown: [],
    });
    expect(found.groups).toMatchObject([
      { name: 'In no group', heads: 8, cost: [{ minorUnits: 80 }], perHead: [{ minorUnits: 10 }] },
      { group, name: 'Sick pen', heads: 1, cost: [{ minorUnits: 20 }] },
    ]);
    expect(found.subjects.map(({ shown, cost }) => [shown, cost[0]?.minorUnits])).toEqual([
      ['Hill lambs', 80],
      ['UK 0 700123 00001', 20],
    ]);
  });

  it('answers the dearest of those that are looked for, and the sums of all', async () => {
    const month = { from: '2026-05-01', to: '2026-05-31' };
    const dearest = await desk.ask('cost', { ...month, most: 1 });
    expect(dearest).toMatchObject({ subjectsInAll: 2, subjectsFound: 2, total: [{ minorUnits: 100 }] });
    expect(dearest.subjects.map(({ shown }) => shown)).toEqual(['Hill lambs']);
    const looked = await desk.ask('cost', { ...month, search: '700123' });
    expect(looked).toMatchObject({ subjectsInAll: 2, subjectsFound: 1, total: [{ minorUnits: 100 }] });
    expect(looked.subjects.map(({ shown }) => shown)).toEqual(['UK 0 700123 00001']);
  });

  it('is printed and saved as a table, every row of it', async () => {
    const month = { from: '2026-05-01', to: '2026-05-31' };
    const { paper } = await desk.ask('cost-paper', month);
    const { text } = await readPdf((await desk.paper(paper))?.bytes ?? new Uint8Array());
    for (const said of ['Given: 1.00 GBP', 'Lost: 0.17 GBP', 'Sick pen', 'Hill lambs 8 0.80 GBP 0.10 GBP']) {
      expect(text).toContain(said);
    }
    const table = await desk.ask('cost-table', month);
    expect(table.name).toBe('cost-2026-05-01-2026-05-31.csv');
    const { rows } = readTable(table.text, { header: true });
    expect(rows.map(({ cells }) => cells)).toEqual([
      ['In all', '', '', '1.00 GBP', '', '0.17 GBP', 'whole'],
      ['Medicine', 'Calverol drench', '9', '1.00 GBP', '0.11 GBP', '0.17 GBP', 'whole'],
      ['Group', 'In no group', '8', '0.80 GBP', '0.10 GBP', '', 'whole'],
      ['Group', 'Sick pen', '1', '0.20 GBP', '0.20 GBP', '', 'whole'],
      ['Animal or lot', 'Hill lambs', '8', '0.80 GBP', '0.10 GBP', '', 'whole'],
      ['Animal or lot', 'UK 0 700123 00001', '1', '0.20 GBP', '0.20 GBP', '', 'whole'],
    ]);
    expect(table.rows).toBe(6);
  });

  it('names what has no price and counts it as no zero', async () => {
    await give(ewe, drench, 'D2', {});
    await desk.ask('treat', { subject: ewe, single: { medicine: injection, source: 'vet', reason: 'lame' } });
    const { medicines, unknown, total } = await desk.ask('cost', { from: '2026-05-01', to: '2026-05-01' });
    expect(total).toMatchObject([{ minorUnits: 100 }]);
    expect(medicines[0]).toMatchObject({ isPart: true, perDose: [] });
    expect(unknown).toMatchObject([
      { kind: 'no-price', text: 'Calverol drench, batch D2: 6 mL left bottles without a price.' },
      {
        kind: 'on-a-bill',
        text: 'Sorbacin injection: 1 head had it from the bottle of the vet or a contractor; its price is on their bill.',
      },
    ]);
    // The bill comes later: 3.00 for 300 mL is 6 p for 6 mL.
    const batch = unknown[0]?.batch ?? '';
    const wrong = await desk.refused('set-batch-price', { batch, price: '3,00 GBP' });
    expect([wrong.code, wrong.field]).toEqual(['bad-number', 'price']);
    const other = await desk.refused('set-batch-price', { batch, price: '3.00 EUR' });
    expect([other.code, other.field]).toEqual(['other-currency', 'price']);
    await desk.ask('set-batch-price', { batch, price: '3.00 GBP' });
    const after = await desk.ask('cost', { from: '2026-05-01', to: '2026-05-01' });
    expect(after).toMatchObject({ total: [{ minorUnits: 106 }], unknown: [{ kind: 'on-a-bill' }] });
    expect(after.medicines[0]).toMatchObject({ isPart: false });
  });

  it('refuses turned dates', async () => {
    expect(await desk.refused('cost', { from: '2026-05-02', to: '2026-05-01' })).toMatchObject({
      code: 'dates-crossed',
      field: 'to',
    });
  });
});

it('folded anew, all of it is the same', async () => {
  const rows =
    "SELECT what, subject, name FROM record WHERE what IN ('use-rules', 'vet-visit', 'training', 'substance') ORDER BY what, subject";
  const before = await desk.peek((store) => store.read.all(rows));
  expect(before.length).toBeGreaterThan(3);
  await desk.refold((store) => expect(store.read.all(rows)).toEqual(before));
});
