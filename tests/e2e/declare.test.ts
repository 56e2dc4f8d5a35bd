import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { type DeclareDesk, declareDesk } from '../answers/declare-desk.ts';
import { readPdf } from '../paper/reading.ts';
import { openBrowser, serveScreens, type Watch, watchPage } from './browser.ts';
import { tabTo } from './treat-farm.ts';

let browser: Browser;
let host: LoopbackHost | undefined;
let desk: DeclareDesk;
let page: Page;
let watch: Watch;

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 90_000 });

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
});
beforeEach(async () => {
  desk = await declareDesk();
});
afterEach(async () => {
  await page?.context().close();
  await host?.close();
  desk.close();
});

async function show(): Promise<void> {
  host = await serveScreens(desk.raw());
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, acceptDownloads: true });
  page = await context.newPage();
  page.setDefaultTimeout(10_000);
  watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
}

const key = (name: string) => page.keyboard.press(name);
const type = (text: string) => page.keyboard.type(text);
const heading = (name: string | RegExp) => page.getByRole('heading', { level: 1, name });

/** Goes by its two keys. They count as one run only when they come soon after one another: on a busy computer again. */
async function goBy(first: string, second: string, name: string): Promise<void> {
  await vi.waitFor(
    async () => {
      await key(first);
      await key(second);
      await heading(name).waitFor({ timeout: 3_000 });
    },
    { timeout: 15_000 },
  );
}

/** Everything by daylight; by night only what a change of colours can break. */
async function expectClean(what: string): Promise<void> {
  const byDay = new AxeBuilder({ page });
  const byNight = new AxeBuilder({ page }).withRules(['color-contrast']);
  for (const [scheme, check] of [
    ['dark', byNight],
    ['light', byDay],
  ] as const) {
    await page.emulateMedia({ colorScheme: scheme });
    const { violations } = await check.analyze();
    expect(
      violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join('\n')}`),
      `${what}, ${scheme}`,
    ).toEqual([]);
  }
}

test('one is held: refused by name, taken off; the rest is signed, and the paper says so', async () => {
  await desk.drench(desk.first, '2026-02-20');
  await desk.drench(desk.second, '2026-01-03');
  await show();
  await goBy('n', 's', 'Sign a declaration');
  await tabTo(page, /^To whom/);
  await type('Abattoir of the Test');
  await tabTo(page, /^Add by number/);
  for (const tag of ['00001', '00002', '00003']) {
    await type(tag);
    await key('Enter');
    await page.getByText(`${Number(tag)} head on the list`).waitFor();
  }
  await page.getByRole('heading', { name: '1 head may not go' }).waitFor();
  await page.getByText('UK 9 999999 00001 is held until 21 Mar 2026, 00:00.').waitFor();
  await expectClean('a consignment with one held');

  // Signed all the same it is refused by name, and nothing is written.
  await tabTo(page, /^Yes$/);
  await key('Space');
  await key('Control+Enter');
  await page
    .getByRole('alert')
    .getByText(/00001: Meat held until 21 Mar 2026/)
    .waitFor();
  expect((await desk.call('declarations', {})).declarations).toEqual([]);

  await tabTo(page, /^Take UK 9 999999 00001 off the list/);
  await key('Enter');
  await page.getByText('2 head on the list').waitFor();
  expect(await page.getByText('may not go').count()).toBe(0);
  await page.getByText('2 heads are declared: 2 ewes.').waitFor();
  await key('Control+Enter');
  await heading('Declaration 1').waitFor();

  const [declared] = (await desk.call('declarations', {})).declarations;
  if (declared === undefined) throw new Error('nothing was declared');
  expect(declared).toMatchObject({
    to: 'Abattoir of the Test',
    heads: 2,
    state: 'standing',
    departs: '2026-03-01',
  });
  await page.getByText(declared.checkCode).first().waitFor();
  await expectClean('the declaration');
  await tabTo(page, /^Save declaration-1\.pdf/);
  const [download] = await Promise.all([page.waitForEvent('download'), key('Enter')]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
  const { text } = await readPdf(Buffer.concat(chunks));
  expect(text).toContain('Abattoir of the Test');
  expect(text).toContain('UK 9 999999 00002');
  expect(text).toContain('UK 9 999999 00003');
  expect(text).not.toContain('UK 9 999999 00001');
  expect(text).toContain(declared.checkCode);

  // What is written later touches it: who was told what stands in the list, until it is cancelled.
  await desk.drench(desk.third, '2026-02-27');
  await goBy('g', 'l', 'Declare');
  await page
    .getByText(/To Abattoir of the Test on 1 Mar 2026 \(no\. 1\).*00003 was declared clear/)
    .waitFor();
  await expectClean('the declarations');
  await tabTo(page, /^Read declaration 1/);
  await key('Enter');
  await heading('Declaration 1').waitFor();
  await tabTo(page, /^Cancel this declaration/);
  await key('Enter');
  await tabTo(page, /^Why/);
  await type('One was treated late');
  await key('Control+Enter');
  await page.getByRole('dialog', { name: 'Cancel declaration 1?' }).waitFor();
  await tabTo(page, /^Yes, cancel it/);
  await key('Enter');
  await page.getByText(/By Siân Ó Briain-Łukasz on 1 Mar 2026.*One was treated late/).waitFor();
  await watch.expectQuiet();
});

test('the held one goes later instead: the departure moves to the moment it clears', async () => {
  await desk.drench(desk.first, '2026-02-20');
  await show();
  await goBy('g', 'h', 'Who is clear');
  await page.getByRole('heading', { name: '1 head held on 1 Mar 2026' }).waitFor();
  await page.getByRole('heading', { name: '2 head clear on 1 Mar 2026' }).waitFor();
  expect(await page.getByLabel('For', { exact: true }).count()).toBe(0);
  await expectClean('who is clear');
  await goBy('n', 's', 'Sign a declaration');
  await tabTo(page, /^To whom/);
  await type('Dealer of the Test');
  await tabTo(page, /^Add by number/);
  await type('00001');
  await key('Enter');
  await tabTo(page, /^Leave on 21 Mar 2026 instead/);
  await key('Enter');
  await page.getByText('Saturday 21 March 2026').waitFor();
  await page.getByText('every period for meat ends before they leave').waitFor();
  await tabTo(page, /^Yes$/);
  await key('Space');
  await key('Control+Enter');
  await heading('Declaration 1').waitFor();
  expect((await desk.call('declarations', {})).declarations[0]).toMatchObject({
    departs: '2026-03-21',
    heads: 1,
  });
  await watch.expectQuiet();
});

test('a doubted clock calls nobody clear until the date is confirmed', async () => {
  desk.at('2026-04-20T09:00:00.000Z');
  await show();
  for (const [first, second, name] of [
    ['g', 'h', 'Who is clear'],
    ['n', 's', 'Sign a declaration'],
    ['g', 'l', 'Declare'],
  ] as const) {
    await goBy(first, second, name);
    await page.getByRole('alert').getByText('Nobody is called clear').waitFor();
    expect(await page.getByText(/head clear/).count()).toBe(0);
    expect(await page.getByLabel('Add by number').count()).toBe(0);
  }
  await expectClean('the doubted date');
  // The deed in the notice leads to where the date is confirmed.
  await tabTo(page, /^Confirm the date/);
  await key('Enter');
  await heading('Confirm the date').waitFor();
  await tabTo(page, /^What day is it today/);
  // A field for a date takes its parts one after another, month first in this browser.
  await type('04202026');
  await page.getByText('Monday 20 April 2026').last().waitFor();
  await key('Enter');
  await heading('Monday 20 April 2026').waitFor();
  await goBy('g', 'h', 'Who is clear');
  await page.getByRole('heading', { name: '3 head clear on 20 Apr 2026' }).waitFor();
  await watch.expectQuiet();
});
