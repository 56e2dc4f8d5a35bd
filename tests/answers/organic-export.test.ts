import { afterAll, beforeAll, expect, test } from 'vitest';
import { type DeclareDesk, DRENCH, declareDesk } from './declare-desk.ts';

/** What is left out of the organic courses, and what a label that is silent on export means for who goes there. */
let d: DeclareDesk;
let antibiotic = '';
let spoken = '';

beforeAll(async () => {
  d = await declareDesk();
  const label = (name: string, more: object) =>
    d.call('set-label', { act: 'first', terms: { ...DRENCH, name, ...more } as typeof DRENCH });
  ({ medicine: antibiotic } = await label('Mostrin drench', { purpose: 'antibiotic' }));
  ({ medicine: spoken } = await label('Skarvin drench', {
    periods: [
      { produce: 'meat', says: 'value', value: '7 d' },
      { produce: 'meat', market: 'export', says: 'value', value: '20 d' },
      { produce: 'milk', says: 'not-for-this-produce' },
    ],
  }));
  await d.call('set-certificate', {
    of: `holding:${d.holding}`,
    rules: 'eu-organic',
    name: 'Organic sheep',
    from: '2025-01-01',
  });
});
afterAll(() => d.close());

const give = async (subject: string, medicine: string, happened: string): Promise<string> => {
  const { administrations } = await d.call('treat', {
    subject: subject as `animal:${string}`,
    happened,
    single: { medicine, reason: 'ill', source: 'vet' },
  });
  return administrations[0] ?? '';
};
const courses = (ask: { subject?: string; administration?: string }) =>
  d.call('organic-courses', ask as { subject?: `animal:${string}`; administration?: string });

test('each treatment says whether it counts; one left out has its reason, and is counted again when that is taken back', async () => {
  const counted = await give(d.first, antibiotic, '2026-01-10T08:00');
  const wormer = await give(d.first, spoken, '2026-01-12T08:00');
  // More than 12 months ago: no course of this year.
  await give(d.first, antibiotic, '2025-02-01T08:00');
  const page = await courses({ subject: d.first });
  expect(page.of).toMatchObject({ rules: 'eu-organic', text: '1 of 3 courses in 12 months.' });
  expect(page.courses).toMatchObject([
    { administration: wormer, counts: false, why: 'a treatment against parasites is not counted' },
    { administration: counted, counts: true },
  ]);
  expect(page.excepted).toEqual([]);
  await d.call('except-from-organic', { administration: counted, why: 'Scab order no. 4' });
  const after = await courses({ administration: counted });
  expect(after.of?.text).toBe('0 of 3 courses in 12 months.');
  expect(after.courses).toEqual(after.excepted);
  const [row] = after.excepted;
  expect(row).toMatchObject({
    counts: false,
    excepted: { why: 'Scab order no. 4', by: 'Siân Ó Briain-Łukasz', on: '1 Mar 2026' },
  });
  expect(await d.refused('except-from-organic', { administration: counted, why: 'again' })).toMatchObject({
    code: 'already-excepted',
    next: expect.any(String),
  });
  expect(await d.refused('except-from-organic', { administration: wormer, why: 'no need' })).toMatchObject({
    code: 'counts-for-nothing',
  });
  if (row?.excepted === undefined) throw new Error('it is left out');
  await d.call('void', { entry: row.excepted.entry, reason: 'It was no scheme' });
  expect((await courses({ subject: d.first })).courses).toMatchObject([{}, { counts: true }]);
  expect((await courses({})).excepted).toEqual([]);
});

test('who is covered by no certificate has no standing, and what was left out of a treatment that is struck out is gone', async () => {
  const { holding } = await d.call('set-holding', {
    name: 'Blaen y Nant',
    number: '99/999/0043',
    address: 'Cwm Uchaf',
    zone: 'Europe/London',
    law: 'gb',
  });
  const { animal } = await d.call('set-animal', { holding, tag: 'UK 9999999 00030', class: 'ewe' });
  const subject = `animal:${animal}`;
  await d.call('weigh', { subject: subject as `animal:${string}`, weight: '62 kg', how: 'crate' });
  const administration = await give(subject, antibiotic, '2026-02-01T08:00');
  expect((await courses({ subject })).of).toBeUndefined();
  await d.call('except-from-organic', { administration, why: 'Scab order no. 5' });
  expect((await courses({})).excepted).toHaveLength(1);
  const { entry } = await d.call('treatment', { administration });
  await d.call('void', { entry, reason: 'never given' });
  expect((await courses({})).excepted).toEqual([]);
});

test('a label that is silent on export is named: on the list with its heads, and on the paper', async () => {
  await give(d.second, spoken, '2026-02-15T08:00');
  await give(d.third, spoken, '2026-01-20T08:00');
  await give(d.third, antibiotic, '2026-01-20T08:00');
  const list = (destination: 'export' | 'domestic') =>
    d.call('clear-list', { at: '2026-03-02', destination });
  const here = await list('domestic');
  expect([here.silent, here.clear.filter((row) => row.silent !== undefined)]).toEqual([[], []]);
  expect(here.held).toEqual([]);
  const abroad = await list('export');
  // 15 Feb + 20 d for export; for people here the 7 d are over.
  expect(abroad.held.map(({ subject, why }) => [subject, why])).toEqual([
    [d.second, 'Meat for export held until 8 Mar 2026, 00:00 (Skarvin drench, 20 d)'],
  ]);
  expect(abroad.silent).toEqual([{ product: 'Mostrin drench', heads: 2 }]);
  expect(abroad.clear.find(({ subject }) => subject === d.third)?.silent).toEqual(['Mostrin drench']);
  const ask = {
    holding: d.holding,
    to: 'Glanrhyd Meats',
    departs: '2026-03-02',
    subjects: [{ subject: d.third as `animal:${string}` }],
  };
  const said = async (more: object) => (await d.call('preview-declaration', { ...ask, ...more })).sentences;
  const words =
    'The label of Mostrin drench says nothing of export: for it the period for people here is counted.';
  expect(await said({ destination: 'export' })).toContain(words);
  expect(await said({})).not.toContain(words);
});
