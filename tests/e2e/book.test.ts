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

const YEAR = { from: '2026-01-01', to: '2026-12-31' };
const rows = async () => (await desk.call('book', YEAR)).rows;

test('a treatment is opened and corrected by keyboard alone', async () => {
  await desk.drench(desk.first, '2026-02-20');
  await desk.drench(desk.second, '2026-02-25');
  await show();
  await goBy('g', 'b', 'Book');
  await page.getByText('26 Mar 2026, 00:00').waitFor();
  await expectClean('the record');

  // The newest line is on top; the arrow goes to the one before, Enter opens it.
  await tabTo(page, /^25 Feb 2026.*00002/);
  await key('ArrowDown');
  await key('Enter');
  await heading('Vermolin drench into UK 9 999999 00001').waitFor();
  expect(await page.locator('output', { hasText: '21 Mar 2026, 00:00' }).count()).toBe(1);
  expect(await page.getByText(/needle|injection site/i).count()).toBe(0);
  await expectClean('a line');

  // The dose was another: what the book then says stands there before it is written.
  await tabTo(page, /^Correct this treatment/);
  await key('Enter');
  await heading('Correct a treatment').waitFor();
  await tabTo(page, /^Given/);
  await key('Control+a');
  await type('13 mL');
  await page.getByText('13 mL given, 1.3 mL worked out').waitFor();
  await page.getByText('never clears by time').waitFor();
  await page.getByText('which then holds 985.7 mL').waitFor();
  await tabTo(page, /^Reason/);
  await key('Control+Enter');
  await page.getByRole('alert').getByText('Say why it is corrected.').waitFor();
  await tabTo(page, /^Reason/);
  await type('Read the wrong mark');
  await expectClean('a correction');
  await key('Control+Enter');
  await page.getByText('The line now says 13 mL.').waitFor();
  expect((await rows()).map((row) => [row.shown.slice(-5), row.state, row.dose])).toEqual([
    ['00001', 'replaced', '1.3 mL'],
    ['00001', 'stands', '13 mL'],
    ['00002', 'stands', '1.3 mL'],
  ]);

  // In the record both versions stand, the wrong one struck through.
  await goBy('g', 'b', 'Book');
  await page.locator('s', { hasText: '21 Mar 2026' }).waitFor();
  await page
    .getByText('Corrected by Siân Ó Briain-Łukasz on 1 Mar 2026, 09:00: Read the wrong mark')
    .waitFor();
  await watch.expectQuiet();
});

test('a treatment is struck out by keyboard: what follows is said, and it is asked once more', async () => {
  await desk.drench(desk.first, '2026-02-20');
  await desk.drench(desk.second, '2026-02-25');
  await show();
  await goBy('g', 'b', 'Book');
  await tabTo(page, /^25 Feb 2026.*00002/);
  await key('Enter');
  await heading('Vermolin drench into UK 9 999999 00002').waitFor();
  await tabTo(page, /^Strike it out/);
  await key('Enter');
  await heading('Strike out').waitFor();
  await page.getByText('1.3 mL counts as back in').waitFor();
  await tabTo(page, /^Reason/);
  await type('It was never given');
  await expectClean('striking out');
  await key('Control+Enter');
  await page.getByRole('dialog', { name: 'Strike this out?' }).waitFor();
  await key('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  expect((await rows()).filter((row) => row.state === 'voided')).toEqual([]);
  await tabTo(page, /^Reason/);
  await key('Control+Enter');
  await page.getByRole('dialog', { name: 'Strike this out?' }).waitFor();
  await tabTo(page, /^Yes, strike it out/);
  await key('Enter');
  await page.getByText('Struck out', { exact: true }).waitFor();
  expect((await rows()).at(-1)).toMatchObject({
    state: 'voided',
    correction: { reason: 'It was never given' },
  });
  expect((await desk.call('clear-list', { at: '2026-03-02' })).clear.map((row) => row.subject)).toContain(
    desk.second,
  );

  // In the record it stands struck through, and the file says so too.
  await goBy('g', 'b', 'Book');
  await page.locator('s', { hasText: '26 Mar 2026' }).waitFor();
  await tabTo(page, /^Save as a file/);
  const [download] = await Promise.all([page.waitForEvent('download'), key('Enter')]);
  expect(download.suggestedFilename()).toBe('treatment-record-2025-03-02-2026-03-01.csv');
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
  const lines = Buffer.concat(chunks).toString('utf8').trim().split('\r\n');
  expect(lines).toHaveLength(1 + 2);
  expect(lines[0]).toContain('Meat held until');
  expect(
    lines.filter((line) => line.includes('struck out') && line.includes('It was never given')),
  ).toHaveLength(1);
  await watch.expectQuiet();
});

test('the record is printed, read back, and the book is checked against the code on it', async () => {
  await desk.drench(desk.first, '2026-02-20');
  await show();
  await goBy('n', 'r', 'Print the treatment record');
  await tabTo(page, /^Paper/);
  await type('US');
  await tabTo(page, /^Make the paper/);
  await key('Enter');
  const save = page.getByRole('link', { name: /^Save treatment-record/ });
  await save.waitFor();
  await expectClean('the paper');
  await tabTo(page, /^Save treatment-record/);
  const [download] = await Promise.all([page.waitForEvent('download'), key('Enter')]);
  expect(download.suggestedFilename()).toBe('treatment-record-2025-03-02-2026-03-01.pdf');
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
  const { text, width } = await readPdf(Buffer.concat(chunks));
  // Letter is 612 by 792 points, whichever way it lies.
  expect([612, 792]).toContain(Math.round(width));
  expect(text).toContain('UK 9 999999 00001');
  expect(text).toContain('21 Mar 2026');
  const code = (await desk.call('farm', {})).head.checkCode;
  expect(text).toContain(code);

  await goBy('g', 'k', 'Check the book');
  await tabTo(page, /^Check code/);
  await type('nonsense');
  await key('Enter');
  await page.getByText('is not a check code').waitFor();
  await key('Control+a');
  await type(code);
  await key('Enter');
  await page.getByText('The book is whole').waitFor();
  await tabTo(page, /^Decide every hold again/);
  await key('Enter');
  await page.getByText('Nothing would be decided otherwise today.').waitFor();
  await expectClean('the check');

  // The journal, newest first; what is put right otherwise says how.
  await goBy('g', 'j', 'Journal');
  await page.getByRole('table', { name: 'Entries of the journal' }).waitFor();
  await expectClean('the journal');
  await tabTo(page, /^\d+Vermolin drench given/);
  await key('Enter');
  await heading('Strike out').waitFor();
  await page.getByText('counts as back in').waitFor();
  await watch.expectQuiet();
});
