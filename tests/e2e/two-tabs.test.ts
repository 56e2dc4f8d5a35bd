import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { openBrowser, serveScreens, type Watch, watchPage } from './browser.ts';
import { type TreatFarm, tagOf, treatFarm } from './treat-farm.ts';

/** Two tabs on one book, and an Enter that comes twice: whatever is pressed, an animal is recorded once. */

let browser: Browser;
let context: BrowserContext;
let host: LoopbackHost;
let farm: TreatFarm;
let session: string;

type Tab = { page: Page; watch: Watch };

beforeAll(async () => {
  farm = treatFarm();
  const { holding, drench, group } = await farm.seed(4);
  ({ session } = await farm.ask('open-session', {
    holding,
    groups: [group],
    name: 'Spring drench',
    lines: [{ medicine: drench, reason: 'Worms' }],
  }));
  host = await serveScreens(farm.desk());
  browser = await openBrowser();
  // One context: tabs of one browser share what is kept there, and each has a key of its own.
  context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  await farm?.close();
});

/** One more tab of the browser, at the race. */
async function tab(): Promise<Tab> {
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
  await page.goto(`${host.origin}/?at=treat/session/${encodeURIComponent(session)}`);
  await page.getByRole('heading', { level: 1, name: 'Spring drench' }).waitFor();
  return { page, watch };
}

const focused = (page: Page, name: string) => page.locator(`[name="${name}"]:focus`);

/** Reads a tag and keeps the last weight: the next Enter records. */
async function upToRecord({ page }: Tab, n: number): Promise<void> {
  await focused(page, 'read').waitFor();
  await page.keyboard.type(tagOf(n));
  await page.keyboard.press('Enter');
  await focused(page, 'weight').waitFor();
  await page.keyboard.press('Enter');
  await focused(page, 'record').waitFor();
}

/** Who is in the journal, once for each line that says it was treated. */
async function administrations(): Promise<string[]> {
  const { rows } = await farm.ask('book', { from: '2000-01-01', to: '2099-12-31', limit: 500 });
  return rows.map((row) => row.shown);
}
async function entries(): Promise<number> {
  return (await farm.ask('farm', {})).head.seq;
}

test('an Enter that comes twice, and one that is held down, record once', async () => {
  const one = await tab();
  await upToRecord(one, 1);
  await Promise.all([one.page.keyboard.press('Enter'), one.page.keyboard.press('Enter')]);
  await one.page.getByText('1 head done').waitFor();
  await upToRecord(one, 2);
  // A key that is held down sends itself again; the browser marks those.
  await one.page.keyboard.down('Enter');
  await one.page.keyboard.down('Enter');
  await one.page.keyboard.down('Enter');
  await one.page.keyboard.up('Enter');
  await one.page.getByText('2 head done').waitFor();
  expect(await administrations()).toEqual([tagOf(1), tagOf(2)]);
  await one.watch.expectQuiet();
  await one.page.close();
}, 60_000);

test('two tabs stand at the same animal: the second is told, asked, and writes nothing by No', async () => {
  const [one, two] = [await tab(), await tab()];
  await upToRecord(one, 3);
  await upToRecord(two, 3);
  await one.page.keyboard.press('Enter');
  await one.page.getByText('3 head done').waitFor();
  const before = await entries();
  await two.page.keyboard.press('Enter');
  const question = two.page.getByRole('dialog');
  await question.getByText('already treated in this session').waitFor();
  // The cursor is on the harmless answer.
  await two.page.keyboard.press('Enter');
  await question.waitFor({ state: 'detached' });
  // The animal is still in this tab's hand; Esc puts it away, so that no later tab goes on with it.
  await two.page.keyboard.press('Escape');
  await two.page.keyboard.press('Escape');
  await focused(two.page, 'read').waitFor();
  await expect
    .poll(async () => JSON.stringify((await farm.ask('draft', { form: `treat/session/${session}` })).value))
    .not.toContain('animal:');
  expect(await entries()).toBe(before);
  expect((await administrations()).filter((shown) => shown === tagOf(3))).toHaveLength(1);
  for (const { page, watch } of [one, two]) {
    await watch.expectQuiet();
    await page.close();
  }
}, 60_000);

test('both press Enter in the same moment: one is recorded, the other asked', async () => {
  const [one, two] = [await tab(), await tab()];
  await upToRecord(one, 4);
  await upToRecord(two, 4);
  await Promise.all([one.page.keyboard.press('Enter'), two.page.keyboard.press('Enter')]);
  const asked = ({ page }: Tab) => page.getByRole('dialog').getByText('already treated in this session');
  await asked(one).or(one.page.getByText('4 head done')).first().waitFor();
  await asked(two).or(two.page.getByText('4 head done')).first().waitFor();
  await expect
    .poll(async () => (await Promise.all([one, two].map((each) => asked(each).count()))).toSorted())
    .toEqual([0, 1]);
  expect((await administrations()).filter((shown) => shown === tagOf(4))).toHaveLength(1);
  for (const { page, watch } of [one, two]) {
    await watch.expectQuiet();
    await page.close();
  }
}, 60_000);
