import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { type DeclareDesk, declareDesk } from '../answers/declare-desk.ts';
import { faultsOf } from './axe.ts';
import { openBrowser, serveScreens, type Watch, watchPage } from './browser.ts';
import { pressRun } from './pages/hands.ts';

/**
 * What the tests of Book and Declare have in common: a book with three ewes and one medicine, made anew for each test,
 * and a page on it that is used by keys. To be called once at the top of a test file.
 * @param start when it is; absent: 1 March 2026, 09:00
 */
export function recordPage(start?: string) {
  let browser: Browser;
  let host: LoopbackHost | undefined;
  let desk: DeclareDesk;
  let page: Page;
  let watch: Watch;

  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser?.close();
  });
  beforeEach(async () => {
    desk = await declareDesk(start === undefined ? {} : { start });
  });
  afterEach(async () => {
    await page?.context().close();
    await host?.close();
    desk.close();
  });

  const key = (name: string) => page.keyboard.press(name);
  const heading = (name: string | RegExp) => page.getByRole('heading', { level: 1, name });
  return {
    get desk() {
      return desk;
    },
    get page() {
      return page;
    },
    get watch() {
      return watch;
    },
    key,
    heading,
    type: (text: string) => page.keyboard.type(text),
    /** Serves the book as it is by now and opens a page on it. */
    async show(): Promise<void> {
      host = await serveScreens(desk.raw());
      const context = await browser.newContext({
        viewport: { width: 1280, height: 900 },
        acceptDownloads: true,
      });
      page = await context.newPage();
      page.setDefaultTimeout(10_000);
      watch = await watchPage(page);
      await page.goto(host.newAddress());
      await page.getByRole('navigation', { name: 'Places' }).waitFor();
    },
    async goBy(first: string, second: string, name: string): Promise<void> {
      await pressRun(page, [first, second]);
      await heading(name).waitFor();
    },
    /** The file that Enter saves, where the cursor is. */
    async saved(): Promise<{ name: string; bytes: Buffer }> {
      const [download] = await Promise.all([page.waitForEvent('download'), key('Enter')]);
      const chunks: Buffer[] = [];
      for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
      return { name: download.suggestedFilename(), bytes: Buffer.concat(chunks) };
    },
    async expectClean(what: string): Promise<void> {
      expect(await faultsOf(page, what)).toEqual([]);
    },
  };
}
