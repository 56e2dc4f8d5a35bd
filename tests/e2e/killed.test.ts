import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { openBrowser, type Watch, watchPage } from './browser.ts';
import { prepareScreens } from './setup.ts';
import { printedAddress, type Started, startProgram } from './started.ts';
import { type TreatFarm, tabTo, tagOf, treatFarm } from './treat-farm.ts';

/**
 * The program is killed at the race, between two animals: a process of its own that is ended by the system, so that
 * no line of it runs any more. Started again on the same book it goes on with the very same animal.
 */

let browser: Browser;
let farm: TreatFarm;
let started: Started | undefined;
beforeAll(async () => {
  // Here, where there is time for it, and not within the program that is started.
  await prepareScreens();
  browser = await openBrowser();
  farm = treatFarm();
});
afterEach(() => {
  started?.kill();
});
afterAll(async () => {
  await browser?.close();
  await farm?.close();
});

async function startOnBook(): Promise<{ page: Page; watch: Watch; program: Started; address: string }> {
  const program = startProgram(farm.folder, ['--book', farm.book, '--no-window']);
  started = program;
  const address = await program.hears(printedAddress);
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage();
  page.setDefaultTimeout(12_000);
  const watch = await watchPage(page);
  await page.goto(address);
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
  return { page, watch, program, address };
}

const focused = (page: Page, name: string) => page.locator(`[name="${name}"]:focus`);

test('killed between two animals it goes on with the half-typed one, and nothing is written twice', async () => {
  const { holding, drench, group } = await farm.seed(3);
  const { session } = await farm.ask('open-session', {
    holding,
    groups: [group],
    name: 'Spring drench',
    lines: [{ medicine: drench, reason: 'Worms' }],
  });
  await farm.leave();

  const first = await startOnBook();
  const one = first.page;
  await one.goto(`${new URL(first.address).origin}/?at=treat/session/${encodeURIComponent(session)}`);
  await focused(one, 'read').waitFor();
  await one.keyboard.type('00001');
  await one.keyboard.press('Enter');
  await focused(one, 'weight').waitFor();
  await one.keyboard.press('Enter');
  await focused(one, 'record').waitFor();
  // By mouth: no word of needle or site anywhere.
  expect(await one.locator('main').textContent()).not.toMatch(/needle|\bsite\b|inject|draw back/i);
  await one.keyboard.press('Control+i');
  await one.getByText('What was different').last().waitFor();
  expect(await one.locator('main').textContent()).not.toMatch(/needle|\bsite\b|inject|where it went in/i);
  await tabTo(one, /^Record it/);
  await one.keyboard.press('Enter');
  await one.getByText('1 head done').waitFor();
  await focused(one, 'read').waitFor();
  await one.keyboard.type('00002');
  await one.keyboard.press('Enter');
  await focused(one, 'weight').waitFor();
  const kept = one.waitForResponse((reply) => {
    const sent = reply.request().postData() ?? '';
    return sent.includes('"keep-draft"') && sent.includes('57.5');
  });
  await one.keyboard.type('57.5');
  expect(await (await kept).json()).toMatchObject({ ok: true });
  await first.watch.expectQuiet();
  first.program.kill();
  expect(await first.program.ended).toBeNull();
  await one.context().close();

  const { page, watch, program } = await startOnBook();
  await page.keyboard.press('g');
  await page.keyboard.press('t');
  await tabTo(page, /^Carry on/);
  await page.keyboard.press('Enter');
  await focused(page, 'weight').waitFor();
  expect(await focused(page, 'weight').inputValue()).toBe('57.5');
  await page.getByRole('heading', { name: tagOf(2) }).waitFor();
  await page.getByRole('list', { name: 'The last three' }).getByText(tagOf(1)).waitFor();
  await page.getByText('1 head done').waitFor();
  await page.keyboard.press('Enter');
  await focused(page, 'record').waitFor();
  await page.keyboard.press('Enter');
  await page.getByText('2 head done').waitFor();
  await watch.expectQuiet();
  await page.context().close();
  program.stop();
  expect(await program.ended).toBe(0);

  farm.comeBack();
  const { rows } = await farm.ask('book', { from: '2000-01-01', to: '2099-12-31', limit: 500 });
  expect(rows.map((row) => `${row.shown} ${row.dose}`)).toEqual([`${tagOf(1)} 5.1 mL`, `${tagOf(2)} 5.8 mL`]);
  const { waiting } = await farm.ask('session', { session });
  expect(waiting.map((one) => one.shown)).toEqual([tagOf(3)]);
  expect(verifyBook(farm.book, storeParts)).toMatchObject({ ok: true, problems: [] });
}, 120_000);
