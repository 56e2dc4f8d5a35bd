import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { faultsOf } from './axe.ts';
import { openBrowser, serveScreens, watchPage } from './browser.ts';
import { tabTo, treatFarm } from './treat-farm.ts';

const farm = treatFarm();
let host: LoopbackHost;
let browser: Browser;
beforeAll(async () => {
  await farm.seed(1);
  host = await serveScreens(farm.desk());
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  await farm.close();
});

const heading = (page: Page, name: string) => page.getByRole('heading', { level: 1, name }).waitFor();

async function press(page: Page, ...keys: string[]): Promise<void> {
  for (const key of keys) await page.keyboard.press(key);
}

async function fill(page: Page, label: RegExp, text: string): Promise<void> {
  await tabTo(page, label);
  await page.keyboard.type(text);
}

test('an order of the vet and a prescription are written down by keys alone and stand in sentences', async () => {
  const context = await browser.newContext({ locale: 'en-GB', timezoneId: 'Europe/London' });
  const page = await context.newPage();
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('heading', { level: 1 }).waitFor();

  // Without a vet there is nobody to name, and the way to add one is beside the sentence.
  await press(page, 'g', 'v');
  await page.getByText('No instruction is on record.').waitFor();
  await page.getByText('No prescription is on record.').waitFor();
  await press(page, 'n', 'i');
  await page.getByText('No vet is in the book yet.').waitFor();
  await tabTo(page, /^Add a person or firm/);
  await press(page, 'Enter');
  await heading(page, 'Add a person or firm');
  await fill(page, /^Name/, 'Dr Wren');
  await tabTo(page, /^Vet/);
  await press(page, 'Space', 'Control+Enter');
  await heading(page, 'Farm');

  await press(page, 'n', 'i');
  await heading(page, 'What the vet ordered');
  await tabTo(page, /^Told/);
  await press(page, 'Space');
  await fill(page, /^What the vet ordered/, 'Twice the dose, once');
  await fill(page, /^Meat is held for/, 'a month');
  await press(page, 'Control+Enter');
  // Everything that is wrong is said at once, and nothing is written.
  const wrong = page.getByRole('alert');
  await wrong.getByText('months and years differ in length').waitFor();
  await wrong.getByText('Write why the vet ordered it.').waitFor();
  expect((await farm.ask('papers', {})).instructions).toEqual([]);
  expect(await faultsOf(page, 'an instruction with faults')).toEqual([]);
  await fill(page, /^Why/, 'Lungs');
  await tabTo(page, /^Meat is held for/);
  await press(page, 'Control+a');
  await page.keyboard.type('62 d');
  await page.getByText('62 days', { exact: true }).waitFor();
  await press(page, 'Control+Enter');
  await heading(page, "The vet's papers");
  await page.getByText(/^Dr Wren said on .*: Twice the dose, once\.$/).waitFor();
  await page.getByText('Period from the vet: meat 62 days. Why: Lungs. No last day was named.').waitFor();

  await press(page, 'n', 'v');
  await heading(page, 'A prescription');
  await fill(page, /^Number/, 'RX 7');
  // Whichever of day and month the browser puts first.
  await fill(page, /^Written on/, '5/5/2026');
  await page.getByText('Tuesday 5 May 2026').waitFor();
  await fill(page, /^Medicine/, 'orvan');
  await press(page, 'Enter');
  await fill(page, /^Quantity/, '3 kg');
  await press(page, 'Control+Enter');
  await page.getByRole('alert').getByText('is not measured in that unit').waitFor();
  // What is wrong leads to its field.
  await tabTo(page, /^Quantity: /);
  await press(page, 'Enter', 'Control+a');
  await page.keyboard.type('200 mL');
  await fill(page, /^For which animals/, 'Lame ewes');
  expect(await faultsOf(page, 'a prescription with a fault')).toEqual([]);
  await press(page, 'Control+Enter');
  await heading(page, 'Prescription RX 7');
  await page.getByText('Nothing came in on it yet. No last day was named.').waitFor();
  await press(page, 'g', 'v');
  await heading(page, "The vet's papers");
  await page
    .getByText(
      'Prescription RX 7 of Dr Wren is for 200 mL of Orvandrex injection, written on Tuesday 5 May 2026.',
    )
    .waitFor();
  await watch.expectQuiet();
  await context.close();

  const papers = await farm.ask('papers', {});
  expect(papers.instructions).toMatchObject([
    { vetName: 'Dr Wren', form: 'told', reason: 'Lungs', periods: [{ produce: 'meat', period: '62 d' }] },
  ]);
  expect(papers.prescriptions).toMatchObject([
    { number: 'RX 7', written: '2026-05-05', animals: 'Lame ewes' },
  ]);
  // The checks for access take most of it on a computer that is busy.
}, 90_000);
