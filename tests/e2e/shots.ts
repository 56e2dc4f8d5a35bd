import { randomUUID } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import type { Browser, Page } from 'playwright-core';
import { buildDemo } from '../../demo/build.ts';
import { LAST_DAY } from '../../demo/farm.ts';
import { openDesk } from '../../src-main/answers/desk.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import type { CallName, Reply } from '../../src-shared/calls/all.ts';
import { FARM } from '../answers/farm-desk.ts';
import { openBrowser, watchPage } from './browser.ts';
import { serveOwnScreens } from './own-screens.ts';
import { type AskDesk, demoViews, emptyViews, type View } from './shots-views.ts';

// node tests/e2e/shots.ts OUTFOLDER [--book empty|demo] [--only VIEW]   every place, to look at
// node tests/e2e/shots.ts --readme                                      the three pictures of the README

/** A way to look at the screens: how wide, which colours, how large the letters. */
type Look = { name: string; width: number; height: number; scheme: 'light' | 'dark'; textPercent: number };
const LOOKS: readonly Look[] = [
  { name: 'light-1280', width: 1280, height: 800, scheme: 'light', textPercent: 100 },
  { name: 'dark-1280', width: 1280, height: 800, scheme: 'dark', textPercent: 100 },
  { name: 'light-1920', width: 1920, height: 1080, scheme: 'light', textPercent: 100 },
  { name: 'dark-1920', width: 1920, height: 1080, scheme: 'dark', textPercent: 100 },
  { name: 'light-1280-text200', width: 1280, height: 800, scheme: 'light', textPercent: 200 },
];
const README_LOOK: Look = { name: '', width: 1280, height: 800, scheme: 'light', textPercent: 100 };
/** The pictures of the README by the view they show. */
const README: Readonly<Record<string, string>> = { 'treat-run': 'treat', book: 'book', cabinet: 'cabinet' };

/** Pixels. */
const MOST_TALL = 16_000;
/** The evening of the demo's last day: the pictures are the same whenever they are made. */
const DEMO_NOW = `${LAST_DAY}T18:00:00.000Z`;

type Shown = { name: string; desk: Desk; views: readonly View[] };

function askOf(desk: Desk): AskDesk {
  return async <N extends CallName>(name: N, request: object): Promise<Reply<N>> => {
    const outcome = await desk.call(name, request);
    if (!outcome.ok) throw new Error(`${name}: ${outcome.error.code}: ${outcome.error.message}`);
    // The desk checked its reply against the schema of this call.
    return outcome.value as Reply<N>;
  };
}

/** A book nobody has written in yet. */
function newBook(folder: string): Shown {
  const desk = openDesk({ book: path.join(folder, 'new.foldbook'), clock: () => DEMO_NOW });
  return { name: 'new', desk, views: [{ name: 'first-run', at: '/' }] };
}

async function emptyBook(folder: string): Promise<Shown> {
  const desk = openDesk({ book: path.join(folder, 'empty.foldbook'), clock: () => DEMO_NOW });
  await askOf(desk)('start-book', { ...structuredClone(FARM), request: randomUUID(), by: 'nobody' });
  return { name: 'empty', desk, views: emptyViews() };
}

async function demoBook(folder: string): Promise<Shown> {
  const book = path.join(folder, 'demo.foldbook');
  await buildDemo({ book, out: folder });
  const desk = openDesk({ book, clock: () => DEMO_NOW });
  const ask = askOf(desk);
  const { people } = await ask('farm', {});
  const by = people[0]?.person ?? '';
  return { name: 'demo', desk, views: await demoViews(ask, by, LAST_DAY, randomUUID) };
}

/** Opens a view and waits until nothing on it is awaited any more. */
async function lead(page: Page, origin: string, view: View): Promise<void> {
  await page.goto(origin + view.at);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.locator('.awaited').first().waitFor({ state: 'detached' });
  for (const key of view.keys ?? []) await page.keyboard.press(key);
  if (view.keys !== undefined) await page.getByRole('dialog').waitFor();
  await view.lead?.(page);
  // The cursor may have drawn the page down; a picture begins at its top.
  await page.evaluate(() => window.scrollTo(0, 0));
  await page.locator('.awaited').first().waitFor({ state: 'detached' });
}

/**
 * @param fileOf where a picture goes; the whole page is taken, or with `isWindow` what a window shows of it
 * @param folder for the copy of the screens
 */
async function take(
  browser: Browser,
  { desk, views }: Shown,
  look: Look,
  fileOf: (view: View) => string,
  isWindow: boolean,
  folder: string,
): Promise<string[]> {
  const trouble: string[] = [];
  const host = await serveOwnScreens(desk, folder);
  const context = await browser.newContext({
    viewport: { width: look.width, height: look.height },
    colorScheme: look.scheme,
    locale: 'en-GB',
    reducedMotion: 'reduce',
  });
  try {
    const page = await context.newPage();
    const watch = await watchPage(page);
    await page.addInitScript((percent) => {
      // As a person does who sets larger letters in the browser: everything is measured in them.
      document.addEventListener('DOMContentLoaded', () => {
        if (percent !== 100) document.documentElement.style.fontSize = `${percent}%`;
      });
    }, look.textPercent);
    await page.goto(host.newAddress());
    await page.getByRole('main').waitFor();
    for (const view of views) {
      try {
        await lead(page, host.origin, view);
        // A list of hundreds of rows is told by its beginning; a picture of all of it cannot be looked at.
        const tall = await page.evaluate(() => document.documentElement.scrollHeight);
        const fullPage = !isWindow && tall <= MOST_TALL;
        await page.screenshot({ path: fileOf(view), fullPage, animations: 'disabled' });
      } catch (thrown) {
        // One screen that does not come must not cost the pictures of the others; it is told at the end.
        trouble.push(`${view.name} ${look.name}: ${thrown instanceof Error ? thrown.message : thrown}`);
      }
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      if (wide > 0) trouble.push(`${view.name} ${look.name}: ${wide} px wider than the window`);
    }
    trouble.push(...(await watch.trouble()));
  } finally {
    await context.close();
    await host.close();
  }
  return trouble;
}

async function shoot(): Promise<string[]> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { readme: { type: 'boolean' }, book: { type: 'string' }, only: { type: 'string' } },
  });
  const isReadme = values.readme === true;
  const out = isReadme ? path.join(import.meta.dirname, 'pictures') : positionals[0];
  if (out === undefined) throw new Error('name the folder for the pictures, or give --readme');
  mkdirSync(out, { recursive: true });

  const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-shots-'));
  const books: Shown[] = [];
  const trouble: string[] = [];
  const browser = await openBrowser();
  try {
    if (!isReadme && values.book !== 'demo') books.push(newBook(folder), await emptyBook(folder));
    if (isReadme || values.book !== 'empty') books.push(await demoBook(folder));
    for (const book of books) {
      const views = book.views.filter((view) =>
        isReadme ? view.name in README : values.only === undefined || view.name === values.only,
      );
      for (const look of isReadme ? [README_LOOK] : LOOKS) {
        const fileOf = (view: View) =>
          path.join(
            out,
            isReadme ? `${README[view.name]}.png` : `${view.name}-${book.name}-${look.name}.png`,
          );
        trouble.push(...(await take(browser, { ...book, views }, look, fileOf, isReadme, folder)));
      }
    }
  } finally {
    await browser.close();
    for (const { desk } of books) await desk.close();
    rmSync(folder, { recursive: true, force: true });
  }
  return trouble;
}

const trouble = await shoot();
for (const line of trouble) process.stderr.write(`${line}\n`);
process.exitCode = trouble.length === 0 ? 0 : 1;
