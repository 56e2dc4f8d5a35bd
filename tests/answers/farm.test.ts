import { randomUUID } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { FARM, type FarmDesk, farmDesk } from './farm-desk.ts';

let desk: FarmDesk;
beforeEach(() => {
  desk = farmDesk();
});
afterEach(() => desk.close());

describe('starting a book', () => {
  test('an empty book answers who it is: nobody yet, and its clock is believed', async () => {
    const farm = await desk.ask('farm', {});
    expect(farm).toMatchObject({ business: null, holdings: [], people: [], clock: { state: 'believed' } });
    expect(farm.head.seq).toBe(0);
  });

  test('the keeper it makes is the one who wrote its first entries', async () => {
    const { person, holding } = await desk.started();
    const farm = await desk.ask('farm', {});
    expect(farm.holdings).toMatchObject([
      { holding, keeper: person, zone: 'Europe/London', weightUnit: 'kg' },
    ]);
    expect(farm.people).toMatchObject([
      { person, name: 'Isla Thorn', roles: ['owner', 'keeper'], active: true },
    ]);
    const writers = await desk.peek((store) => store.entriesBetween(1, 9).map((entry) => entry.by));
    expect(writers).toEqual([person, person, person]);
  });

  test('a book in use is not started over', async () => {
    await desk.started();
    expect((await desk.refused('start-book', structuredClone(FARM) as never)).code).toBe('book-started');
    expect(await desk.head()).toBe(3);
  });

  test('a zone nobody has would count every period wrong', async () => {
    const bad = { ...FARM, holding: { ...FARM.holding, zone: 'Europe/Nowhere' } };
    expect(await desk.refused('start-book', bad as never)).toMatchObject({
      code: 'bad-zone',
      field: 'holding.zone',
    });
    expect(await desk.head()).toBe(0);
  });

  test('sent twice makes one farm, and the same id with another farm is refused', async () => {
    const request = randomUUID();
    const ask = { ...FARM, request } as never;
    const first = await desk.ask('start-book', ask);
    expect(await desk.ask('start-book', ask)).toEqual(first);
    expect(await desk.head()).toBe(3);
    const other = { ...FARM, business: { ...FARM.business, name: 'Another' }, request } as never;
    expect((await desk.refused('start-book', other)).code).toBe('request-id-reused');
  });
});

describe('who writes', () => {
  test('somebody the book does not know writes nothing', async () => {
    await desk.started();
    const fault = await desk.refused('set-person', { by: 'stranger', name: 'Rook', roles: ['clerk'] });
    expect(fault).toMatchObject({ code: 'no-such-person', field: 'by' });
    expect(await desk.head()).toBe(3);
  });

  test('two people of one name are asked about, not mixed up', async () => {
    await desk.started();
    const again = { name: 'isla  THORN', roles: ['shepherd' as const] };
    expect((await desk.refused('set-person', again)).code).toBe('ask:same-name');
    await desk.ask('set-person', { ...again, confirmed: ['same-name'] });
    expect((await desk.ask('farm', {})).people).toHaveLength(2);
  });

  test('a change to somebody unknown is no new person', async () => {
    await desk.started();
    const fault = await desk.refused('set-person', { person: 'gone', name: 'Rook', roles: ['vet'] });
    expect(fault).toMatchObject({ code: 'no-such-person', field: 'person' });
  });
});

describe('business and holdings', () => {
  test('a demonstration stays one when its name is changed', async () => {
    await desk.ask('start-book', { ...FARM, business: { ...FARM.business, demo: true } } as never);
    const [keeper] = (await desk.ask('farm', {})).people;
    await desk.ask('set-business', { by: keeper?.person ?? '', name: 'Real Farm', address: 'x' });
    expect((await desk.ask('farm', {})).business).toMatchObject({ name: 'Real Farm', demo: true });
  });

  test('a holding that is changed keeps its keeper; a number is not given out twice', async () => {
    const { holding, person } = await desk.started();
    await desk.ask('set-holding', { ...FARM.holding, holding, name: 'Upper Bank', marginDays: 2 });
    expect((await desk.ask('farm', {})).holdings).toMatchObject([
      { name: 'Upper Bank', keeper: person, marginDays: 2 },
    ]);
    expect(await desk.refused('set-holding', { ...FARM.holding, number: 'tb  0001' })).toMatchObject({
      code: 'number-taken',
      field: 'number',
    });
    expect((await desk.refused('set-holding', { ...FARM.holding, holding: 'gone' })).code).toBe(
      'no-such-holding',
    );
  });
});

describe('the clock', () => {
  test('more than 14 days idle is doubted until the date is confirmed, and a wrong date confirms nothing', async () => {
    await desk.started();
    desk.at('2026-05-15T09:00:00.000Z');
    expect((await desk.ask('farm', {})).clock).toEqual({ state: 'believed', today: '2026-05-15' });
    desk.at('2026-05-15T09:00:00.001Z');
    expect((await desk.ask('farm', {})).clock).toMatchObject({
      state: 'doubted',
      why: expect.stringContaining('14 days'),
    });
    expect((await desk.refused('confirm-date', { day: '2026-05-16' })).code).toBe('date-differs');
    expect((await desk.refused('confirm-date', { day: '2026-05-32' })).code).toBe('bad-day');
    await desk.ask('confirm-date', { day: '2026-05-15' });
    expect((await desk.ask('farm', {})).clock.state).toBe('believed');
  });

  test('today is the day of the holding, not of Greenwich', async () => {
    await desk.ask('start-book', {
      ...FARM,
      holding: { ...FARM.holding, zone: 'Pacific/Auckland' },
    } as never);
    desk.at('2026-05-01T13:00:00.000Z');
    expect((await desk.ask('farm', {})).clock.today).toBe('2026-05-02');
  });
});

describe('papers of the vet', () => {
  const instruct = { what: 'Double the interval', form: 'told' as const, reason: 'scab' };

  test('only a vet instructs, and a period that cannot be read is refused by its field', async () => {
    const { person } = await desk.started();
    expect((await desk.refused('record-instruction', { ...instruct, vet: person })).code).toBe('not-a-vet');
    const { person: vet } = await desk.ask('set-person', { name: 'Dr Wren', roles: ['vet'] });
    const periods = [{ produce: 'meat' as const, period: 'a month' }];
    expect(await desk.refused('record-instruction', { ...instruct, vet, periods })).toMatchObject({
      code: 'bad-period',
      field: 'periods.0.period',
    });
    const subjects = ['animal:none'];
    expect(await desk.refused('record-instruction', { ...instruct, vet, subjects })).toMatchObject({
      code: 'no-such-animal',
      field: 'subjects.0',
    });
    await desk.ask('record-instruction', {
      ...instruct,
      vet,
      periods: [{ produce: 'meat', period: '6 weeks' }],
    });
    expect((await desk.ask('papers', {})).instructions).toMatchObject([
      { vetName: 'Dr Wren', periods: [{ produce: 'meat', period: '42 d' }] },
    ]);
    // What was said before, but written down after, stands below; the day is that of the farm, which is an hour on.
    await desk.ask('record-instruction', { ...instruct, vet, happened: '2026-04-30T00:30', form: 'written' });
    expect((await desk.ask('papers', {})).instructions).toMatchObject([
      { form: 'told', given: '2026-05-01', subjectNames: [] },
      { form: 'written', given: '2026-04-30' },
    ]);
  });

  test('a prescription is for a medicine the book knows, and ends after it begins', async () => {
    await desk.started();
    const { person: vet } = await desk.ask('set-person', { name: 'Dr Wren', roles: ['vet'] });
    const ask = { number: 'RX 7', vet, medicine: 'none', written: '2026-05-01' };
    expect(await desk.refused('record-prescription', ask)).toMatchObject({
      code: 'no-such-medicine',
      field: 'medicine',
    });
  });
});
