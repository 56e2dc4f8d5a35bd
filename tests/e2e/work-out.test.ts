import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { addressOf } from '../../src-renderer/routes.ts';
import { SENTENCES } from '../../src-renderer/screens/work-out/sentences.ts';
import * as day from '../day/fixture.ts';
import { type DayDesk, dayDesk } from '../day/play.ts';
import { faultsOf } from './axe.ts';
import { openBrowser, type Watch, watchPage } from './browser.ts';
import { serveOwnScreens } from './own-screens.ts';
import { tabTo } from './treat-farm.ts';

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 120_000 });

const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-work-out-'));
let browser: Browser;
let desk: DayDesk;
let host: LoopbackHost;
let page: Page;
let watch: Watch;

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

beforeEach(async () => {
  desk = dayDesk();
  host = await serveOwnScreens(desk.desk, folder);
});
afterEach(async () => {
  await page.context().close();
  await host.close();
  await desk.close();
});

async function show(): Promise<void> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  page = await context.newPage();
  page.setDefaultTimeout(20_000);
  watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('heading', { level: 1 }).waitFor();
}

const heading = (name: string) => page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
const keys = async (...pressed: readonly string[]) => {
  for (const one of pressed) await page.keyboard.press(one);
};
const sentence = () => page.getByRole('group').filter({ has: page.locator('.blank') });
const big = () => page.locator('.result-big').textContent();

test('without any book a dose is typed into its sentence by keyboard, read, left, found again and copied', async () => {
  await show();
  await heading('A new book');
  await tabTo(page, /^Work something out/);
  await keys('Enter');
  await heading('Work something out');
  await tabTo(page, /^How much does this animal get/);
  await keys('Enter');
  await heading('How much does this animal get?');

  // The first key after the heading leads into the sentence, and Enter from blank to blank.
  await keys('Tab');
  await page.keyboard.type('62');
  expect(await page.getByText('Not yet').count()).toBe(0);
  await keys('Enter');
  await page.getByText('Weight: write kg or lb after “62”.').waitFor();
  await keys('Shift+Tab', 'End');
  await page.keyboard.type(' kg');
  await page.getByText('62 kilograms', { exact: true }).waitFor();
  await keys('Enter');
  await page.keyboard.type('0.2 mg/kg');
  await page.getByText('0.2 milligrams for each kilogram').waitFor();
  // Nobody has said a strength yet, and nobody has been asked for it.
  expect(await page.getByText('Not yet').count()).toBe(0);
  await keys('Enter');
  await page.keyboard.type('10 mg/mL');
  await page.locator('.result-big', { hasText: '1.2 mL' }).waitFor();
  expect(await sentence().textContent()).toContain('gets 1.24\u00a0mL, drawn as 1.2\u00a0mL');
  await page.getByText('62 kg × 0.2 mg for each kg ÷ 10 mg in each mL = 1.24 mL').waitFor();
  await page.getByRole('img', { name: '2 mL syringe filled to 1.2 mL' }).waitFor();

  // A word of the sentence opens more, and the cursor goes into it.
  await tabTo(page, /^in any syringe/);
  await keys('Enter');
  await page.keyboard.type('5 mL');
  await keys('Enter');
  await page.keyboard.type('0.5 mL');
  await page.locator('.result-big', { hasText: '1 mL' }).waitFor();
  await page.getByText('take something with finer marks').waitFor();
  await page.getByRole('img', { name: '5 mL syringe filled to 1 mL' }).waitFor();
  expect(await faultsOf(page, 'a dose')).toEqual([]);

  // Elsewhere and back again: what was typed is still there.
  await tabTo(page, /^Work out something else/);
  await keys('Enter');
  await heading('Work something out');
  await tabTo(page, /^How much does this animal get/);
  await keys('Enter');
  await page.locator('.result-big', { hasText: '1 mL' }).waitFor();
  expect(await page.getByRole('textbox', { name: 'Weight', exact: true }).inputValue()).toBe('62 kg');

  await tabTo(page, /^Copy the working/);
  await keys('Enter');
  await page.getByText('Copied.').waitFor();
  await tabTo(page, /^Start afresh/);
  await keys('Enter');
  await page.locator('.result-big').waitFor({ state: 'detached' });
  // The cursor stands in the first blank again.
  await keys('Control+v');
  const pasted = await page.getByRole('textbox', { name: 'Weight', exact: true }).inputValue();
  expect(pasted).toContain('How much does this animal get?');
  expect(pasted).toContain('62 kg × 0.2 mg for each kg ÷ 10 mg in each mL = 1.24 mL');
  expect(pasted).toContain('The label goes first');

  // Nothing came into the book, which is still to be begun.
  expect(await desk.entries()).toBe(0);
  await tabTo(page, /^Begin a book/);
  await keys('Enter');
  await heading('A new book');
  await watch.expectQuiet();
});

test('every sentence fills itself with its example, and nothing is wrong with it for who reads it otherwise', async () => {
  await show();
  for (const { topic, question } of SENTENCES) {
    await page.evaluate(
      (to) => {
        window.history.pushState(null, '', to);
        window.dispatchEvent(new PopStateEvent('popstate'));
      },
      addressOf('work-out/:topic', { topic }),
    );
    await heading(question);
    expect(await faultsOf(page, `${topic}, empty`)).toEqual([]);
    await page.getByRole('button', { name: 'Fill in an example' }).click();
    await page.locator('.result-big').waitFor();
    expect(await sentence().textContent(), topic).not.toContain('…');
    expect(await big(), topic).not.toBe('');
    // Every word that opens more is pressed once: all that can stand in the sentence stands in it.
    const words = await page.locator('.turn:not(.turn-or)').count();
    for (let n = words - 1; n >= 0; n -= 1) await page.locator('.turn:not(.turn-or)').nth(n).click();
    expect(await faultsOf(page, `${topic}, opened`)).toEqual([]);
  }
  expect(await desk.entries()).toBe(0);
  await watch.expectQuiet();
}, 240_000);

test('with a book it is one key away, and from the box that finds anything; a demo book gives nothing to copy', async () => {
  await desk.ask('start-book', {
    business: { ...day.BUSINESS, demo: true },
    holding: { ...day.HOLDING },
    keeper: day.KEEPER,
  });
  const before = await desk.entries();
  await show();
  await keys('g', 'w');
  await heading('Work something out');
  await keys('Control+k');
  // The box is loaded when it is first asked for.
  await page.getByRole('dialog').waitFor();
  await page.keyboard.type('syringe leak');
  await keys('Enter');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  await heading('Work something out');
  await page.getByRole('link', { name: 'How much was lost?' }).click();
  await heading('How much was lost?');
  await page.getByRole('button', { name: 'Fill in an example' }).click();
  await page.locator('.result-big', { hasText: '6 to 21 %' }).waitFor();
  expect(await page.getByRole('button', { name: 'Copy the working' }).count()).toBe(0);
  expect(await desk.entries()).toBe(before);
  await watch.expectQuiet();
});
