import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

let desk: FarmDesk;
let medicine: string;
let holding: string;
let container: string;
beforeEach(async () => {
  desk = farmDesk();
  ({ holding } = await desk.started());
  const terms = { ...structuredClone(DRENCH), storage: { leastC: 2, mostC: 8 } };
  medicine = (await desk.ask('set-label', { act: 'first', terms })).medicine;
  container = await bottle('B4', 'Fridge');
});
afterEach(() => desk.close());

async function bottle(number: string, store: string): Promise<string> {
  const { containers } = await desk.ask('receive-batch', {
    medicine,
    number,
    expiry: '2027-03',
    packs: [{ count: 1, size: '500 mL' }],
    store,
  });
  return containers[0]?.container ?? '';
}
const stateOf = async (one: string) => (await desk.ask('container', { container: one })).container.state;
const read = (least: string, most: string) => desk.ask('record-storage', { store: 'fridge', least, most });
async function dose(management: string): Promise<void> {
  const { animal } = await desk.ask('set-animal', { holding, class: 'ewe', management });
  await desk.ask('treat', {
    subject: `animal:${animal}`,
    weight: '60 kg',
    containers: [container],
    single: { medicine, reason: 'worms' },
  });
}

describe('the thermometer of a store', () => {
  test('within the label, on its very limits, changes nothing', async () => {
    expect(await read('2', '8 °C')).toEqual({
      setAside: [],
      given: [],
      says: ['Nothing that stood there was outside what its label says.'],
    });
    expect(await stateOf(container)).toBe('sealed');
    expect(await desk.ask('storage-log', {})).toMatchObject({
      stores: ['Fridge'],
      readings: [{ store: 'Fridge', leastC: '2', mostC: '8', outside: 0, local: '1 May 2026, 10:00' }],
    });
  });

  test.each([
    ['1.9', '8'],
    ['2', '8.1'],
    ['-1', '5'],
  ])('from %s to %s sets aside what stood there, and nothing elsewhere', async (least, most) => {
    const elsewhere = await bottle('B5', 'Cupboard');
    expect((await read(least, most)).setAside).toMatchObject([{ label: 'B4-1', name: 'Calverol drench' }]);
    expect(await stateOf(container)).toBe('quarantined');
    expect(await stateOf(elsewhere)).toBe('sealed');
    const { movements } = await desk.ask('container', { container });
    expect(movements.at(-1)?.note).toBe(
      `Fridge was between ${least} and ${most} °C; the label says 2 to 8 °C`,
    );
  });

  test('names who got it since the last good reading, over a bad one in between', async () => {
    await dose('E 1');
    desk.at('2026-05-02T09:00:00.000Z');
    await read('3', '7');
    desk.at('2026-05-03T09:00:00.000Z');
    await dose('E 2');
    desk.at('2026-05-04T09:00:00.000Z');
    expect((await read('3', '12')).given.map((one) => one.shown)).toEqual(['E 2']);
    desk.at('2026-05-05T09:00:00.000Z');
    await dose('E 3');
    const { given, setAside, says } = await read('3', '11');
    expect(given.map((one) => one.shown)).toEqual(['E 2', 'E 3']);
    // It was set aside by the reading before.
    expect(setAside).toEqual([]);
    expect(says[1]).toContain('2 treatments since the last good reading');
  });

  test('without any reading before, names everybody who got it', async () => {
    await dose('E 1');
    expect((await read('3', '12')).given).toMatchObject([{ shown: 'E 1', name: 'Calverol drench' }]);
  });

  test('of a day before the bottle came does not touch it', async () => {
    expect(
      await desk.ask('record-storage', { store: 'Fridge', least: '3', most: '20', happened: '2026-04-30' }),
    ).toMatchObject({ setAside: [] });
    expect(await stateOf(container)).toBe('sealed');
  });

  const carry = (store: string, happened?: string) =>
    desk.ask('move-stock', {
      container,
      cause: 'carried',
      store,
      ...(happened === undefined ? {} : { happened }),
    });

  test('follows a bottle that was carried off: it stood there since the last good reading, and whoever got it is named', async () => {
    desk.at('2026-05-02T09:00:00.000Z');
    await read('3', '7');
    desk.at('2026-05-03T09:00:00.000Z');
    await carry('Cupboard');
    desk.at('2026-05-03T10:00:00.000Z');
    await dose('E 1');
    desk.at('2026-05-04T09:00:00.000Z');
    const { setAside, given } = await read('3', '12');
    expect(setAside.map(({ label }) => label)).toEqual(['B4-1']);
    expect(given.map((one) => one.shown)).toEqual(['E 1']);
    expect(await desk.ask('container', { container })).toMatchObject({
      container: { store: 'Cupboard', state: 'quarantined' },
      movements: [
        { cause: 'received' },
        { cause: 'carried', note: 'Cupboard', amount: '' },
        { cause: 'opened' },
        { cause: 'drawn' },
        { cause: 'quarantined' },
      ],
    });
  });

  test('does not touch one that was carried off before the last good reading, nor what was given before it came in', async () => {
    await dose('E 1');
    desk.at('2026-05-02T09:00:00.000Z');
    await carry('Cupboard');
    desk.at('2026-05-03T09:00:00.000Z');
    await read('3', '7');
    desk.at('2026-05-04T09:00:00.000Z');
    expect((await read('3', '12')).setAside).toEqual([]);
    await carry('Fridge');
    desk.at('2026-05-05T09:00:00.000Z');
    const { setAside, given } = await read('3', '12');
    expect(setAside).toHaveLength(1);
    expect(given).toEqual([]);
  });

  test('takes a bottle that was carried off at an hour nobody knows to have stood there for all of that day', async () => {
    desk.at('2026-05-02T07:00:00.000Z');
    await read('3', '7');
    desk.at('2026-05-02T19:00:00.000Z');
    await carry('Cupboard', '2026-05-02');
    expect((await read('3', '12')).setAside).toHaveLength(1);
  });

  test('knows a store from which everything was carried off', async () => {
    await carry('Cupboard');
    expect((await desk.ask('storage-log', {})).stores).toEqual(['Cupboard', 'Fridge']);
  });

  test.each([
    [{ store: ' ' }, 'store-missing', 'store'],
    [{ store: 'FRIDGE' }, 'same-store', 'store'],
    [{ store: 'Shed', amount: '5 mL' }, 'amount-unwanted', 'amount'],
    [{ store: 'Shed', happened: '2026-04-30' }, 'before-received', 'happened'],
  ])('%j is no way to carry a bottle', async (more, code, field) => {
    const refused = await desk.refused('move-stock', { container, cause: 'carried', ...more });
    expect(refused).toMatchObject({ code, field });
  });

  test('says of what label no temperature is typed', async () => {
    medicine = (
      await desk.ask('set-label', {
        act: 'first',
        terms: { ...structuredClone(DRENCH), name: 'Other drench' },
      })
    ).medicine;
    await bottle('B6', 'Fridge');
    expect((await read('3', '7')).says[1]).toBe(
      'No temperature is typed from the label of Other drench: read it yourself.',
    );
  });

  test('that is below zero says that it may have frozen', async () => {
    expect((await read('-0.5', '5')).says[1]).toBe('It may have frozen: what was frozen is thrown away.');
  });

  test.each([
    [{ least: '41 F' }, 'bad-degrees', 'least'],
    [{ most: 'warm' }, 'bad-degrees', 'most'],
    [{ most: '80' }, 'bad-degrees', 'most'],
    [{ most: '4,5' }, 'bad-degrees', 'most'],
    [{ least: '9', most: '3' }, 'least-over-most', 'least'],
    [{ store: 'Shed' }, 'no-such-store', 'store'],
    [{ happened: '2026-05-02' }, 'in-the-future', 'happened'],
  ])('%j is refused in one sentence', async (more, code, field) => {
    const head = await desk.head();
    const asked = { store: 'Fridge', least: '3', most: '7', ...more };
    expect(await desk.refused('record-storage', asked)).toMatchObject({ code, field });
    expect(await desk.head()).toBe(head);
  });
});
