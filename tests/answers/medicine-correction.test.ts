import { randomUUID } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Store } from '../../src-main/store/store.ts';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, FARM, type FarmDesk, farmDesk } from './farm-desk.ts';

type Terms = Ask<'check-label'>['terms'];
let desk: FarmDesk;
let holding: string;
let medicine: string;
let revision: string;
let ewe: string;

const label = (more: Partial<Terms> = {}): Terms => ({ ...structuredClone(DRENCH), ...more });
const meat = (value: string): Terms => label({ periods: [{ produce: 'meat', says: 'value', value }] });
const deliver = (more: object = {}) =>
  desk.ask('receive-batch', {
    medicine,
    number: 'B4',
    expiry: '2027-03',
    packs: [{ count: 1, size: '500 mL' }],
    ...more,
  });
const treat = (more: object = {}) =>
  desk.ask('treat', { subject: ewe, weight: '60 kg', single: { medicine, reason: 'worms' }, ...more });
const wrong = (terms: Terms, more: object = {}) =>
  desk.ask('set-label', { act: 'typed-wrongly', medicine, revision, terms, ...more });
const meatHold = async (subject = ewe) => {
  const { holds } = await desk.ask('subject', { subject });
  return holds.filter((hold) => hold.produce === 'meat').map((hold) => hold.untilText);
};
const count = (kind: string) =>
  desk.peek((store) => store.entriesBetween(1, 1000).filter((entry) => entry.kind === kind).length);

beforeEach(async () => {
  desk = farmDesk();
  ({ holding } = await desk.started());
  ({ medicine, revision } = await desk.ask('set-label', { act: 'first', terms: meat('28 d') }));
  const { animal } = await desk.ask('set-animal', { holding, class: 'ewe', management: 'E 7' });
  ewe = `animal:${animal}`;
});
afterEach(() => desk.close());

describe('a period that was typed wrongly', () => {
  test('moves every hold under it, says what it moved, and writes one entry for each', async () => {
    await deliver();
    await treat();
    expect(await meatHold()).toEqual(['29 May 2026, 10:00']);
    const preview = await desk.ask('preview-label-correction', { medicine, revision, terms: meat('42 d') });
    expect(preview.differences).toEqual([
      'Was: Meat: 28 days after the last dose. Now: Meat: 42 days after the last dose.',
    ]);
    expect(await meatHold()).toEqual(['29 May 2026, 10:00']);
    const reply = await wrong(meat('42 d'), { why: '28 read for 42' });
    expect(reply.moved).toEqual(preview.moved);
    expect(reply.moved).toMatchObject([
      {
        subject: ewe,
        shown: 'E 7',
        given: '1 May 2026, 10:00',
        produce: 'meat',
        from: '29 May 2026, 10:00',
        to: '12 Jun 2026, 10:00',
      },
    ]);
    expect(await meatHold()).toEqual(['12 Jun 2026, 10:00']);
    expect(await count('reassessed')).toBe(1);
    const { revisions } = await desk.ask('medicine', { medicine });
    expect(revisions).toMatchObject([{ n: 1, revision, act: 'typed-wrongly' }]);
  });

  test('a new insert leaves what was given under the old one alone', async () => {
    await deliver();
    await treat();
    const reply = await desk.ask('set-label', { act: 'new-insert', medicine, terms: meat('42 d') });
    expect(reply).toMatchObject({ moved: [], notices: [] });
    expect(reply.revision).not.toBe(revision);
    expect(await meatHold()).toEqual(['29 May 2026, 10:00']);
    expect(await count('reassessed')).toBe(0);
    // The old bottle still goes by its own insert.
    const second = await desk.ask('set-animal', { holding, class: 'ewe', management: 'E 8' });
    await treat({ subject: `animal:${second.animal}` });
    expect(await meatHold(`animal:${second.animal}`)).toEqual(['29 May 2026, 10:00']);
  });

  test('a dose out of two boxes keeps the longer period of both', async () => {
    await deliver({ packs: [{ count: 1, size: '5 mL' }] });
    await deliver({ number: 'B5', expiry: '2028-01', insert: { terms: meat('35 d') } });
    await treat();
    expect(await meatHold()).toEqual(['5 Jun 2026, 10:00']);
    expect((await wrong(meat('30 d'))).moved).toEqual([]);
    expect((await wrong(meat('40 d'))).moved).toMatchObject([
      { from: '5 Jun 2026, 10:00', to: '10 Jun 2026, 10:00' },
    ]);
  });

  test('what the vet brought under this label moves too', async () => {
    await treat({ single: { medicine, reason: 'worms', source: 'vet' } });
    expect((await wrong(meat('29 d'))).moved).toHaveLength(1);
    expect(await meatHold()).toEqual(['30 May 2026, 10:00']);
  });

  test('a period that is really not stated never clears by time', async () => {
    await deliver();
    await treat();
    const { moved } = await wrong(label({ periods: [{ produce: 'meat', says: 'not-stated' }] }));
    expect(moved).toMatchObject([{ to: 'not stated: never clears by time' }]);
  });

  test('an open course holds from its planned last dose', async () => {
    await deliver();
    await treat({
      single: { medicine, doseLine: 'd1', reason: 'worms' },
      course: { planned: ['2026-05-01T10:00', '2026-05-08T10:00'] },
    });
    expect(await meatHold()).toEqual(['5 Jun 2026, 10:00']);
    await wrong(meat('42 d'));
    expect(await meatHold()).toEqual(['19 Jun 2026, 10:00']);
  });

  test('the period the vet stated is never shortened by a label', async () => {
    const { person: vet } = await desk.ask('set-person', { name: 'Dr Wren', roles: ['vet'] });
    const { instruction } = await desk.ask('record-instruction', {
      vet,
      what: 'as told',
      form: 'written',
      reason: 'mites',
      periods: [{ produce: 'meat', period: '60 d' }],
    });
    await deliver();
    await treat({ single: { medicine, reason: 'mites', instruction } });
    expect(await meatHold()).toEqual(['30 Jun 2026, 10:00']);
    expect((await wrong(meat('14 d'))).moved).toEqual([]);
    expect((await wrong(meat('70 d'))).moved).toMatchObject([{ to: '10 Jul 2026, 10:00' }]);
  });

  test('counting and the farm’s margin stay those of the day it was given', async () => {
    await desk.ask('set-holding', { ...FARM.holding, holding, marginDays: 3 });
    await deliver();
    await treat();
    expect(await meatHold()).toEqual(['1 Jun 2026, 10:00']);
    await desk.ask('set-holding', { ...FARM.holding, holding, marginDays: 0, counting: 'whole-days' });
    await wrong(meat('42 d'));
    expect(await meatHold()).toEqual(['15 Jun 2026, 10:00']);
  });

  test('a treatment that was struck out stays out', async () => {
    await deliver();
    const request = randomUUID();
    const given = await treat({ request });
    const written = await desk.peek((store) =>
      store.entriesBetween(1, 100).filter((each) => each.request === request),
    );
    const entry = written.find((each) => each.kind === 'administered');
    await desk.ask('void', { entry: { request, n: entry?.n ?? 0 }, reason: 'wrong ewe' });
    expect(given.administrations).toHaveLength(1);
    expect((await wrong(meat('42 d'))).moved).toEqual([]);
    expect(await meatHold()).toEqual([]);
  });

  test('the clock set back since does not lose the correction', async () => {
    await deliver();
    desk.at('2026-05-10T09:00:00.000Z');
    await treat();
    desk.at('2026-05-09T09:00:00.000Z');
    await wrong(meat('42 d'));
    expect(await meatHold()).toEqual(['21 Jun 2026, 10:00']);
  });

  test('sent twice it is decided anew once', async () => {
    await deliver();
    await treat();
    const ask = { request: randomUUID() };
    const first = await wrong(meat('42 d'), ask);
    expect(await wrong(meat('42 d'), ask)).toEqual(first);
    expect(await count('reassessed')).toBe(1);
    const other = { act: 'typed-wrongly' as const, medicine, revision, terms: meat('43 d'), ...ask };
    expect((await desk.refused('set-label', other)).code).toBe('request-id-reused');
  });

  test('folding the whole book anew gives the same holds and the same bottles', async () => {
    const { containers } = await deliver();
    await treat();
    await wrong({ ...meat('42 d'), inUse: '10 d' });
    const rows = (store: Store) => [
      ...store.read.all('SELECT * FROM hold ORDER BY subject, source, produce, market'),
      ...store.read.all('SELECT * FROM container'),
    ];
    const before = await desk.peek(rows);
    expect(before).toHaveLength(2 + containers.length);
    await desk.refold((store) => expect(rows(store)).toEqual(before));
  });
});

describe('a rate that was typed wrongly', () => {
  test('makes what was given an overdose, whose period only the vet can state', async () => {
    await deliver();
    await treat();
    const rate = { style: 'rate' as const, text: '0.1 mg/kg' };
    const terms = { ...meat('28 d'), doseLines: [{ id: 'd1', route: 'oral' as const, rate }] };
    const reply = await wrong(terms);
    expect(reply.moved.find((row) => row.produce === 'meat')).toMatchObject({
      from: '29 May 2026, 10:00',
      to: 'not stated: never clears by time',
    });
    expect(reply.questions.map((question) => question.code)).toContain('over-label');
    expect(await meatHold()).toEqual(['not stated: never clears by time']);
  });

  test('and corrected once more, the first decision stands again, the milk of a dry ewe unseen', async () => {
    await deliver();
    await treat();
    const states = async () =>
      (await desk.ask('subject', { subject: ewe })).holds.map((hold) => [
        hold.produce,
        hold.state,
        hold.untilText,
      ]);
    const before = await states();
    const rate = { style: 'rate' as const, text: '0.1 mg/kg' };
    await wrong({ ...meat('28 d'), doseLines: [{ id: 'd1', route: 'oral', rate }] });
    await wrong(meat('28 d'));
    expect(await states()).toEqual(before);
    expect(before.map(([produce, state]) => [produce, state])).toContainEqual(['milk', 'dormant']);
  });
});

describe('an in-use life that was typed wrongly', () => {
  test('moves the use-by of bottles already open', async () => {
    const { containers } = await deliver();
    const container = containers[0]?.container ?? '';
    await desk.ask('open-container', { container });
    const reply = await wrong({ ...meat('28 d'), inUse: '10 h' });
    expect(reply.questions).toMatchObject([
      { code: 'use-by-moved', text: expect.stringContaining('1 May 2026, until 20:00') },
    ]);
    expect((await desk.ask('container', { container })).container).toMatchObject({
      state: 'open',
      unusableFrom: '2026-05-01T20:00',
      opened: '1 May 2026, 10:00',
    });
    desk.at('2026-05-01T19:00:00.000Z');
    expect((await desk.ask('container', { container })).container.state).toBe('past-in-use');
  });
});

describe('a declaration signed before', () => {
  test('is named when the label it rested on was typed wrongly, and only then', async () => {
    await deliver();
    await treat();
    desk.at('2026-05-14T09:00:00.000Z');
    await desk.ask('confirm-date', { day: '2026-05-14' });
    desk.at('2026-05-27T09:00:00.000Z');
    await desk.ask('confirm-date', { day: '2026-05-27' });
    desk.at('2026-05-30T09:00:00.000Z');
    const { person: signer } = (await desk.ask('farm', {})).people[0] ?? { person: '' };
    const asked = { holding, to: 'Hillend Meats', departs: '2026-05-30T12:00', subjects: [{ subject: ewe }] };
    const declared = await desk.ask('declare', { ...asked, ...SIGNED(signer) } as never);
    const preview = await desk.ask('preview-label-correction', { medicine, revision, terms: meat('29 d') });
    expect(preview.notices).toMatchObject([{ number: 1, to: 'Hillend Meats' }]);
    const reply = await wrong(meat('42 d'));
    expect(reply.notices).toHaveLength(1);
    expect(reply.notices[0]?.text).toContain('12 Jun 2026, 10:00');
    expect(declared).toMatchObject({ number: 1 });
  });
});

const SIGNED = (signer: string) => ({ signer, answer: 'yes' as const });

describe('corrections that are none', () => {
  test.each([
    [{ act: 'typed-wrongly', terms: meat('28 d') }, 'medicine-missing', 'medicine'],
    [{ act: 'new-insert', terms: meat('28 d') }, 'medicine-missing', 'medicine'],
    [{ act: 'new-insert', medicine: 'none', terms: meat('28 d') }, 'no-such-medicine', 'medicine'],
  ] as const)('%j', async (ask, code, field) => {
    expect(await desk.refused('set-label', structuredClone(ask) as never)).toMatchObject({ code, field });
  });

  test('of nothing, of no label, of another medicine, or into another unit', async () => {
    const ask = { act: 'typed-wrongly' as const, medicine, terms: meat('28 d') };
    expect((await desk.refused('set-label', ask)).code).toBe('revision-missing');
    expect((await desk.refused('set-label', { ...ask, revision: 'none' })).code).toBe('no-such-label');
    expect((await desk.refused('set-label', { ...ask, revision })).code).toBe('nothing-changed');
    await deliver();
    const terms = {
      ...label({ kind: 'pieces', piece: 'bolus', form: 'bolus', actives: [] }),
      doseLines: [
        { id: 'd1', route: 'oral' as const, rate: { style: 'rate' as const, text: '1 bolus per head' } },
      ],
    };
    expect((await desk.refused('set-label', { ...ask, revision, terms })).code).toBe('kind-fixed');
    const bad = { ...ask, revision, terms: meat('28') };
    expect(await desk.refused('set-label', bad)).toMatchObject({
      code: 'bad-period',
      field: 'periods.0.value',
    });
  });
});
