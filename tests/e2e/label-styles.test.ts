import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { openDesk } from '../../src-main/answers/desk.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import type { Ask, Reply, WritingCall } from '../../src-shared/calls/all.ts';
import { FARM } from '../answers/farm-desk.ts';
import { goTo, openBrowser, type Watch, watchPage } from './browser.ts';
import { INSERTS, type Insert } from './label-inserts.ts';
import { serveOwnScreens } from './own-screens.ts';
import { labelForm } from './pages/label.ts';

// A computer that is busy with other tests may need many times what one alone does.
vi.setConfig({ testTimeout: 120_000 });

let browser: Browser;
let desk: Desk;
let host: LoopbackHost;
let folder: string;
let page: Page;
let watch: Watch;
let now = '2026-05-01T09:00:00.000Z';
let me = 'nobody';
let holding: string;

async function write<N extends WritingCall>(name: N, ask: Omit<Ask<N>, 'request' | 'by'>): Promise<Reply<N>> {
  const answer = await desk.call(name, { request: randomUUID(), by: me, ...ask });
  if (!answer.ok) throw new Error(`${name}: ${answer.error.message}`);
  return answer.value as Reply<N>;
}

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'label-styles-'));
  desk = openDesk({ book: path.join(folder, 'a.foldbook'), clock: () => now });
  const started = await write('start-book', structuredClone(FARM));
  me = started.person;
  holding = started.holding;
  host = await serveOwnScreens(desk, folder);
  browser = await openBrowser();
  page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('main').waitFor();
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  await desk?.close();
  rmSync(folder, { recursive: true });
});

const heading = (name: string) => page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
const send = () => page.keyboard.press('Control+Enter');
const lines = () => page.locator('.label-says li').allTextContents();

async function startLabel() {
  await goTo(page, '/?at=cabinet/label');
  await heading('Add a medicine from its insert');
  await page.getByRole('group', { name: 'The label' }).waitFor();
  // What a test that failed left behind.
  const afresh = page.getByRole('button', { name: 'Start afresh' });
  if ((await afresh.count()) > 0) await afresh.click();
  return labelForm(page);
}

/** The second typing: each field by what it is called, from the insert. */
async function typeAgain(again: Insert['again']): Promise<void> {
  const labels = page.locator('form .field-label');
  await expect.poll(() => labels.allTextContents(), { timeout: 20_000 }).toEqual(Object.keys(again));
  for (const [label, text] of Object.entries(again)) await page.getByLabel(label, { exact: true }).fill(text);
}

async function revisionOf(medicine: string): Promise<Reply<'medicine'>['revisions'][number]> {
  const answer = await desk.call('medicine', { medicine });
  if (!answer.ok) throw new Error(answer.error.message);
  const [revision] = (answer.value as Reply<'medicine'>).revisions;
  if (revision === undefined) throw new Error('the medicine has no label');
  return revision;
}
const medicineHere = () => decodeURIComponent(page.url().split('medicine/')[1] ?? '');

test.each(INSERTS)('$style is typed as printed, read back, and typed again', async (insert) => {
  const form = await startLabel();
  await form.fill(insert.terms);
  await expect.poll(() => form.gives(), { timeout: 10_000 }).toEqual(insert.gives);
  for (const text of insert.reads) await expect.poll(lines, { timeout: 10_000 }).toContain(text);
  await send();
  if (insert.asks !== undefined) {
    await page.getByText(insert.asks).waitFor();
    await press('Yes, the label says so');
  }
  await heading(`${insert.terms.name}: once more`);
  await typeAgain(insert.again);
  await send();
  await heading(insert.terms.name);
  for (const text of insert.reads) await page.getByText(text, { exact: true }).waitFor();
  const { state, terms } = await revisionOf(medicineHere());
  expect(state).toBe('confirmed');
  expect(terms).toMatchObject(insert.terms);
  await watch.expectQuiet();
});

test('a slip that only the second typing finds does not get past it, and what was typed stays', async () => {
  const form = await startLabel();
  const [insert] = INSERTS;
  if (insert === undefined) throw new Error('there is an insert');
  const { terms } = insert;
  // 41 is typed as 14.
  const slipped = {
    ...terms,
    name: 'Morvane slip',
    periods: [{ ...terms.periods[0]!, value: '14 d' }, terms.periods[1]!],
  };
  await form.fill(slipped);
  await send();
  await heading('Morvane slip: once more');
  await typeAgain(insert.again);
  await send();
  await page.getByText('Not written').waitFor();
  const said = await page.locator('.field-error').allTextContents();
  expect(said).toEqual(['Not yet: Meat period: this is not what you typed the first time.']);
  await press('Go back to the label');
  await heading('Add a medicine from its insert');
  expect(await page.locator('[name="doseLines.0.rate.text"]').inputValue()).toBe('0.2 mg/kg');
  await form.put('periods.0.value', '41 d');
  await send();
  await heading('Morvane slip: once more');
  await typeAgain(insert.again);
  await send();
  await heading('Morvane slip');
  await watch.expectQuiet();
});

let medicine: string;
let revision: string;
let subject: string;
beforeAll(async () => {
  const terms: Ask<'check-label'>['terms'] = {
    name: 'Sorrelin drench',
    form: 'drench',
    kind: 'volume',
    purpose: 'vitamin-mineral',
    actives: [{ substance: 'sorrelin', strength: '10 mg/mL' }],
    doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '1 mg/kg' } }],
    periods: [
      { produce: 'meat', says: 'value', value: '14 d' },
      { produce: 'milk', says: 'not-for-this-produce' },
    ],
  };
  ({ medicine, revision } = await write('set-label', { act: 'first', terms }));
  await write('receive-batch', {
    medicine,
    number: 'S1',
    expiry: '2028-01',
    packs: [{ count: 1, size: '500 mL' }],
    supplier: 'Glenside Supplies',
  });
  const { animal } = await write('set-animal', { holding, class: 'ewe', management: 'S 7' });
  subject = `animal:${animal}`;
  await write('treat', { subject, weight: '60 kg', single: { medicine, reason: 'thin' } });
  for (const day of ['2026-05-14', '2026-05-16']) {
    now = `${day}T09:00:00.000Z`;
    await write('confirm-date', { day });
  }
  const declared = await write('declare', {
    holding,
    to: 'Hillend Meats',
    departs: '2026-05-16T12:00',
    subjects: [{ subject }],
    signer: me,
    answer: 'yes',
  });
  expect(declared).toMatchObject({ number: 1 });
});

test('a typing error: in words, in mL, and with every hold and declaration that moves, before it is confirmed', async () => {
  await goTo(page, `/?at=cabinet/label/${medicine}/correct/${revision}`);
  await heading('Sorrelin drench: correct what was typed');
  const form = labelForm(page);
  await form.put('why', '41 read as 14, and mg for 2 mg');
  await form.put('periods.0.value', '41 d');
  await form.put('doseLines.0.rate.text', '2 mg/kg');
  await page.getByRole('heading', { name: 'What changes' }).waitFor();
  await expect
    .poll(() => page.locator('.label-samples:not([role]) dd').allTextContents())
    .toEqual(['was 2 mL, now 4 mL', 'was 4.5 mL, now 9 mL', 'was 8 mL, now 16 mL']);
  await send();
  await heading('Sorrelin drench: once more');
  await typeAgain({ Rate: '2 mg/kg', 'Meat period': '41 d' });
  await send();
  await heading('Sorrelin drench: what moves');
  const moved = page.getByRole('row').filter({ hasText: 'S 7' });
  await moved.waitFor();
  expect(await moved.textContent()).toContain('15 May 2026, 10:00');
  expect(await moved.textContent()).toContain('11 Jun 2026, 10:00');
  await page.getByText('Hillend Meats was told something that is then no longer so').waitFor();
  expect(await page.locator('.label-samples dd').allTextContents()).toContain('was 4.5 mL, now 9 mL');
  // Nothing is written before it is confirmed.
  expect((await revisionOf(medicine)).terms.periods[0]?.value).toBe('14 d');
  await press('Correct it in the book');
  await heading('Sorrelin drench');
  expect((await revisionOf(medicine)).terms.periods[0]?.value).toBe('41 d');
  await watch.expectQuiet();
});

test('a new insert: a shorter period is asked about, and what was given before stays as it was decided', async () => {
  await goTo(page, `/?at=cabinet/label/${medicine}/new-insert`);
  await heading('Sorrelin drench: a new insert');
  const form = labelForm(page);
  await page.getByText('So far it says the same as before.').waitFor();
  await form.put('periods.0.value', '28 d');
  await send();
  await page
    .getByText('Meat: 28 days is shorter than an earlier label said (41 days): is the label so?')
    .waitFor();
  await press('Yes, the label says so');
  await heading('Sorrelin drench: once more');
  await typeAgain({ Rate: '2 mg/kg', 'Strength of sorrelin': '1 %', 'Meat period': '28 d' });
  await send();
  await heading('Sorrelin drench');
  const newest = await revisionOf(medicine);
  expect(newest).toMatchObject({ n: 2, act: 'new-insert', state: 'confirmed' });
  const answer = await desk.call('subject', { subject });
  if (!answer.ok) throw new Error(answer.error.message);
  const { holds } = answer.value as Reply<'subject'>;
  expect(holds.find((hold) => hold.produce === 'meat')?.untilText).toBe('11 Jun 2026, 10:00');
  await watch.expectQuiet();
});
