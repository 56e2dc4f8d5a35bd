import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { openBrowser } from '../e2e/browser.ts';
import { serveOwnScreens } from '../e2e/own-screens.ts';
import { tagOf } from './farm.ts';
import { type Farms, LARGE_HEADS, SMALL_HEADS, type TreatedFarm } from './farms.ts';
import type { Line, Spread } from './measure.ts';

const RUNS = 7;
const LARGE = LARGE_HEADS.toLocaleString('en-GB');
const SMALL = `the same page on a book of ${SMALL_HEADS}`;
const FIRST_ROW = '[role=grid] [aria-rowindex="2"], table.rows tbody tr';

/** What must be on the page, or with `isGone` must not: an element, with a text in it. */
type Ready = { selector: string; text?: string; isGone?: true };
/** A screen that is not there after so long never comes. */
const LONGEST_MS = 120_000;

/**
 * Does something and waits for what it leads to. Both ends are taken by the page's own clock: from the moment the
 * page hears the key or the click to the first picture in which all of it is there.
 */
async function measured(
  page: Page,
  hears: 'keydown' | 'click',
  act: () => Promise<void>,
  ready: readonly Ready[],
): Promise<number> {
  await page.evaluate(
    ({ wanted, heard, longestMs }) => {
      const isThere = () =>
        wanted.every(({ selector, text, isGone }) => {
          const found = [...document.querySelectorAll(selector)].some(
            (one) => text === undefined || (one.textContent ?? '').includes(text),
          );
          return found !== (isGone === true);
        });
      const taken = new Promise<number>((resolve, reject) => {
        const begin = () => {
          const begun = performance.now();
          const look = () => {
            const ms = performance.now() - begun;
            if (isThere()) resolve(ms);
            else if (ms > longestMs)
              reject(new Error(`not there after ${longestMs} ms: ${document.body.textContent}`));
            else requestAnimationFrame(look);
          };
          // Never before the page itself has answered.
          requestAnimationFrame(look);
        };
        window.addEventListener(heard, begin, { capture: true, once: true });
      });
      Reflect.set(window, 'foldbookBench', taken);
    },
    { wanted: ready, heard: hears, longestMs: LONGEST_MS },
  );
  await act();
  const ms: unknown = await page.evaluate(() => Reflect.get(window, 'foldbookBench'));
  if (typeof ms !== 'number') throw new Error(`the page measured no time but ${String(ms)}`);
  return ms;
}

const fromKey = (page: Page, key: string, ready: readonly Ready[]): Promise<number> =>
  measured(page, 'keydown', () => page.keyboard.press(key), ready);

type Times = Record<'open' | 'whole' | 'filter' | 'read' | 'record' | 'written', number[]>;

/** Flock opened from Today by a click on its name; a page loaded anew keeps no answers from before. */
async function openFlock(page: Page, more: readonly Ready[]): Promise<number> {
  await page.goto(`${new URL(page.url()).origin}/?at=today`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  const link = page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Flock' });
  // The groups stand above; an animal's tag is the sign that its own list has come.
  const ready = [{ selector: FIRST_ROW, text: 'UK 0 123456' }, ...more];
  return measured(page, 'click', () => link.click(), ready);
}

async function flockRun(page: Page, farm: TreatedFarm, times: Times): Promise<void> {
  times.open.push(await openFlock(page, []));
  const all = farm.heads.toLocaleString('en-GB');
  times.whole.push(await openFlock(page, [{ selector: '.list-count', text: `${all} lines` }]));
  await page.keyboard.press('/');
  await page.locator('.list-filter input:focus').waitFor();
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
  const empty = (): Times => ({ open: [], whole: [], filter: [], read: [], record: [], written: [] });
  const times = { large: empty(), small: empty() };
  const browser = await openBrowser();
  const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-bench-'));
  const hosts = {
    large: await serveOwnScreens(books.large.desk, folder),
    small: await serveOwnScreens(books.small.desk, folder),
  };
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
    rmSync(folder, { recursive: true });
  }
  const line = (what: string, of: keyof Times): Line => {
    const ms = (values: number[]): Spread => ({ values, unit: 'ms' });
    return { what, was: ms(times.large[of]), beside: { what: SMALL, was: ms(times.small[of]) } };
  };
  return [
    line(`Chromium: Flock opened with ${LARGE} animals, from the click to the first rows`, 'open'),
    line(`Chromium: the same until all ${LARGE} are in the list`, 'whole'),
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
