import { randomUUID } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { openDesk } from '../../src-main/answers/desk.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import type { Ask, Reply, WritingCall } from '../../src-shared/calls/all.ts';
import { DRENCH, FARM } from '../answers/farm-desk.ts';
import { faultsOf } from './axe.ts';
import { openBrowser, serveScreens, watchPage } from './browser.ts';

// Takes some seconds by itself; a computer that is busy with other tests may need many times that.
vi.setConfig({ testTimeout: 120_000 });

let browser: Browser;
let desk: Desk;
let host: LoopbackHost;
let folder: string;
let me = 'nobody';

async function write<N extends WritingCall>(name: N, ask: Omit<Ask<N>, 'request' | 'by'>): Promise<Reply<N>> {
  const answer = await desk.call(name, { request: randomUUID(), by: me, ...ask });
  if (!answer.ok) throw new Error(`${name}: ${answer.error.message}`);
  return answer.value as Reply<N>;
}

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'order-'));
  desk = openDesk({ book: path.join(folder, 'a.foldbook'), clock: () => '2026-05-01T09:00:00.000Z' });
  const { person, holding } = await write('start-book', structuredClone(FARM));
  me = person;
  await write('set-label', {
    act: 'first',
    terms: {
      ...structuredClone(DRENCH),
      name: 'Ovistel vaccine',
      purpose: 'vaccine',
      prescription: 'qualified-person',
      inUse: '10 h',
      doseLines: [{ id: 'v1', route: 'oral', rate: { style: 'rate', text: '2 mL per head' } }],
    },
  });
  const { lot } = await write('set-lot', { holding, name: 'Hill ewes', class: 'ewe', heads: 40 });
  await write('set-group', { holding, name: 'Ewes', add: [`lot:${lot}`] });
  host = await serveScreens(desk);
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  desk?.close();
  rmSync(folder, { recursive: true });
});

test('a vaccination is planned ahead, its supply written, the list printed, and the delivery held against it', async () => {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    acceptDownloads: true,
  });
  const page = await context.newPage();
  const watch = await watchPage(page);
  const heading = (name: string) => page.getByRole('heading', { level: 1, name });
  await page.goto(host.newAddress());
  await page.getByRole('main').waitFor();

  await page.keyboard.type('nf');
  await heading('Plan work ahead').waitFor();
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Ovistel');
  await page.keyboard.press('Enter');
  await page.getByLabel('Work', { exact: true }).fill('Booster before lambing');
  await page.getByLabel('Planned on').fill('31 June 2026');
  await page.getByLabel('Group').selectOption({ label: 'Ewes, 40 head' });
  await page.getByLabel('Heads').focus();
  await page.keyboard.press('Enter');
  // 31 June is no day: it is said beside its box, and nothing typed is lost.
  await page.getByRole('alert').waitFor();
  expect(await page.getByLabel('Work', { exact: true }).inputValue()).toBe('Booster before lambing');
  await page.getByLabel('Planned on').fill('10 June 2026');
  await page.keyboard.press('Enter');

  // 40 × 2 mL and 3 % spill; nothing is there.
  await heading('Ovistel vaccine: outlook').waitFor();
  await page.getByText('Booster before lambing: 40 head, 80 mL and with losses 82.4 mL.').waitFor();
  await page.getByText('1. 10 Jun 2026: 82.4 mL missing').waitFor();
  await page.getByText('Which packs can be had is not written down').waitFor();
  expect(await faultsOf(page, 'outlook')).toEqual([]);

  await page.getByRole('link', { name: 'How it is bought' }).first().click();
  await heading('How Ovistel vaccine is bought').waitFor();
  await page.getByLabel('Supplier').fill('Glenside Supplies');
  await page.getByLabel('Days an order takes').fill('-1');
  await page.getByLabel('Pack size 1').fill('100 mL');
  await page.getByLabel('Price of pack 1').fill('55.00 GBP');
  await page.keyboard.press('Enter');
  await page.getByText('Days an order takes: write whole days from 0 to 365, not “-1”.').first().waitFor();
  await page.getByLabel('Days an order takes').fill('5');
  await page.keyboard.press('Enter');
  await heading('Ovistel vaccine: outlook').waitFor();
  await page.getByText('1 × 100 mL = 55.00 GBP. 17.6 mL of it is left over or dies opened.').waitFor();

  // Today says the next that runs out, after the rest is shown; Order says it with its day, and leads to the list.
  await page.keyboard.type('gd');
  const runsOut = page.getByRole('list', { name: 'Running out' });
  await runsOut.getByText('Order by 4 Jun 2026: Ovistel vaccine runs out on 10 Jun 2026').waitFor();
  await runsOut.getByRole('link', { name: 'Write an order list' }).waitFor();
  await page.keyboard.type('go');
  await heading('Order').waitFor();
  await page.getByText('By 4 Jun 2026', { exact: true }).waitFor();
  await page.getByRole('link', { name: 'Write the order list to Glenside Supplies' }).click();
  await heading('Write an order list').waitFor();
  expect(await page.getByLabel('Packs of Ovistel vaccine').inputValue()).toBe('1 × 100 mL');
  await page.getByLabel('Packs of Ovistel vaccine').press('Enter');
  await heading('Order 1 to Glenside Supplies').waitFor();
  await page.getByRole('button', { name: 'Print the order list' }).click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'Save order-1.pdf' }).click(),
  ]);
  expect(readFileSync(await download.path(), 'latin1')).toMatch(/^%PDF-/);
  expect(await faultsOf(page, 'order list')).toEqual([]);

  // The form of the delivery begins with what is waited for.
  await page.getByRole('link', { name: 'Take in its delivery' }).click();
  await heading('Take in a delivery').waitFor();
  expect(await page.getByLabel('Packs').inputValue()).toBe('1 × 100 mL');
  expect(await page.getByLabel('Supplier').inputValue()).toBe('Glenside Supplies');
  await page.getByLabel('Batch number').fill('OV1');
  await page.getByLabel('Expiry').fill('03/2027');
  await page.keyboard.press('Enter');
  await heading('Taken in').waitFor();
  await page.keyboard.type('go');
  await heading('Order').waitFor();
  await page.getByText('1 list that is done').click();
  await page.getByRole('link', { name: 'See the list' }).click();
  await heading('Order 1 to Glenside Supplies').waitFor();
  await page.getByText('All of it came.').waitFor();
  await page.getByText('Received', { exact: true }).waitFor();
  await watch.expectQuiet();
});
