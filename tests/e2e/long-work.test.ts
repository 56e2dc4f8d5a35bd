import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import type { Desk } from '../../src-main/desk-type.ts';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { faultsOf } from './axe.ts';
import { openBrowser, serveScreens, type Watch, watchPage } from './browser.ts';
import { prepareScreens } from './setup.ts';
import { type TreatFarm, tabTo, treatFarm } from './treat-farm.ts';

/**
 * What the screens show of work that lasts: the desk is the real one, but a check of the book waits until the test
 * lets it go on, because a book that takes long enough would take the test as long. That the desk itself says how far
 * it is and ends is tested in tests/answers/work.test.ts.
 */

let browser: Browser;
let farm: TreatFarm;
let host: LoopbackHost;
let page: Page;
let watch: Watch;
let far = { isRunning: true, done: 0, total: 0 };
let goOn: () => void = () => {};
const ended: unknown[] = [];

beforeAll(async () => {
  await prepareScreens();
  browser = await openBrowser();
  farm = treatFarm();
  await farm.seed(1);
  const real = farm.desk();
  const slow: Desk = {
    ...real,
    async call(name, request) {
      if (name === 'work-progress') return { ok: true, value: far };
      if (name === 'verify') {
        await new Promise<void>((resolve) => {
          goOn = resolve;
        });
      }
      if (name === 'cancel-work') {
        ended.push(request);
        return { ok: true, value: { wasRunning: true } };
      }
      return ended.length > 0 && name === 'verify'
        ? { ok: false, error: { code: 'cancelled', message: 'This was cancelled.', next: 'Start it again.' } }
        : real.call(name, request);
    },
  };
  host = await serveScreens(slow);
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  await farm?.close();
});
beforeEach(async () => {
  ended.length = 0;
  far = { isRunning: true, done: 0, total: 0 };
  page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage();
  page.setDefaultTimeout(10_000);
  watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
  await page.goto(`${host.origin}/?at=book/check`);
  await tabTo(page, /^Check code/);
  await page.keyboard.press('Enter');
  await page.getByRole('progressbar').waitFor();
});
afterEach(async () => {
  await page.context().close();
});

test('a check says how far it is, goes on, and says what was found', async () => {
  far = { isRunning: true, done: 30, total: 120 };
  await page.getByText('Reading every entry 25 %').waitFor();
  expect(await faultsOf(page, 'a check under way')).toEqual([]);
  goOn();
  await page.getByText('The book is whole').waitFor();
  expect(await page.getByRole('progressbar').count()).toBe(0);
  expect(ended).toEqual([]);
  await watch.expectQuiet();
});

test('a check is stopped by a key, and says that nothing of it is left', async () => {
  await tabTo(page, /^Stop this/);
  await page.keyboard.press('Enter');
  await page.getByText('Stopping').waitFor();
  expect(ended).toHaveLength(1);
  goOn();
  await page.getByText('Stopped. Nothing of it is left.').waitFor();
  // It may be begun again.
  await page.getByRole('button', { name: 'Check the book' }).waitFor();
  await watch.expectQuiet();
});

test('who leaves the screen ends what it was waiting for', async () => {
  await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Flock' }).click();
  await page.getByRole('heading', { level: 1, name: 'Flock' }).waitFor();
  await expect.poll(() => ended.length).toBe(1);
  goOn();
  await watch.expectQuiet();
});
