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
import { DRENCH, FARM } from '../answers/farm-desk.ts';
import { openBrowser, serveScreens, watchPage } from './browser.ts';

// Each takes some seconds by itself; a computer that is busy with other tests may need many times that.
vi.setConfig({ testTimeout: 120_000 });

let browser: Browser;
let desk: Desk;
let host: LoopbackHost;
let folder: string;
let me = 'nobody';
let drench: Reply<'set-label'>;
let ewe: string;

async function write<N extends WritingCall>(name: N, ask: Omit<Ask<N>, 'request' | 'by'>): Promise<Reply<N>> {
  const answer = await desk.call(name, { request: randomUUID(), by: me, ...ask });
  if (!answer.ok) throw new Error(`${name}: ${answer.error.message}`);
  return answer.value as Reply<N>;
}

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'cabinet-'));
  desk = openDesk({ book: path.join(folder, 'a.foldbook'), clock: () => '2026-05-01T09:00:00.000Z' });
  const { person, holding } = await write('start-book', structuredClone(FARM));
  me = person;
  drench = await write('set-label', { act: 'first', terms: structuredClone(DRENCH) });
  await write('receive-batch', {
    medicine: drench.medicine,
    number: 'B4',
    expiry: '2026-05',
    packs: [{ count: 2, size: '500 mL' }],
    supplier: 'Glenside Supplies',
  });
  const { animal } = await write('set-animal', { holding, class: 'ewe', management: 'E 7' });
  ewe = `animal:${animal}`;
  await write('treat', {
    subject: ewe,
    weight: '60 kg',
    single: { medicine: drench.medicine, reason: 'worms' },
  });
  host = await serveScreens(desk);
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  desk?.close();
  rmSync(folder, { recursive: true });
});

async function open() {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('main').waitFor();
  return { page, watch };
}

/** What the cursor stands on, as somebody would call it: the first text of its label, or its own. */
const atCursor = (page: Page) =>
  page.evaluate(() => {
    const at = document.activeElement;
    if (at instanceof HTMLInputElement && at.type === 'radio') {
      return at.closest('fieldset')?.querySelector('legend')?.firstChild?.textContent ?? '';
    }
    const isField =
      at instanceof HTMLInputElement || at instanceof HTMLSelectElement || at instanceof HTMLTextAreaElement;
    return (isField ? at.labels?.[0]?.firstChild?.textContent : at?.textContent) ?? '';
  });

/** What a dose line is said to give, weight by weight. */
const gives = async (page: Page) => {
  const said = await page.locator('.label-samples dl > div').all();
  return Promise.all(said.map(async (one) => (await one.locator('dt, dd').allTextContents()).join(': ')));
};

/** Presses Tab until the cursor stands on something of this name. */
async function tabTo(page: Page, name: string): Promise<void> {
  const passed: string[] = [];
  for (let n = 0; n < 120; n += 1) {
    if (n > 0) await page.keyboard.press('Tab');
    const here = await atCursor(page);
    if (here === name && n > 0) return;
    passed.push(here);
  }
  throw new Error(`Tab never reached ${name}; it passed ${passed.join(' | ')}`);
}
async function fill(page: Page, name: string, text: string): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press('Control+A');
  await page.keyboard.type(text);
}
/** Chooses in a box that drops down, by the arrow. */
async function choose(page: Page, name: string, option: string): Promise<void> {
  await tabTo(page, name);
  for (let n = 0; n < 30; n += 1) {
    const chosen = await page.evaluate(() => {
      const box = document.activeElement;
      return box instanceof HTMLSelectElement ? box.selectedOptions[0]?.text : undefined;
    });
    if (chosen === option) return;
    await page.keyboard.press('ArrowDown');
  }
  throw new Error(`${name} has no ${option}`);
}
/** Chooses the nth of a few that are all shown. */
async function pick(page: Page, name: string, n: number): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press('Space');
  for (let m = 1; m < n; m += 1) await page.keyboard.press('ArrowDown');
}
async function press(page: Page, name: string): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press('Enter');
}
const send = (page: Page) => page.keyboard.press('Control+Enter');
const heading = (page: Page, name: string | RegExp) =>
  page.getByRole('heading', { level: 1, name }).waitFor();
const said = (page: Page, text: string) => page.getByText(text, { exact: true }).first().waitFor();

test('a label printed for pounds is typed, read back, typed again, and its batch is taken in by month', async () => {
  const { page, watch } = await open();
  await page.keyboard.press('n');
  await page.keyboard.press('l');
  await heading(page, 'Add a medicine from its insert');
  await send(page);
  await page.getByText('Not written').waitFor();
  expect(await page.locator('.problems li').count()).toBeGreaterThan(5);
  await fill(page, 'Name', 'Fellmere drench');
  await choose(page, 'What it is', 'A drench');
  await pick(page, 'How it is measured', 1);
  await choose(page, 'What it is for', 'Against parasites');
  await fill(page, 'Active substance', 'fellmerol');
  await fill(page, 'Strength', '10 mg/mL');
  await said(page, '10 milligrams in each millilitre');
  await choose(page, 'How it is given', 'By mouth');
  await fill(page, 'Dose', '1 mL per 50 lb');
  await said(page, '1 millilitre for each 50 pounds');
  // 44.09, 99.2 and 176.4 lb; against parasites what cannot be drawn goes up.
  expect(await gives(page)).toEqual(['20 kg: 0.89 mL', '45 kg: 2 mL', '80 kg: 3.6 mL']);
  expect(await page.getByText(/needle|in one place/i).count()).toBe(0);
  await choose(page, 'The label says', 'A period in days or hours');
  await fill(page, 'Period', '28 days');
  await choose(page, 'The label says', 'Not for animals that give this for people');
  await said(page, 'Meat: 28 days after the last dose.');
  await send(page);
  await heading(page, 'Fellmere drench: once more');
  await fill(page, 'Rate', '1 mL per 5 lb');
  await fill(page, 'Strength of fellmerol', '1 %');
  await fill(page, 'Meat period', '28 d');
  await send(page);
  await page.getByText('Rate: this is not what you typed the first time.').first().waitFor();
  await fill(page, 'Rate', '2 mL per 100 lb');
  await send(page);
  await heading(page, 'Fellmere drench');
  await said(page, 'Meat: 28 days after the last dose.');

  await page.keyboard.press('+');
  await heading(page, 'Take in a delivery');
  await page.waitForFunction(() => document.activeElement?.getAttribute('name') === 'number');
  await page.keyboard.type('FM 20');
  await fill(page, 'Expiry', '03/2027');
  await said(page, 'Usable through 31 Mar 2027.');
  await fill(page, 'Packs', '2 × 500 mL, 1 L');
  await said(page, '3 containers, 2000 mL in all.');
  await fill(page, 'Supplier', 'Glenside Supplies');
  await send(page);
  await heading(page, 'Taken in');
  await page.getByText('FM 20-1, FM 20-2 and FM 20-3').waitFor();

  await press(page, 'Look at the first of them');
  await heading(page, 'Fellmere drench · FM 20-1');
  await said(page, '31 Mar 2027');
  await press(page, 'Open it');
  await page.waitForFunction(() => document.activeElement?.getAttribute('name') === 'happened');
  await send(page);
  await page.getByText('FM 20-1 is open. Use it by 31 Mar 2027.').waitFor();
  await page.keyboard.press('=');
  await page.waitForFunction(() => document.activeElement?.getAttribute('name') === 'amount');
  await page.keyboard.type('485 mL');
  await said(page, 'The book has 500 mL: 15 mL less is there.');
  await send(page);
  await page.getByText('FM 20-1: 485 mL left, open.').waitFor();
  await said(page, '-15 mL');
  await watch.expectQuiet();
  await page.context().close();
});

test('a banded label of boluses says what each weight gets and where there is no dose', async () => {
  const { page, watch } = await open();
  await page.keyboard.press('n');
  await page.keyboard.press('l');
  await heading(page, 'Add a medicine from its insert');
  await fill(page, 'Name', 'Tessel bolus');
  await choose(page, 'What it is', 'A bolus');
  await pick(page, 'How it is measured', 3);
  await fill(page, 'One piece is called', 'bolus');
  await choose(page, 'What it is for', 'Vitamins or minerals');
  await choose(page, 'How it is given', 'By mouth');
  await pick(page, 'How the dose is printed', 2);
  await fill(page, 'Up to', '25 kg');
  await fill(page, 'Dose', '1 bolus');
  await press(page, 'Add another weight');
  await page.waitForFunction(
    () => document.activeElement?.getAttribute('name') === 'doseLines.0.rate.bands.1.upTo',
  );
  await page.keyboard.type('60 kg');
  await fill(page, 'Dose', '2 boluses');
  const [light, heavy, none] = await gives(page);
  expect([light, heavy]).toEqual(['20 kg: 1 bolus', '45 kg: 2 boluses']);
  expect(none).toMatch(/^80 kg: No dose\. /);
  await choose(page, 'The label says', 'Zero: it may be taken at once');
  await choose(page, 'The label says', 'Zero: it may be taken at once');
  await send(page);
  await heading(page, 'Tessel bolus: once more');
  await fill(page, 'Table, line 1: up to', '25 kg');
  await fill(page, 'Table, line 1: dose', '1 bolus');
  await fill(page, 'Table, line 2: up to', '60 kg');
  await fill(page, 'Table, line 2: dose', '2 boluses');
  await fill(page, 'Meat period', 'zero');
  await send(page);
  await heading(page, 'Tessel bolus');
  await said(page, 'Meat: zero. It may be taken at once.');
  await watch.expectQuiet();
  await page.context().close();
});

test('an unfinished label is there again after going elsewhere', async () => {
  const { page, watch } = await open();
  await page.keyboard.press('n');
  await page.keyboard.press('l');
  await heading(page, 'Add a medicine from its insert');
  await fill(page, 'Name', 'Half a label');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Keep it for later' }).waitFor();
  await press(page, 'Keep it for later');
  await heading(page, 'Cabinet');
  await page.keyboard.press('n');
  await page.keyboard.press('l');
  await page.getByText('This form goes on from where it was left.').waitFor();
  expect(await page.locator('input[name="name"]').inputValue()).toBe('Half a label');
  await press(page, 'Start afresh');
  expect(await page.locator('input[name="name"]').inputValue()).toBe('');
  await watch.expectQuiet();
  await page.context().close();
});

test('a period typed wrongly shows every hold that moves before anything is written', async () => {
  const { page, watch } = await open();
  await page.goto(`${host.origin}/?at=cabinet/medicine/${drench.medicine}`);
  await heading(page, 'Calverol drench');
  await press(page, 'Correct a typing error');
  await heading(page, 'Calverol drench: correct what was typed');
  await fill(page, 'What was wrong', '28 read for 42');
  await fill(page, 'Period', '42 d');
  await send(page);
  await heading(page, 'Calverol drench: once more');
  await fill(page, 'Meat period', '42 d');
  await send(page);
  await heading(page, 'Calverol drench: what moves');
  const row = page.getByRole('row').filter({ hasText: 'E 7' });
  await row.waitFor();
  expect(await row.textContent()).toContain('29 May 2026, 10:00');
  expect(await row.textContent()).toContain('12 Jun 2026, 10:00');
  const holds = async () => {
    const answer = await desk.call('subject', { subject: ewe });
    if (!answer.ok) throw new Error(answer.error.message);
    return (answer.value as Reply<'subject'>).holds.map((hold) => hold.untilText);
  };
  expect(await holds()).toContain('29 May 2026, 10:00');
  await press(page, 'Correct it in the book');
  await heading(page, 'Calverol drench');
  await said(page, 'Meat: 42 days after the last dose.');
  expect(await holds()).toContain('12 Jun 2026, 10:00');
  await watch.expectQuiet();
  await page.context().close();
});

test('stock near its date is said under Order with its deed, and leads to the medicine', async () => {
  const { page, watch } = await open();
  await page.keyboard.press('g');
  await page.keyboard.press('o');
  await heading(page, 'Order');
  await page
    .getByText('2 containers of Calverol drench must be used soon, the first by 28 May 2026.')
    .waitFor();
  await press(page, 'See them');
  await heading(page, 'Calverol drench');
  await watch.expectQuiet();
  await page.context().close();
});
