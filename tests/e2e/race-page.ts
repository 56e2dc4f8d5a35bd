import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { openBrowser, serveScreens, type Watch, watchPage } from './browser.ts';
import { prepareScreens } from './setup.ts';
import { type TreatFarm, treatFarm } from './treat-farm.ts';

/**
 * What the tests at the race have in common: a farm made anew for each test and a page on it. Importing this file sets
 * it up for the test file; what it exports is what stands there now.
 */
export let browser: Browser;
export let host: LoopbackHost | undefined;
export let farm: TreatFarm;
export let page: Page;
export let watch: Watch;

beforeAll(async () => {
  // Here, where there is time for it, and not within the first test.
  await prepareScreens();
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
});
beforeEach(() => {
  farm = treatFarm();
});
afterEach(async () => {
  await page?.context().close();
  await host?.close();
  await farm.close();
});

/** Serves the farm as it is by now and opens a page on it. */
export async function show(height = 900): Promise<void> {
  host = await serveScreens(farm.desk());
  const context = await browser.newContext({ viewport: { width: 1280, height } });
  page = await context.newPage();
  // Below the limit of a test, so that a failure names its step.
  page.setDefaultTimeout(12_000);
  watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
}
