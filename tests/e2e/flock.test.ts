import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { openDesk } from '../../src-main/answers/desk.ts';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import type { Ask, Reply, WritingCall } from '../../src-shared/calls/all.ts';
import { faultsOf } from './axe.ts';
import { openBrowser, serveScreens, watchPage } from './browser.ts';
import { pressRun } from './pages/hands.ts';

type Filled<N extends WritingCall> = Omit<Ask<N>, 'request' | 'by'>;
type Farm = Awaited<ReturnType<typeof farm>>;

/** A desk on a book of its own with one holding, served to a browser. */
async function farm() {
  const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-flock-'));
  const desk = openDesk({ book: path.join(folder, 'b.foldbook'), clock: () => '2026-04-12T10:00:00.000Z' });
  let by = 'keeper';
  async function write<N extends WritingCall>(name: N, filled: Filled<N>): Promise<Reply<N>> {
    const outcome = await desk.call(name, { request: randomUUID(), by, ...filled });
    if (!outcome.ok) throw new Error(`${name}: ${outcome.error.message}`);
    return outcome.value as Reply<N>;
  }
  const started = await write('start-book', {
    business: { name: 'Thistle Bank Farm', address: '1 Thistle Bank' },
    holding: {
      name: 'Thistle Bank',
      number: 'TB 0001',
      address: '1 Thistle Bank',
      zone: 'Europe/London',
      law: 'gb',
    },
    keeper: { name: 'Isla Thorn' },
  });
  by = started.person;
  const host: LoopbackHost = await serveScreens(desk);
  return {
    write,
    holding: started.holding,
    address: () => host.newAddress(),
    async close() {
      await host.close();
      await desk.close();
      rmSync(folder, { recursive: true });
    },
  };
}

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 90_000 });

let browser: Browser;
let little: Farm;
beforeAll(async () => {
  browser = await openBrowser();
  little = await farm();
});
afterAll(async () => {
  await little?.close();
  await browser?.close();
});

const tag = (n: number) => `UK 0 123456 ${String(n).padStart(5, '0')}`;

/** Goes on with Tab until the cursor stands there, as a person without a mouse does. */
async function tabTo(page: Page, target: Locator): Promise<void> {
  await target.waitFor();
  for (let n = 0; n < 80; n += 1) {
    if (await target.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not lead to ${target}`);
}

async function goBy(page: Page, keys: string, there: Locator): Promise<void> {
  await pressRun(page, [...keys]);
  await there.waitFor();
}

const heading = (page: Page, title: string) =>
  page.getByRole('heading', { level: 1, name: title, exact: true });

/** Finds one by what is typed into the box that is two keys away. */
async function find(page: Page, read: string): Promise<void> {
  await goBy(page, 'gn', heading(page, 'Flock'));
  const box = page.getByLabel('Tag, number or lot');
  await expect.poll(() => box.evaluate((element) => element === document.activeElement)).toBe(true);
  await page.keyboard.type(read);
  await page.keyboard.press('Enter');
}

/** The heading has the cursor: the screen is there and hears keys. */
async function arrived(page: Page, title: string): Promise<void> {
  await heading(page, title).waitFor();
  await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
}

test('by keyboard: a file with a question and a refused line comes in; a ewe is found, retagged and found by her old number', async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  const lines = [
    'Tag,Class,Born',
    `${tag(101)},ewe,03/04/2021`,
    `${tag(102)},ewe,05/06/2021`,
    '8.26E+14,ewe,05/06/2021',
  ];
  // The window for choosing a file is the system's own: it is answered here, and must be asked for by a key.
  page.on('filechooser', (chooser) => {
    void chooser.setFiles({
      name: 'flock.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(lines.join('\r\n')),
    });
  });
  const watch = await watchPage(page);
  await page.goto(little.address());
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.keyboard.press('Control+k');
  await page.getByRole('dialog', { name: 'Find or do anything' }).waitFor();
  await page.keyboard.type('flock file');
  await page.keyboard.press('Enter');
  await arrived(page, 'Bring in a flock file');

  await tabTo(page, page.getByLabel('The file'));
  await page.keyboard.press('Space');
  await page.getByText('3 lines in the file. None is taken before the questions are answered.').waitFor();
  const first = page.getByRole('table', { name: 'Lines' }).getByRole('row').nth(1);
  expect(await first.textContent()).toContain('4Refused8.26E+14The spreadsheet shortened this number');
  expect(await faultsOf(page, 'a file with a question')).toEqual([]);

  // The cursor reaches a group of radio buttons at its first one.
  await tabTo(page, page.getByRole('radio', { name: 'Day, month, year' }));
  await page.keyboard.press('Space');
  await page.getByText('3 lines in the file = 2 taken + 1 refused + 0 already there.').waitFor();
  await tabTo(page, page.getByRole('radio', { name: 'No withdrawal period is running' }));
  await page.keyboard.press('Space');
  await page.keyboard.press('Control+Enter');
  await page.getByText('2 animals are in the book.').waitFor();

  await find(page, '00102');
  await arrived(page, tag(102));
  await page.getByText('Ewe, born 5 Jun 2021.').waitFor();
  await goBy(page, 'ac', heading(page, `Change ${tag(102)}`));
  await arrived(page, `Change ${tag(102)}`);
  await tabTo(page, page.getByRole('textbox', { name: /^Tag/ }));
  await page.keyboard.press('Control+a');
  await page.keyboard.type('UK 0 123456 00902');
  await page.keyboard.press('Enter');
  await arrived(page, tag(902));
  await find(page, tag(102));
  await arrived(page, tag(902));
  expect(await page.getByRole('list', { name: 'Numbers' }).textContent()).toContain(`Before${tag(102)}`);
  await watch.expectQuiet();
  await context.close();
});

test('by keyboard: a lot is split, a jump of weight is asked about, and what was bought waits for a statement', async () => {
  await little.write('set-lot', { holding: little.holding, name: 'Store lambs', class: 'lamb', heads: 120 });
  const { animal } = await little.write('set-animal', {
    holding: little.holding,
    tag: tag(300),
    class: 'ram',
    origin: 'bought',
  });
  await little.write('weigh', { subject: `animal:${animal}`, weight: '80 kg', how: 'scale' });
  const context = await browser.newContext();
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  const watch = await watchPage(page);
  await page.goto(little.address());
  await page.getByRole('heading', { level: 1 }).waitFor();

  await find(page, 'store lambs');
  await arrived(page, 'Store lambs');
  await goBy(page, 'am', heading(page, 'Move heads out of Store lambs'));
  await arrived(page, 'Move heads out of Store lambs');
  await tabTo(page, page.getByLabel('How many heads'));
  await page.keyboard.type('40');
  await page.getByText('80 heads stay behind.').waitFor();
  await page.keyboard.press('Tab');
  await page.keyboard.type('Lambs away');
  await page.keyboard.press('Enter');
  await arrived(page, 'Lambs away');
  await page.getByText('40 head, class lamb.').waitFor();

  await find(page, '00300');
  await arrived(page, tag(300));
  await page.getByText('No date', { exact: true }).waitFor();
  await goBy(page, 'aw', heading(page, `Weigh ${tag(300)}`));
  await arrived(page, `Weigh ${tag(300)}`);
  await tabTo(page, page.getByLabel('Weight in kg'));
  await page.keyboard.type('176');
  await page.keyboard.press('Enter');
  const question = page.getByRole('dialog', { name: 'Is this so?' });
  await question.waitFor();
  await page.keyboard.press('Escape');
  await question.waitFor({ state: 'detached' });
  await page.keyboard.press('Control+a');
  await page.keyboard.type('82');
  await page.keyboard.press('Enter');
  await arrived(page, tag(300));
  await page.getByText('Ram, bought. 82 kg,').waitFor();

  await tabTo(page, page.getByRole('link', { name: 'There is a statement' }));
  await page.keyboard.press('Enter');
  await arrived(page, `End the hold on ${tag(300)}`);
  await tabTo(page, page.getByRole('radio', { name: /^There is a statement/ }));
  await page.keyboard.press('Space');
  await page.keyboard.press('Tab');
  await page.keyboard.type('The seller signed on 11 Apr 2026');
  await page.keyboard.press('Control+Enter');
  await arrived(page, tag(300));
  await page.getByText('Clear', { exact: true }).waitFor();
  await watch.expectQuiet();
  await context.close();
});
