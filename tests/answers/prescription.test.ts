import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openPrescriptions, receivedWithout } from '../../src-main/answers/reading/prescriptions.ts';
import { parseDay } from '../../src-shared/time/day.ts';
import { DRENCH, type FarmDesk, farmDesk, one } from './farm-desk.ts';

const ON_PRESCRIPTION = {
  ...structuredClone(DRENCH),
  name: 'Orvandrex drench',
  prescription: 'vet-prescription',
} as const;

describe('a prescription and what came in on it', () => {
  let farm: FarmDesk;
  let vet: string;
  let medicine: string;
  let other: string;
  let first: string;

  beforeAll(async () => {
    farm = farmDesk();
    await farm.started();
    vet = (await farm.ask('set-person', { name: 'Dr Wren', roles: ['vet'] })).person;
    medicine = (await farm.ask('set-label', { act: 'first', terms: ON_PRESCRIPTION })).medicine;
    other = (await farm.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) })).medicine;
    first = await paper({ diagnosis: 'Lungs', validUntil: '2026-05-20' });
  });
  afterAll(() => farm.close());

  async function paper(more: object, number = 'RX 7'): Promise<string> {
    const asked = { number, vet, medicine, quantity: '200 mL', written: '2026-04-28', ...more };
    return (await farm.ask('record-prescription', asked)).prescription;
  }
  const delivery = (number: string, size: string, more: object = {}) => ({
    medicine,
    number,
    expiry: '2027-03',
    packs: [{ count: 1, size }],
    ...more,
  });
  const shown = async (prescription: string) =>
    one((await farm.ask('prescriptions', { prescription })).prescriptions);

  test('each delivery draws it down: what came in and what is left, to the mL', async () => {
    expect(await shown(first)).toMatchObject({ state: 'open', drawn: 'none', left: '200 mL', receipts: [] });
    const { warnings } = await farm.ask('receive-batch', delivery('K1', '150 mL', { prescription: first }));
    expect(warnings).toEqual([]);
    expect(await shown(first)).toMatchObject({
      state: 'open',
      drawn: '150 mL',
      left: '50 mL',
      receipts: [{ number: 'K1', on: '2026-05-01', amount: '150 mL' }],
      copies: 0,
      corrected: false,
    });
  });

  test('more than it is for, after its last day, before it was written: asked, then taken as it happened', async () => {
    const over = delivery('K2', '60 mL', { prescription: first });
    expect(await farm.refused('receive-batch', over)).toMatchObject({
      code: 'ask:prescription-over',
      field: 'prescription',
      message: 'With this, 210 mL came in on prescription RX 7, and it is for 200 mL. Is that right?',
    });
    const exactly = delivery('K2', '50 mL', { prescription: first });
    await farm.ask('receive-batch', exactly);
    expect(await shown(first)).toMatchObject({ state: 'used-up', drawn: '200 mL', left: 'none' });
    await farm.ask('receive-batch', {
      ...delivery('K3', '60 mL', { prescription: first, happened: '2026-04-20' }),
      confirmed: ['prescription-later', 'prescription-over'],
    });
    expect(await shown(first)).toMatchObject({ over: '60 mL', left: 'none', state: 'used-up' });
    farm.at('2026-05-22T09:00:00.000Z');
    const late = delivery('K4', '1 mL', { prescription: first });
    expect(await farm.refused('receive-batch', late)).toMatchObject({ code: 'ask:prescription-expired' });
    await farm.ask('receive-batch', { ...late, confirmed: ['prescription-expired', 'prescription-over'] });
    expect((await shown(first)).receipts.map(({ number, mind }) => [number, mind])).toEqual([
      ['K3', '8 days before it was written'],
      ['K1', undefined],
      ['K2', undefined],
      ['K4', '2 days after its last day'],
    ]);
  });

  test('its last day is still good; the day after, it has ended', async () => {
    const second = await paper({ written: '2026-05-01', validUntil: '2026-05-22' }, 'RX 8');
    expect((await shown(second)).state).toBe('open');
    farm.at('2026-05-22T23:30:00.000Z');
    // Half past midnight at the farm: the day is over there, though not in Greenwich.
    expect((await shown(second)).state).toBe('expired');
    farm.at('2026-05-23T09:00:00.000Z');
  });

  test('one for another medicine is refused, one that is not in the book too', async () => {
    expect(
      await farm.refused('receive-batch', {
        ...delivery('K5', '1 mL'),
        medicine: other,
        prescription: first,
      }),
    ).toMatchObject({ code: 'prescription-for-other', field: 'prescription' });
    expect(
      await farm.refused('receive-batch', delivery('K5', '1 mL', { prescription: 'none' })),
    ).toMatchObject({ code: 'no-such-prescription', field: 'prescription' });
  });

  test('a delivery without one is a gap that is said at once, and is mended by naming it', async () => {
    const { batch, warnings } = await farm.ask('receive-batch', delivery('K6', '100 mL'));
    expect(warnings.map(({ code }) => code)).toEqual(['no-prescription']);
    const free = await farm.ask('receive-batch', { ...delivery('K7', '100 mL'), medicine: other });
    expect(free.warnings).toEqual([]);
    const { without } = await farm.ask('prescriptions', {});
    expect(without).toMatchObject([
      { batch, number: 'K6', amount: '100 mL', on: '2026-05-23', medicineName: 'Orvandrex drench' },
    ]);
    const third = await paper({ written: '2026-05-23' }, 'RX 9');
    await farm.ask('name-prescription', { batch, prescription: third, reason: 'came by post' });
    const after = await farm.ask('prescriptions', {});
    expect(after.without).toEqual([]);
    expect(await shown(third)).toMatchObject({ drawn: '100 mL', left: '100 mL' });
    expect(
      (await farm.ask('cabinet', { medicine })).containers.find((row) => row.batch === 'K6'),
    ).toMatchObject({ left: { text: '100 mL' } });
    expect(
      await farm.refused('name-prescription', { batch: 'x', prescription: third, reason: 'y' }),
    ).toMatchObject({ code: 'no-such-batch' });
  });

  test('what was typed wrongly is put right by a correction; the first words stay in the journal', async () => {
    const bare = { number: 'RX 7', vet, medicine, written: '2026-04-28', quantity: '2 L' };
    await farm.ask('correct-prescription', { prescription: first, ...bare, reason: 'a nought was lost' });
    const now = await shown(first);
    expect(now).toMatchObject({ corrected: true, state: 'open', drawn: '261 mL', left: '1739 mL' });
    expect(now).not.toHaveProperty('validUntil');
    expect(now).not.toHaveProperty('diagnosis');
    const { entries } = await farm.ask('entries', { limit: 200 });
    expect(entries.find(({ text }) => text === 'Prescription RX 7')?.state).toBe('replaced');
    expect(
      await farm.refused('correct-prescription', {
        prescription: first,
        ...bare,
        number: 'rx 9',
        reason: 'x',
      }),
    ).toMatchObject({ code: 'ask:number-again' });
    expect(
      await farm.refused('correct-prescription', {
        prescription: first,
        ...bare,
        medicine: other,
        reason: 'x',
      }),
    ).toMatchObject({ code: 'ask:medicine-of-receipts', field: 'medicine' });
  });

  test('days that cannot be, units that do not fit: one sentence beside the field', async () => {
    const ask = { number: 'RX 10', vet, medicine, written: '2026-05-01' };
    expect(await farm.refused('record-prescription', { ...ask, written: '2026-06-31' })).toMatchObject({
      code: 'bad-day',
      field: 'written',
    });
    expect(await farm.refused('record-prescription', { ...ask, written: '2026-05-24' })).toMatchObject({
      code: 'in-the-future',
      field: 'written',
    });
    expect(await farm.refused('record-prescription', { ...ask, validUntil: '2026-04-30' })).toMatchObject({
      code: 'dates-crossed',
      field: 'validUntil',
    });
    expect(await farm.refused('record-prescription', { ...ask, quantity: '3 kg' })).toMatchObject({
      code: 'units-do-not-match',
      field: 'quantity',
    });
    const long = await farm.refused('receive-batch', delivery('B'.repeat(300), '1 mL'));
    expect(long).toMatchObject({
      code: 'bad-input',
      field: 'number',
      message: 'Number is too long or too large.',
    });
  });

  test('those still open for a medicine, with the last diagnosis, as the order needs them', async () => {
    await paper({ written: '2026-05-10', diagnosis: 'Feet', validUntil: '2026-05-11' }, 'RX 11');
    const today = parseDay('2026-05-23', 'today');
    const found = await farm.peek(({ read }) => ({
      ours: openPrescriptions(read, medicine, today),
      none: openPrescriptions(read, other, today),
      without: receivedWithout(read),
    }));
    expect(found.ours.open.map(({ paper: { number }, left }) => [number, left])).toEqual([
      ['RX 9', 100_000],
      ['RX 7', 1_739_000],
    ]);
    expect(found.ours.lastDiagnosis).toEqual({ text: 'Feet', written: '2026-05-10' });
    expect(found.none).toEqual({ open: [], lastDiagnosis: undefined });
    expect(found.without).toEqual([]);
  });

  test('striking one out that deliveries name is asked about; they are a gap from then on', async () => {
    const { entry } = await shown(first);
    expect(await farm.refused('void', { entry, reason: 'of another farm' })).toMatchObject({
      code: 'ask:in-use',
    });
  });
});
