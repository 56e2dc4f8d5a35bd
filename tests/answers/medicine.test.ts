import { randomUUID } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

type Terms = Ask<'check-label'>['terms'];
let desk: FarmDesk;
beforeEach(async () => {
  desk = farmDesk();
  await desk.started();
});
afterEach(() => desk.close());

const label = (more: Partial<Terms> = {}): Terms => ({ ...structuredClone(DRENCH), ...more });
const first = (more: Partial<Terms> = {}, ask: object = {}) =>
  desk.ask('set-label', { act: 'first', terms: label(more), ...ask });

describe('entering a label', () => {
  test('it is listed with its periods in words and nothing to use yet', async () => {
    const { medicine, revision } = await first();
    expect((await desk.ask('medicines', {})).medicines).toEqual([
      {
        medicine,
        name: 'Calverol drench',
        purpose: 'parasites',
        form: 'drench',
        kind: 'volume',
        state: 'confirmed',
        revision,
        routes: ['oral'],
        meat: '28 d',
        milk: 'not for milk',
        usable: '0 mL',
        containers: 0,
        prescription: 'not-stated',
      },
    ]);
    const one = await desk.ask('medicine', { medicine });
    expect(one).toMatchObject({
      name: 'Calverol drench',
      batches: [],
      revisions: [{ n: 1, act: 'first', since: '1 May 2026, 10:00' }],
    });
    expect(one.revisions[0]?.says).toContain('Meat: 28 days after the last dose.');
  });

  test('what may be used is what is neither expired nor past its in-use life', async () => {
    const { medicine } = await first();
    const pack = (number: string, expiry: string) =>
      desk.ask('receive-batch', { medicine, number, expiry, packs: [{ count: 1, size: '1 L' }] });
    await pack('A1', '2027-03');
    await pack('A2', '2026-06');
    expect((await desk.ask('medicines', {})).medicines[0]?.usable).toBe('2000 mL');
    desk.at('2026-07-01T09:00:00.000Z');
    expect((await desk.ask('medicines', {})).medicines[0]).toMatchObject({
      usable: '1000 mL',
      containers: 2,
    });
  });

  test('it is found by its substance as well as by its name', async () => {
    await first();
    const found = async (search: string) => (await desk.ask('medicines', { search })).medicines.length;
    expect(await found('CALVEROL d')).toBe(1);
    expect(await found('calvérol')).toBe(1);
    expect(await found('sorrelin')).toBe(0);
  });

  test('a draft stays marked as one until it is typed a second time', async () => {
    const { medicine, revision } = await first({}, { state: 'draft' });
    expect((await desk.ask('medicines', {})).medicines[0]?.state).toBe('draft');
    await desk.ask('set-label', {
      act: 'typed-wrongly',
      medicine,
      revision,
      terms: label(),
      state: 'confirmed',
    });
    const { revisions } = await desk.ask('medicine', { medicine });
    expect(revisions).toMatchObject([{ n: 1, state: 'confirmed' }]);
  });

  test('the same name again is asked about: two labels of one bottle give two doses', async () => {
    await first();
    const again = { act: 'first' as const, terms: label({ name: 'calverol  DRENCH' }) };
    expect(await desk.refused('set-label', again)).toMatchObject({
      code: 'ask:same-name',
      field: 'terms.name',
    });
    await desk.ask('set-label', { ...again, confirmed: ['same-name'] });
    expect((await desk.ask('medicines', {})).medicines).toHaveLength(2);
  });

  test('a first label of a medicine that has one is no first label', async () => {
    const { medicine } = await first();
    expect((await desk.refused('set-label', { act: 'first', medicine, terms: label() })).code).toBe(
      'medicine-not-new',
    );
  });

  test('sent twice is one medicine', async () => {
    const request = randomUUID();
    const reply = await first({}, { request });
    expect(await first({}, { request })).toEqual(reply);
    expect((await desk.ask('medicines', {})).medicines).toHaveLength(1);
    const other = { act: 'first' as const, request, terms: label({ name: 'Sorrelin' }) };
    expect((await desk.refused('set-label', other)).code).toBe('request-id-reused');
  });

  test('an insert that came earlier in the day than it was typed still comes after the first', async () => {
    const { medicine } = await first();
    await desk.ask('set-label', {
      act: 'new-insert',
      medicine,
      happened: '2026-04-01',
      terms: label({ inUse: '10 d' }),
    });
    const { revisions } = await desk.ask('medicine', { medicine });
    expect(revisions.map(({ n, act }) => [n, act])).toEqual([
      [2, 'new-insert'],
      [1, 'first'],
    ]);
  });
});

describe('checking a label', () => {
  test('reads it back and asks about what is unusual, and writes nothing', async () => {
    const terms = label({
      form: 'injection',
      doseLines: [{ id: 'd1', route: 'intramuscular', rate: { style: 'rate', text: '1 mL per kg' } }],
    });
    const reply = await desk.ask('check-label', { terms });
    expect(reply.says).toContain('For any sheep, into the muscle: 1 millilitre for each kilogram.');
    expect(reply.questions.map((question) => question.code)).toEqual(['much-injected']);
    expect(await desk.head()).toBe(3);
  });

  test.each([
    [
      { periods: [{ produce: 'meat' as const, says: 'value' as const, value: '28' }] },
      'bad-period',
      'periods.0.value',
    ],
    [
      { periods: [{ produce: 'meat' as const, says: 'value' as const }] },
      'period-value-missing',
      'periods.0.value',
    ],
    [{ inUse: 'a month' }, 'bad-period', 'inUse'],
    [{ actives: [{ substance: 'calverol', strength: '10 mg' }] }, 'bad-strength', 'actives.0.strength'],
  ])('%j is refused by its field', async (more, code, field) => {
    expect(await desk.refused('check-label', { terms: label(more) })).toMatchObject({ code, field });
    expect(await desk.refused('set-label', { act: 'first', terms: label(more) })).toMatchObject({
      code,
      field,
    });
    expect(await desk.head()).toBe(3);
  });

  test('a medicine that is not there is refused', async () => {
    expect((await desk.refused('medicine', { medicine: 'none' })).code).toBe('no-such-medicine');
    const ask = { medicine: 'none', revision: 'none', terms: label() };
    expect((await desk.refused('preview-label-correction', ask)).code).toBe('no-such-medicine');
  });
});
