import type { Page } from 'playwright-core';
import { openBrowser, serveScreens } from '../e2e/browser.ts';
import { tagOf } from './farm.ts';
import { type Farms, LARGE_HEADS, SMALL_HEADS, type TreatedFarm } from './farms.ts';
import type { Line, Spread } from './measure.ts';

const RUNS = 7;
const LARGE = LARGE_HEADS.toLocaleString('en-GB');
const SMALL = `the same page on a book of ${SMALL_HEADS}`;
const FIRST_ROW = '[role=grid] [aria-rowindex="2"], table.rows tbody tr';

/** What must be on the page: an element, with a text in it or as its value. */
type Ready = { selector: string; text?: string };

/**
 * Presses a key and waits for what it leads to. Both ends are taken by the page's own clock: from the moment the
 * page hears the key to the first picture in which all of it is there.
 */
async function fromKey(page: Page, key: string, ready: readonly Ready[]): Promise<number> {
  await page.evaluate((wanted) => {
    const isThere = () =>
      wanted.every(({ selector, text }) =>
        [...document.querySelectorAll(selector)].some(
          (one) => text === undefined || (one.textContent ?? '').includes(text),
        ),
      );
    const taken = new Promise<number>((resolve) => {
      const begin = () => {
        const begun = performance.now();
        const look = () => {
          if (isThere()) resolve(performance.now() - begun);
          else requestAnimationFrame(look);
        };
        // Never before the page itself has heard the key.
        requestAnimationFrame(look);
      };
      window.addEventListener('keydown', begin, { capture: true, once: true });
    });
    Reflect.set(window, 'foldbookBench', taken);
  }, ready);
  await page.keyboard.press(key);
  const ms: unknown = await page.evaluate(() => Reflect.get(window, 'foldbookBench'));
  if (typeof ms !== 'number') throw new Error(`the page measured no time but ${String(ms)}`);
  return ms;
}

type Times = Record<'open' | 'filter' | 'read' | 'record' | 'written', number[]>;

async function flockRun(page: Page, farm: TreatedFarm, times: Times): Promise<void> {
  // A page loaded anew keeps no answers from before.
  await page.goto(`${new URL(page.url()).origin}/?at=today`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.keyboard.press('g');
  times.open.push(await fromKey(page, 'f', [{ selector: '.list-count' }, { selector: FIRST_ROW }]));
  await page.keyboard.press('/');
  await page.locator('.list-filter input:focus').waitFor();
  const all = farm.heads.toLocaleString('en-GB');
  times.filter.push(
    await fromKey(page, '7', [{ selector: '.list-count', text: ` of ${all}` }, { selector: FIRST_ROW }]),
  );
}

async function treatRun(page: Page, farm: TreatedFarm, n: number, times: Times): Promise<void> {
  const tag = tagOf(n);
  await page.locator('[name=read]:focus').waitFor();
  await page.keyboard.type(tag);
  times.read.push(await fromKey(page, 'Enter', [{ selector: '[name=weight]:focus' }]));
  await page.keyboard.press('Enter');
  await page.locator('[name=record]:focus').waitFor();
  const begun = performance.now();
  times.record.push(await fromKey(page, 'Enter', [{ selector: '[name=read]:focus' }]));
  await page.getByText(`${farm.heads - n} waiting`).waitFor();
  times.written.push(performance.now() - begun);
}

/** In the real browser: opening and narrowing down the flock, and work at the race, each beside the same on a nearly empty book. */
export async function browserFigures(farms: Farms): Promise<Line[]> {
  const books = { large: await farms.large(), small: await farms.small() };
  const empty = (): Times => ({ open: [], filter: [], read: [], record: [], written: [] });
  const times = { large: empty(), small: empty() };
  const browser = await openBrowser();
  const hosts = { large: await serveScreens(books.large.desk), small: await serveScreens(books.small.desk) };
  try {
    const pages = { large: await browser.newPage(), small: await browser.newPage() };
    const names = ['large', 'small'] as const;
    for (const name of names) await pages[name].goto(hosts[name].newAddress());
    for (let run = 0; run < RUNS; run += 1) {
      for (const name of names) await flockRun(pages[name], books[name], times[name]);
    }
    for (const name of names) {
      const at = encodeURIComponent(`treat/session/${books[name].session}`);
      await pages[name].goto(`${hosts[name].origin}/?at=${at}`);
    }
    for (let n = 1; n <= RUNS; n += 1) {
      for (const name of names) await treatRun(pages[name], books[name], n, times[name]);
    }
  } finally {
    await browser.close();
    for (const host of Object.values(hosts)) await host.close();
  }
  const line = (what: string, of: keyof Times): Line => {
    const ms = (values: number[]): Spread => ({ values, unit: 'ms' });
    return { what, was: ms(times.large[of]), beside: { what: SMALL, was: ms(times.small[of]) } };
  };
  return [
    line(`Chromium: Flock opened with ${LARGE} animals, from the key to the first row`, 'open'),
    line(`Chromium: one key in the filter of ${LARGE} animals`, 'filter'),
    line(`Chromium: Treat, session of ${LARGE}, from Enter after a tag to the weight box`, 'read'),
    line(
      `Chromium: Treat, session of ${LARGE}, from the Enter that records to the box for the next`,
      'record',
    ),
    line(
      `Chromium: Treat, session of ${LARGE}, the same until it is written and counted on the page`,
      'written',
    ),
  ];
}
