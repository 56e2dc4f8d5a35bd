import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { openDesk } from '../../src-main/answers/desk.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import type { Ask, CallName, Reply, WritingCall } from '../../src-shared/calls/all.ts';
import { FARM } from '../answers/farm-desk.ts';
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

async function ask<N extends CallName>(name: N, asked: Ask<N>): Promise<Reply<N>> {
  const answer = await desk.call(name, asked);
  if (!answer.ok) throw new Error(`${name}: ${answer.error.message}`);
  return answer.value as Reply<N>;
}

/** With plain spaces: what belongs together is kept on one line by others. */
const plain = (text: string) => text.replace(/\s/g, ' ');

/** An invented vaccine of two doses, of which an opened bottle lasts ten hours. */
const VACCINE: Ask<'check-label'>['terms'] = {
  name: 'Hesperval vaccine',
  form: 'injection',
  kind: 'volume',
  purpose: 'vaccine',
  actives: [{ substance: 'hesperval toxoid' }],
  doseLines: [
    {
      id: 'start',
      route: 'subcutaneous',
      rate: { style: 'rate', text: '2 mL per head' },
      repeats: { doses: 2, due: '28 d' },
      protects: '365 d',
    },
  ],
  periods: [
    { produce: 'meat', says: 'value', value: '28 d' },
    { produce: 'milk', says: 'not-for-this-produce' },
  ],
  inUse: '10 h',
};

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'stocktake-'));
  desk = openDesk({ book: path.join(folder, 'a.foldbook'), clock: () => '2026-05-01T09:00:00.000Z' });
  const { person, holding } = await write('start-book', structuredClone(FARM));
  me = person;
  await write('set-label', { act: 'first', terms: VACCINE });
  const animals: string[] = [];
  for (const management of ['E 7', 'E 8', 'E 9'])
    animals.push((await write('set-animal', { holding, class: 'ewe', management })).animal);
  await write('set-group', { holding, name: 'Hill ewes', add: animals.map((animal) => `animal:${animal}`) });
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

test('receive by scan, plan the vaccination, stocktake the shelf, trace a bottle, recall the batch', async () => {
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
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Hesperval');
  await page.keyboard.press('Enter');
  await page.getByLabel('Packs').fill('1 × 50 mL');
  await scan(page, 'S1');
  await page.getByText('Serial number S1 was scanned already').waitFor();
  await page.getByLabel('Scan the pack').fill('');
  await scan(page, 'S2');
  await expect.poll(() => page.getByLabel('Packs').inputValue()).toBe('2 × 50 mL');
  await page.getByLabel('Kept in').fill('Fridge');
  await page.keyboard.press('Enter');
  await heading('Taken in').waitFor();

  // The plan: what is lost with its working, and the second dose out of the other bottle, since this one will not last.
  await page.keyboard.type('np');
  await heading('Plan work at the race').waitFor();
  await page.getByRole('checkbox', { name: 'Hill ewes' }).check();
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Hesp');
  await page.keyboard.press('Enter');
  await page.getByLabel('Reason').fill('Yearly');
  await page.getByLabel('Name of the work').fill('Vaccine, hill ewes');
  await page.getByLabel('All at once').check();
  const taken = page.getByRole('list', { name: 'What is taken of Hesperval vaccine' });
  // 3 × 2 mL; 3 fillings of 68 µL; 3 % of 6 mL.
  await taken
    .getByText(
      '6 mL for the animals, 0.384 mL for what stays in needle and syringe and spill: 6.384 mL in all',
    )
    .waitFor();
  await taken.getByText('The whole course, 2 days to 29 May 2026: 12.768 mL with losses is there').waitFor();
  await taken.getByText('Day by day').click();
  await taken.getByText('29 May 2026: 6.384 mL: 6.384 mL from AB17-2').waitFor();
  await page.getByRole('button', { name: 'Open the session' }).click();
  await heading('Vaccine, hill ewes').waitFor();
  const { sessions } = await ask('sessions', { state: 'open' });
  const session = sessions[0]?.session ?? '';
  await write('treat-many', { session });
  await write('close-session', { session, headsThrough: 3 });

  // The shelf, box by box; a scan goes to the box of its pack, and the cause comes only where the count differs.
  await page.keyboard.type('nc');
  await heading('Stocktake').waitFor();
  await page.getByLabel('AB17-1, in mL').waitFor();
  const at = () => page.evaluate(() => document.activeElement?.getAttribute('name') ?? '');
  const boxOf = async (label: string) =>
    (await page.getByLabel(`${label}, in mL`).getAttribute('name')) ?? '?';
  await scan(page, 'S2');
  await expect.poll(at).toBe(await boxOf('AB17-2'));
  await page.keyboard.type('50');
  await scan(page, 'S1');
  await expect.poll(at).toBe(await boxOf('AB17-1'));
  await page.keyboard.type('40');
  await page.keyboard.press('Enter');
  await page.getByText('The book has 44 mL: 4 mL less is there.').waitFor();
  await page.keyboard.type('Spilt');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  await page.getByText('2 containers counted, 1 otherwise than the book had').waitFor();

  // What does not last to the second dose stands under the day of it.
  await page.keyboard.type('gc');
  await heading('Cabinet').waitFor();
  const shelf = page.getByRole('table', { name: 'On the shelf' });
  expect(await shelf.locator('.rows-heading').allTextContents()).toEqual([
    'Before the next session (29 May 2026): dose 2 of 2 of Hesperval vaccine',
    'Later',
  ]);

  // One bottle's page: every use by its animal, and each leads to its treatment.
  await shelf.getByText('AB17-1', { exact: true }).click();
  await heading('Hesperval vaccine · AB17-1').waitFor();
  const life = page.getByRole('table', { name: 'What happened to it' });
  const happened = (await life.locator('tbody tr td:nth-child(2)').allTextContents()).map(plain);
  // The three were treated at one moment: among themselves they stand in no order.
  expect(happened.slice(0, 2)).toEqual(['Came in', 'Opened']);
  expect(happened.slice(2, 5).sort()).toEqual(['Given to E 7', 'Given to E 8', 'Given to E 9']);
  expect(happened.slice(5)).toEqual(['Counted']);
  await life.getByText('Given to E 7').click();
  await heading('Hesperval vaccine into E 7').waitFor();
  await page.goBack();

  // From the bottle to its batch by two keys.
  await heading('Hesperval vaccine · AB17-1').waitFor();
  await page.keyboard.type('ab');
  await heading('Hesperval vaccine · batch AB17').waitFor();
  await page.getByText('Came in: 100 mL. Given: 6 mL. Put right by counting: −4 mL. Left: 90 mL.').waitFor();
  const row = page.getByRole('table', { name: 'Who got it' }).locator('tbody tr', { hasText: 'E 7' });
  expect((await row.locator('td').allTextContents()).map(plain)).toEqual([
    'E 7',
    'ewe',
    '1',
    '1 May 2026, 10:00, 2 mL, AB17-1',
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
  await heading('Hesperval vaccine · batch AB17').waitFor();
  await watch.expectQuiet();
});
