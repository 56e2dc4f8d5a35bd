import { randomUUID } from 'node:crypto';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openDesk } from '../../src-main/answers/desk.ts';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import { answerText } from '../../src-main/host-calls.ts';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { restoreBook } from '../../src-main/store/restore.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { FARM } from '../answers/farm-desk.ts';
import { faultsOf } from './axe.ts';
import { openBrowser, serveScreens, watchPage } from './browser.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-file-'));
const book = path.join(folder, 'hill.foldbook');
let desk: Desk;
let host: LoopbackHost;
let browser: Browser;
beforeAll(async () => {
  desk = await openDesk({ book, clock: () => new Date().toISOString() });
  const started = await desk.call('start-book', { ...FARM, request: randomUUID(), by: 'nobody' });
  expect(started.ok).toBe(true);
  host = await serveScreens(desk);
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  await desk?.close();
  rmSync(folder, { recursive: true });
});

test('a backup is made by keyboard from the Farm screen, saved whole, and becomes the book again', async () => {
  const context = await browser.newContext({ colorScheme: 'light' });
  const page = await context.newPage();
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.keyboard.press('g');
  await page.keyboard.press('m');
  await page.getByText('No backup of this book has been made from here yet.').waitFor();

  await page.getByRole('button', { name: 'Make a backup' }).focus();
  const coming = page.waitForEvent('download');
  await page.keyboard.press('Enter');
  const download = await coming;
  expect(download.suggestedFilename()).toMatch(/^backup-hill-\d{4}-\d\d-\d\d-entry-3\.foldbook$/);
  await page.getByText('and holds everything in the book.').waitFor();
  await page.getByText('holds 3 entries and was checked').waitFor();
  expect(await page.getByRole('link', { name: 'Save it again' }).getAttribute('download')).toBe(
    download.suggestedFilename(),
  );
  expect(await faultsOf(page, 'Farm after a backup')).toEqual([]);
  const saved = path.join(folder, download.suggestedFilename());
  await download.saveAs(saved);
  expect(readdirSync(folder).filter((name) => name.includes('to-save'))).toEqual([]);
  await watch.expectQuiet();
  await page.context().close();

  const checked = verifyBook(saved, storeParts);
  expect(checked).toMatchObject({ ok: true, entries: 3 });
  const elsewhere = path.join(folder, 'new-computer.foldbook');
  expect(restoreBook(saved, elsewhere, storeParts, { head: checked.head.checkCode })).toMatchObject({
    entries: 3,
  });
  // The checks for access take most of it on a computer that is busy.
}, 60_000);

/** A page as Foldbook's own window has it: its bridge in place of the line, and a menu that can be clicked. */
async function ownWindow(): Promise<{ page: Page; choose: (id: string) => Promise<void> }> {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.exposeFunction('foldbookTestCall', (text: string) => answerText(desk, text, () => {}));
  await page.addInitScript(() => {
    const listeners = new Set<(id: string) => void>();
    Reflect.set(window, 'foldbookTestChoose', (id: string) => {
      for (const listener of listeners) listener(id);
    });
    Reflect.set(window, 'foldbook', {
      call: (text: string) => Reflect.apply(Reflect.get(window, 'foldbookTestCall'), window, [text]),
      onCommand: (listener: (id: string) => void) => {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
    });
  });
  await page.goto(host.newAddress());
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
  return {
    page,
    choose: (id) =>
      page.evaluate((chosen) => {
        Reflect.apply(Reflect.get(window, 'foldbookTestChoose'), window, [chosen]);
      }, id),
  };
}

test('a deed chosen in the menu of the window is done as the palette does it', async () => {
  const { page, choose } = await ownWindow();
  const heading = (name: string) => page.getByRole('heading', { level: 1, name }).waitFor();
  await choose('go-cabinet');
  await heading('Cabinet');
  await choose('find');
  const palette = page.getByRole('dialog', { name: 'Find or do anything' });
  await palette.waitFor();
  // A question stands before everything behind it.
  await choose('go-flock');
  await page.keyboard.press('Escape');
  await palette.waitFor({ state: 'detached' });
  expect(new URL(page.url()).searchParams.get('at')).toBe('cabinet');

  const notHere = page.getByText('“Take back the last one” cannot be done on this screen.');
  await choose('take-back-last');
  await notHere.waitFor();
  await choose('no-such-deed');
  expect(await notHere.count()).toBe(1);
  await choose('go-farm');
  await heading('Farm');
  expect(await notHere.count()).toBe(0);
  await page.context().close();
});
