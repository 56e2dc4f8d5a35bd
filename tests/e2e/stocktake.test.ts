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

// Takes some seconds by itself; a computer that is busy with other tests may need many times that.
vi.setConfig({ testTimeout: 120_000 });

let browser: Browser;
let desk: Desk;
let host: LoopbackHost;
let folder: string;
let me = 'nobody';
let medicine: string;
let ewe: string;

async function write<N extends WritingCall>(name: N, ask: Omit<Ask<N>, 'request' | 'by'>): Promise<Reply<N>> {
  const answer = await desk.call(name, { request: randomUUID(), by: me, ...ask });
  if (!answer.ok) throw new Error(`${name}: ${answer.error.message}`);
  return answer.value as Reply<N>;
}

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'stocktake-'));
  desk = openDesk({ book: path.join(folder, 'a.foldbook'), clock: () => '2026-05-01T09:00:00.000Z' });
  const { person, holding } = await write('start-book', structuredClone(FARM));
  me = person;
  ({ medicine } = await write('set-label', { act: 'first', terms: structuredClone(DRENCH) }));
  ewe = (await write('set-animal', { holding, class: 'ewe', management: 'E 7' })).animal;
  host = await serveScreens(desk);
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  desk?.close();
  rmSync(folder, { recursive: true });
});

const PACK = ']d201050123456789001727033110AB17';

/** Types as a scanner does: signs, the separator as Ctrl and ], Enter. */
async function scan(page: Page, serial: string): Promise<void> {
  await page.getByLabel('Scan the pack').focus();
  await page.keyboard.type(PACK);
  await page.keyboard.press('Control+]');
  await page.keyboard.type(`21${serial}`);
  await page.keyboard.press('Enter');
}

test('receive by scan, stocktake the shelf, recall the batch', async () => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  const watch = await watchPage(page);
  const heading = (name: string) => page.getByRole('heading', { level: 1, name });
  await page.goto(host.newAddress());
  await page.getByRole('main').waitFor();

  // A product that was never scanned: batch and expiry come from the code, the medicine is chosen.
  await page.keyboard.type('nd');
  await heading('Take in a delivery').waitFor();
  await scan(page, 'S1');
  await page.getByText('No pack of this product came before.').waitFor();
  expect(await page.getByLabel('Batch number').inputValue()).toBe('AB17');
  expect(await page.getByLabel('Expiry').inputValue()).toBe('2027-03-31');
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Calverol');
  await page.keyboard.press('Enter');
  await page.getByLabel('Packs').fill('1 × 500 mL');
  await scan(page, 'S1');
  await page.getByText('Serial number S1 was scanned already').waitFor();
  await page.getByLabel('Scan the pack').fill('');
  await scan(page, 'S2');
  await expect.poll(() => page.getByLabel('Packs').inputValue()).toBe('2 × 500 mL');
  await page.getByLabel('Kept in').fill('Fridge');
  await page.keyboard.press('Enter');
  await heading('Taken in').waitFor();

  await write('treat', {
    subject: `animal:${ewe}`,
    weight: '60 kg',
    single: { medicine, reason: 'worms' },
  });

  // The shelf, box by box; the cause comes only where the count differs.
  await page.keyboard.type('nc');
  await heading('Stocktake').waitFor();
  await page.getByLabel('AB17-1, in mL').waitFor();
  await expect
    .poll(() => page.evaluate(() => document.activeElement?.getAttribute('name')))
    .toMatch(/^amount/);
  await page.keyboard.type('480');
  await page.keyboard.press('Enter');
  await page.getByText('The book has 494 mL: 14 mL less is there.').waitFor();
  await page.keyboard.type('Spilt');
  await page.keyboard.press('Enter');
  await page.keyboard.type('500');
  await page.keyboard.press('Enter');
  await page.getByText('2 containers counted, 1 otherwise than the book had').waitFor();

  // From the bottle to its batch by two keys.
  await page.keyboard.type('gc');
  await heading('Cabinet').waitFor();
  await page.getByRole('table', { name: 'On the shelf' }).getByText('AB17-1', { exact: true }).click();
  await heading('Calverol drench · AB17-1').waitFor();
  await page.keyboard.type('ab');
  await heading('Calverol drench · batch AB17').waitFor();
  await page
    .getByText('Came in: 1000 mL. Given: 6 mL. Put right by counting: −14 mL. Left: 980 mL.')
    .waitFor();
  const row = page.getByRole('table', { name: 'Who got it' }).locator('tbody tr').first();
  expect(await row.locator('td').allTextContents()).toEqual([
    'E 7',
    'ewe',
    '1',
    '1 May 2026, 10:00, 6 mL, AB17-1',
    'here',
    'Meat held until 29 May 2026, 10:00',
  ]);
  await page.getByRole('button', { name: 'Set aside what is left' }).click();
  await page.getByLabel('Why').fill('The supplier calls it back');
  await page.keyboard.press('Enter');
  await page.getByText('Set aside: AB17-1 and AB17-2.').waitFor();

  // And by a scan of any pack of it.
  await page.keyboard.type('gx');
  await heading('Find a batch').waitFor();
  await scan(page, 'S9');
  await heading('Calverol drench · batch AB17').waitFor();
  await watch.expectQuiet();
});
