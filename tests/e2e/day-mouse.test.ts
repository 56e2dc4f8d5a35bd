import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import * as day from '../day/fixture.ts';
import * as pencil from '../day/pencil.ts';
import { type DayDesk, dayDesk } from '../day/play.ts';
import { readDeclarationRows } from '../day/read-paper.ts';
import { openBrowser, serveScreens, type Watch, watchPage } from './browser.ts';
import { takeIn, writeLabel } from './pages/cabinet.ts';
import { addPerson, beginBook, changeHolding, writeAs } from './pages/farm.ts';
import { addAnimal, bringIn } from './pages/flock.ts';
import type { Hands } from './pages/hands.ts';
import { mouse } from './pages/mouse.ts';
import { fillDeclaration, savePaper, sign } from './pages/papers.ts';
import { closeWork, planWork, treatNext } from './pages/race.ts';

/** A short day by mouse: clicks, and typing only into fields that were clicked into. */

let browser: Browser;
let host: LoopbackHost;
let desk: DayDesk;
let page: Page;
let watch: Watch;
let hands: Hands;

beforeAll(async () => {
  desk = dayDesk();
  host = await serveScreens(desk.desk);
  browser = await openBrowser();
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    locale: 'en-US',
    timezoneId: day.ZONE,
    acceptDownloads: true,
  });
  page = await context.newPage();
  page.setDefaultTimeout(20_000);
  watch = await watchPage(page);
  await page.goto(host.newAddress());
  hands = mouse(page);
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  await desk?.close();
});

const [first, second] = pencil.INJECTED.slice(1, 3);
const [batch] = day.BATCHES;

test('a book, a label, a batch, two animals treated, one declaration', async () => {
  if (first === undefined || second === undefined || batch === undefined)
    throw new Error('the fixture is empty');
  await beginBook(hands, { business: day.BUSINESS, holding: day.HOLDING, keeper: day.KEEPER });
  await changeHolding(hands, day.HOLDING);
  await addPerson(hands, day.SHEPHERD.name, 'Shepherd');
  await writeLabel(hands, day.INJECTION_AS_TYPED);
  await takeIn(hands, { ...batch, medicine: day.INJECTION_AS_TYPED.name });
  const lines = day.FLOCK_CSV.split('\n');
  await bringIn(hands, { name: 'two.csv', text: [lines[0], lines[2], lines[3], ''].join('\n') });
  const late = 'UK 0 700123 00099';
  await addAnimal(hands, { tag: late, class: 'ewe' });

  desk.at(day.CLOCK.injectionOpens);
  await writeAs(hands, day.SHEPHERD.name);
  await planWork(hands, {
    ...day.INJECTING,
    medicine: day.INJECTION_AS_TYPED.name,
    animals: [first.animal, second.animal],
    // 1.5 + 1.4
    needs: '2.9 mL',
  });
  for (const [n, one] of [first, second].entries()) {
    desk.at(day.INJECTING.deeds[n + 1]?.at ?? '');
    await treatNext(hands, { read: one.animal, shown: one.animal, draw: one.draw, done: n + 1 });
  }
  await closeWork(hands, day.INJECTING.name, 2);

  // The day after both periods have ended, and before.
  desk.at(day.CLOCK.firstDeclaration);
  await fillDeclaration(hands, {
    ...day.FIRST_DECLARATION,
    departs: '2026-03-15T06:00',
    going: [{ animal: first.animal }, { animal: late }],
  });
  await page.getByText(`${first.animal} is held until 16 Mar 2026, 00:00.`).waitFor();
  await hands.press(`Take ${first.animal} off the list`);
  await page.getByText('1 head is declared').waitFor();
  await sign(hands, 1);
  const paper = await readDeclarationRows(await savePaper(hands, 'declaration-1.pdf'));
  expect(paper.rows).toEqual([[late, '1', 'nothing', '', '', '', '', '']]);

  const { rows } = await desk.ask('book', day.BOOK_PERIOD);
  expect(rows.map((row) => [row.shown, row.dose, row.until])).toEqual([
    [first.animal, '1.5 mL', '16 Mar 2026, 00:00'],
    [second.animal, '1.4 mL', '16 Mar 2026, 00:00'],
  ]);
  await watch.expectQuiet();
}, 120_000);
