import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Ask, Reply } from '../../src-shared/calls/all.ts';
import { readPdf } from '../paper/reading.ts';
import { DRENCH, FARM, type FarmDesk, farmDesk } from './farm-desk.ts';

/** An antibiotic in IU, one whose strength counts its salt, and a vaccine; all invented. */
const INJECTED = {
  name: 'Sorbacin injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'antibiotic',
  actives: [{ substance: 'sorbacin', strength: '300000 IU/mL' }],
  doseLines: [{ id: 'd1', route: 'subcutaneous', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
  periods: [{ produce: 'meat', says: 'value', value: '10 d' }],
  inUse: 'none',
} satisfies Ask<'check-label'>['terms'];
const SALTED = {
  ...INJECTED,
  name: 'Ternol tablets',
  form: 'tablet',
  kind: 'pieces',
  piece: 'tablet',
  actives: [
    { substance: 'ternol', strength: '100 mg per tablet', salt: 'ternol hydrate', strengthOf: 'salt' },
  ],
  doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '1 tablet per head' } }],
} satisfies Ask<'check-label'>['terms'];
const VACCINE = {
  ...INJECTED,
  name: 'Ovivax eight',
  purpose: 'vaccine',
  actives: [],
  doseLines: [{ id: 'd1', route: 'subcutaneous', rate: { style: 'rate', text: '2 mL per head' } }],
  periods: [{ produce: 'meat', says: 'zero' }],
} satisfies Ask<'check-label'>['terms'];

let desk: FarmDesk;
let holding = '';
let ewe = '';
let lambs = '';

const label = async (terms: Ask<'check-label'>['terms']) =>
  (await desk.ask('set-label', { act: 'first', terms })).medicine;
const year = (use: Reply<'use'>, n: number) => {
  const found = use.years.find((one) => one.year === n);
  if (found === undefined) throw new Error(`no year ${n}`);
  return found;
};

beforeAll(async () => {
  desk = farmDesk('2025-06-01T09:00:00.000Z');
  ({ holding } = await desk.started());
  const { animal } = await desk.ask('set-animal', { holding, tag: 'UK 0 700123 00001', class: 'ewe' });
  ewe = `animal:${animal}`;
  await desk.ask('weigh', { subject: ewe, weight: '60 kg', how: 'scale' });
  const { lot } = await desk.ask('set-lot', {
    holding,
    name: 'Hill lambs',
    class: 'lamb',
    heads: 10,
    born: '2025-04-01',
  });
  lambs = `lot:${lot}`;
  await desk.ask('weigh', { subject: lambs, weight: '30 kg', how: 'crate' });
  const injected = await label(INJECTED);
  const salted = await label(SALTED);
  const drench = await label(DRENCH);
  const vaccine = await label(VACCINE);
  const { containers } = await desk.ask('receive-batch', {
    medicine: injected,
    number: 'S1',
    expiry: '2027-12',
    packs: [{ size: '100 mL', count: 1 }],
  });
  const bottle = containers[0]?.container ?? '';
  // 6 mL of 300,000 IU in each, of which 1 mL ran out again: all of it was used.
  await desk.ask('treat', {
    subject: ewe,
    single: { medicine: injected, source: 'ours', reason: 'lame' },
    containers: [bottle],
    given: '6 mL',
    leaked: { amount: '1 mL' },
  });
  desk.at('2026-03-01T09:00:00.000Z');
  const vet = (medicine: string, reason: string) => ({ medicine, source: 'vet' as const, reason });
  await desk.ask('treat', { subject: lambs, single: vet(salted, 'cough'), happened: '2026-02-10' });
  await desk.ask('treat', {
    subject: lambs,
    single: vet(drench, 'worms'),
    given: '3 mL',
    happened: '2026-02-10',
  });
  await desk.ask('treat', { subject: ewe, single: vet(vaccine, 'yearly'), happened: '2026-02-10' });
  await desk.ask('depart', {
    subjects: [{ subject: lambs, heads: 4 }],
    how: 'slaughter',
    happened: '2026-02-20',
  });
});
afterAll(() => desk.close());

describe('use by year', () => {
  it('names what cannot be counted, and counts it as no zero', async () => {
    const use = await desk.ask('use', {});
    expect(use.years.map((one) => [one.year, one.isRunning])).toEqual([
      [2026, true],
      [2025, false],
    ]);
    expect(year(use, 2025).missing).toEqual([
      'Sorbacin injection, 6 mL: its strength is in IU, and how many mg of sorbacin are in one IU has not been said.',
    ]);
    expect(year(use, 2025).total).toMatchObject({ mg: '0', text: 'not known' });
    expect(year(use, 2026).missing).toEqual([
      'Ternol tablets, 10 tablets: its strength counts the salt, and which part of that is ternol has not been said.',
    ]);
    expect(use.substances.map(({ substance, needs }) => [substance, needs])).toEqual([
      ['calverol', ['group']],
      ['sorbacin', ['group', 'iu']],
      ['ternol', ['group', 'salt']],
    ]);
    expect(year(use, 2026).parasites).toMatchObject([{ key: 'not-said', doses: 10 }]);
  });

  it('counts mg for each kg of the own weights and of the standard ones once the substances are known', async () => {
    await desk.ask('set-substance', { substance: 'Sorbacin', group: 'penicillins', iuToMg: '0.0006' });
    await desk.ask('set-substance', {
      substance: 'ternol',
      salt: 'ternol hydrate',
      group: 'tetracyclines',
      saltFactor: '0.8',
    });
    await desk.ask('set-substance', { substance: 'calverol', group: 'benzimidazoles' });
    const use = await desk.ask('use', {});
    // By hand, 2025: 6 × 180 = 1080 mg; one ewe of 60 kg and ten lambs of 30 kg are 360 kg; 11 × 75 = 825 kg.
    expect(year(use, 2025)).toMatchObject({
      to: '2025-12-31',
      missing: [],
      doses: 1,
      total: { mg: '1080', text: '1.08 g', mgPerKg: '3', mgPerPcu: '1.31' },
      antimicrobials: [{ group: 'penicillins', name: 'Penicillins', mg: '1080' }],
      weight: { ownKg: '360', pcuKg: '825', living: 11, slaughtered: 0 },
    });
    // 2026: 10 × 100 × 0.8 = 800 mg; 60 + 6 × 30, and 4 × 30 slaughtered; 7 × 75 + 4 × 20 = 605 kg.
    expect(year(use, 2026)).toMatchObject({
      to: '2026-03-01',
      missing: [],
      doses: 10,
      total: { mg: '800', mgPerKg: '2.22', mgPerPcu: '1.32' },
      antimicrobials: [{ group: 'tetracyclines' }],
      weight: { ownKg: '360', pcuKg: '605', living: 7, slaughtered: 4 },
      parasites: [{ name: 'Benzimidazoles', doses: 10, medicines: ['Calverol drench'] }],
      vaccines: [{ name: 'Ovivax eight', doses: 1 }],
    });
    expect(use.substances.every(({ needs }) => needs.length === 0)).toBe(true);
  });

  it('takes heads without a weight at the mean of their class and says so; a class without any leaves it unknown', async () => {
    const { animal } = await desk.ask('set-animal', { holding, tag: 'UK 0 700123 00002', class: 'ewe' });
    expect(year(await desk.ask('use', {}), 2026).weight).toMatchObject({ ownKg: '420', living: 8 });
    expect(year(await desk.ask('use', {}), 2026).weight.ownText[1]).toContain(
      '60 kg, the mean of the 1 head',
    );
    const { animal: ram } = await desk.ask('set-animal', { holding, tag: 'UK 0 700123 00003', class: 'ram' });
    const { weight, total } = year(await desk.ask('use', {}), 2026);
    expect(weight.ownKg).toBeUndefined();
    expect(total.mgPerKg).toBeUndefined();
    expect(total.mgPerPcu).toBeDefined();
    expect(weight.ownText.join(' ')).toContain('1 head (ram) have no weight on record');
    for (const subject of [animal, ram]) {
      await desk.ask('depart', { subjects: [{ subject: `animal:${subject}` }], how: 'died' });
    }
    expect(year(await desk.ask('use', {}), 2026).weight).toMatchObject({ ownKg: '360', living: 7 });
  });

  it('counts a lamb named out of its lot once, in the years before too', async () => {
    await desk.ask('move-heads', {
      from: lambs.slice('lot:'.length),
      heads: 1,
      to: { tag: 'UK 0 700123 00009' },
    });
    const use = await desk.ask('use', {});
    expect([2025, 2026].map((n) => year(use, n).weight.living)).toEqual([11, 7]);
  });

  it('counts by the farm’s own standard weights', async () => {
    // 44 lb is 19.95806428 kg: more digits than a gram.
    const odd = await desk.refused('set-use-rules', {
      livingKg: '70',
      slaughteredKg: '44 lb',
      repeatDays: 28,
    });
    expect([odd.code, odd.field]).toEqual(['bad-weight', 'slaughteredKg']);
    await desk.ask('set-use-rules', { livingKg: '70', slaughteredKg: '20.5', repeatDays: 14 });
    const use = await desk.ask('use', {});
    expect(use.rules).toEqual({
      livingKg: '70',
      slaughteredKg: '20.5',
      repeatDays: 14,
      heads: [],
      source: 'the farm’s own setting',
    });
    expect(year(use, 2026).weight.pcuKg).toBe('572');
  });

  it('takes the farm’s own head numbers for the standard weights, and the book’s where none is typed', async () => {
    const own = (more: object) => desk.ask('set-use-heads', { holding, year: 2026, ...more });
    await own({ living: 9 });
    const use = await desk.ask('use', {});
    expect(use.rules).toMatchObject({ livingKg: '70', heads: [{ holding, year: 2026, living: 9 }] });
    // By hand: 9 × 70 + 4 × 20.5 = 712 kg. The own weights stay as they were, and so does the year before.
    expect(year(use, 2026).weight).toMatchObject({ pcuKg: '712', living: 9, slaughtered: 4, ownKg: '360' });
    expect(year(use, 2026).weight.standardText).toEqual([
      '9 living by the farm’s own word; the book counts 7.',
    ]);
    expect(year(use, 2025).weight).toMatchObject({ living: 11, standardText: [] });
    await desk.ask('set-use-rules', { livingKg: '70', slaughteredKg: '20.5', repeatDays: 21 });
    expect((await desk.ask('use', {})).rules.heads).toHaveLength(1);
    await own({ slaughtered: 0 });
    expect(year(await desk.ask('use', {}), 2026).weight).toMatchObject({ living: 7, slaughtered: 0 });
    await own({});
    expect(year(await desk.ask('use', {}), 2026).weight).toMatchObject({ pcuKg: '572', standardText: [] });
    expect(await desk.refused('set-use-heads', { holding, year: 2027, living: 1 })).toMatchObject({
      code: 'bad-year',
      field: 'year',
    });
  });

  it('counts one holding by itself, and divides by nothing where nothing lives', async () => {
    const { holding: far } = await desk.ask('set-holding', {
      ...FARM.holding,
      name: 'Far Bank',
      number: 'TB 0002',
    });
    const whole = await desk.ask('use', {});
    expect(year(await desk.ask('use', { holding }), 2026)).toEqual(year(whole, 2026));
    await desk.ask('set-use-heads', { holding: far, year: 2026, living: 5 });
    const both = year(await desk.ask('use', {}), 2026).weight;
    expect([both.living, both.standardText]).toEqual([
      12,
      ['Far Bank: 5 living by the farm’s own word; the book counts 0.'],
    ]);
    expect(year(await desk.ask('use', { holding }), 2026).weight.living).toBe(7);
    await desk.ask('set-use-heads', { holding: far, year: 2026 });
    const { total, weight, doses } = year(await desk.ask('use', { holding: far }), 2026);
    expect({ total, living: weight.living, doses }).toEqual({
      total: { mg: '0', text: 'none' },
      living: 0,
      doses: 0,
    });
    expect(await desk.refused('use', { holding: 'nowhere' })).toMatchObject({ code: 'no-such-holding' });
  });

  it('prints', async () => {
    const { paper } = await desk.ask('use-paper', {});
    const { base64 } = await desk.ask('paper', { paper });
    const { text } = await readPdf(Buffer.from(base64, 'base64'));
    for (const said of [
      '2026, to 1 Mar 2026',
      'Penicillins',
      '1.08 g',
      'Benzimidazoles',
      'Ovivax eight',
      '572 kg',
      'The bars show mg for each kg',
    ]) {
      expect(text).toContain(said);
    }
  });

  it.each([
    ['both-factors', 'saltFactor', { iuToMg: '0.0006', saltFactor: '0.61' }],
    ['bad-factor', 'iuToMg', { iuToMg: '1667' }],
    ['bad-number', 'saltFactor', { saltFactor: '0,61' }],
  ])('refuses %s at %s', async (code, field, more) => {
    const asked = { substance: 'sorbacin', group: 'penicillins' as const, ...more };
    expect(await desk.refused('set-substance', asked)).toMatchObject({ code, field });
  });
});
