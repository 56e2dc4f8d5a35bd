import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import * as on from '../day/expectations.ts';
import * as day from '../day/fixture.ts';
import * as pencil from '../day/pencil.ts';
import { type DayDesk, dayDesk } from '../day/play.ts';
import { type PaperRead, readDeclarationRows, readPaperRows } from '../day/read-paper.ts';
import { openBrowser, serveScreens, type Watch, watchPage } from './browser.ts';
import { correctMeatPeriod, disposeOf, takeIn, writeLabel } from './pages/cabinet.ts';
import { addPerson, beginBook, changeHolding, writeAs } from './pages/farm.ts';
import { addLot, bringIn, putInMilk } from './pages/flock.ts';
import { arrive, type Hands } from './pages/hands.ts';
import { keyboard } from './pages/keyboard.ts';
import { correctDose, fillDeclaration, printRecord, savePaper, sign } from './pages/papers.ts';
import { closeWork, planWork, treatAll, treatedByTheVet, treatNext, type Work } from './pages/race.ts';

/**
 * The day of tests/day through the screens, by keys alone: the same fixture, the same pencil, the papers saved by
 * keys and read back. The tests of this file are one story and run in their order.
 */

let browser: Browser;
let host: LoopbackHost;
let desk: DayDesk;
let page: Page;
let watch: Watch;
let hands: Hands;
let firstPaper: Uint8Array;

const MEDICINES = {
  injection: day.INJECTION_AS_TYPED.name,
  drench: day.DRENCH.name,
  vaccine: day.VACCINE.name,
};

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
  hands = keyboard(page);
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
  await desk?.close();
});

test('the book is begun: business, holding, keeper, and two more people', async () => {
  await beginBook(hands, { business: day.BUSINESS, holding: day.HOLDING, keeper: day.KEEPER });
  await changeHolding(hands, day.HOLDING);
  await addPerson(hands, day.SHEPHERD.name, 'Shepherd');
  await addPerson(hands, day.VET.name, 'Vet');
  const farm = await desk.ask('farm', {});
  expect(farm.business).toMatchObject(day.BUSINESS);
  expect(farm.holdings).toHaveLength(1);
  expect(farm.holdings[0]).toMatchObject({ ...day.HOLDING, marginDays: 0 });
  expect(farm.people.map(({ name, roles }) => ({ name, roles }))).toEqual([
    day.SHEPHERD,
    day.VET,
    day.KEEPER,
  ]);
  await watch.expectQuiet();
}, 60_000);

test('three labels are typed and typed again, five deliveries are taken in', async () => {
  for (const terms of [day.INJECTION_AS_TYPED, day.DRENCH, day.VACCINE]) await writeLabel(hands, terms);
  for (const batch of day.BATCHES) await takeIn(hands, { ...batch, medicine: MEDICINES[batch.medicine] });
  const { medicines } = await desk.ask('medicines', {});
  expect(medicines.map((one) => one.state)).toEqual(['confirmed', 'confirmed', 'confirmed']);
  const { containers } = await desk.ask('cabinet', { show: 'all' });
  expect(containers).toHaveLength(8);
  await watch.expectQuiet();
}, 120_000);

test('the flock file comes in, a lot is added, one ewe is put in milk', async () => {
  const says = await bringIn(hands, { name: 'flock.csv', text: day.FLOCK_CSV });
  expect(says).toBe('12 lines in the file = 12 taken + 0 refused + 0 already there.');
  await addLot(hands, day.LOT);
  await putInMilk(hands, day.MILKED);
  const { animals } = await desk.ask('animals', {});
  expect(animals.filter((one) => one.milking).map((one) => one.shown)).toEqual([day.MILKED]);
  await watch.expectQuiet();
}, 60_000);

type Race = {
  medicine: string;
  work: Pick<Work, 'name' | 'reason' | 'syringe'> & { headsThrough: number; deeds: readonly day.Deed[] };
  expected: readonly pencil.DoseExpected[];
  plan: { needs: string };
  opens: string;
  closes: string;
};

async function atTheRace({ medicine, work, expected, plan, opens, closes }: Race): Promise<void> {
  desk.at(opens);
  await planWork(hands, {
    ...work,
    medicine,
    animals: expected.map((one) => one.animal),
    needs: plan.needs,
  });
  for (const [n, deed] of work.deeds.entries()) {
    const { animal = '', draw = '' } = expected[n] ?? {};
    desk.at(deed.at);
    await treatNext(hands, {
      read: deed.read,
      shown: animal,
      draw,
      done: n + 1,
      ...(deed.weight === undefined ? {} : { weight: deed.weight }),
    });
  }
  desk.at(closes);
  await closeWork(hands, work.name, work.headsThrough);
}

test('the injection and the drench: nineteen animals, one after the other', async () => {
  await writeAs(hands, day.SHEPHERD.name);
  await atTheRace({
    medicine: MEDICINES.injection,
    work: day.INJECTING,
    expected: pencil.INJECTED,
    plan: pencil.INJECTION_PLAN,
    opens: day.CLOCK.injectionOpens,
    closes: day.CLOCK.injectionCloses,
  });
  await atTheRace({
    medicine: MEDICINES.drench,
    work: day.DRENCHING,
    expected: pencil.DRENCHED,
    plan: pencil.DRENCH_PLAN,
    opens: day.CLOCK.drenchOpens,
    closes: day.CLOCK.drenchCloses,
  });
  await watch.expectQuiet();
}, 120_000);

test('one dose from the vet’s bottle, and the vaccine for all of them at once', async () => {
  desk.at(day.CLOCK.vet);
  const written = await treatedByTheVet(hands, {
    ...day.BY_THE_VET,
    medicine: MEDICINES.injection,
    vet: day.VET.name,
  });
  expect(written).toContain(pencil.VET_DOSE.draw);
  desk.at(day.CLOCK.vaccineOpens);
  const { animals } = await desk.ask('animals', {});
  await planWork(hands, {
    ...day.VACCINATING,
    medicine: MEDICINES.vaccine,
    animals: animals.map((one) => one.shown),
    lots: [day.LOT.name],
    isMass: true,
    needs: pencil.VACCINE_PLAN.needs,
  });
  desk.at(day.CLOCK.vaccine);
  await treatAll(hands, day.VACCINATING.headsThrough, day.VACCINATING.lost.amount);
  desk.at(day.CLOCK.vaccineCloses);
  await closeWork(hands, day.VACCINATING.name, day.VACCINATING.headsThrough);
  await watch.expectQuiet();
}, 90_000);

test('the morning after: one dose is put right, the rest of the vaccine poured away, the shelf adds up', async () => {
  desk.at(day.CLOCK.morningAfter);
  await writeAs(hands, day.KEEPER.name);
  await correctDose(hands, { ...day.CORRECTION, product: MEDICINES.injection });
  await disposeOf(hands, day.DISCARDED);
  on.expectCabinet(on.cabinetRows(await desk.ask('cabinet', { show: 'all' })));
  await watch.expectQuiet();
}, 60_000);

test('the first declaration is signed and its paper saved', async () => {
  desk.at(day.CLOCK.firstDeclaration);
  await fillDeclaration(hands, day.FIRST_DECLARATION);
  await page.getByText(pencil.FIRST_HEADS).waitFor();
  await sign(hands, 1);
  firstPaper = await savePaper(hands, 'declaration-1.pdf');
  on.expectDeclaration(await readDeclarationRows(firstPaper), pencil.FIRST_PAPER, pencil.FIRST_COUNT);
  for (const one of pencil.CLEAR_BEFORE) on.expectClear(one, await desk.ask('clear-list', { at: one.at }));
  await watch.expectQuiet();
}, 60_000);

test('the label typed wrongly is corrected, with all that moves shown before', async () => {
  desk.at(day.CLOCK.labelCorrected);
  const rows = await correctMeatPeriod(hands, {
    name: MEDICINES.injection,
    period: '41 d',
    why: day.LABEL_SLIP,
  });
  expect(rows.map(([shown, , produce, from, to]) => ({ shown, produce, from, to }))).toEqual(pencil.MOVED);
  for (const one of pencil.CLEAR_AFTER) on.expectClear(one, await desk.ask('clear-list', { at: one.at }));
  const { notices } = await desk.ask('notices', {});
  expect(notices.map((notice) => notice.number)).toEqual([1]);
  await watch.expectQuiet();
}, 60_000);

/** The screen puts lots before animals in a plan, the pencil after them: all of one run, at one instant. */
function lotLast(paper: PaperRead): PaperRead {
  const at = paper.rows.findIndex((row) => row[1] === day.LOT.name);
  const last = <T>(all: readonly T[]): T[] => [
    ...all.slice(0, at),
    ...all.slice(at + 1),
    ...all.slice(at, at + 1),
  ];
  return { ...paper, rows: last(paper.rows), beneath: last(paper.beneath), reasons: last(paper.reasons) };
}

test('who is held is refused by name and taken off; both papers say what the pencil says', async () => {
  desk.at(day.CLOCK.papers);
  const { held, going, ...where } = day.SECOND_DECLARATION;
  await fillDeclaration(hands, { ...where, going: [{ animal: held }, ...going] });
  await page.getByText(`${held} is held until 12 Apr 2026, 00:00.`).waitFor();
  await hands.send('Sign and print it');
  await page.getByRole('alert').getByText(pencil.HELD_SENTENCE).waitFor();
  expect((await desk.ask('declarations', {})).declarations).toHaveLength(1);
  await hands.press(`Take ${held} off the list`);
  await page.getByText('31 head are declared').waitFor();
  await sign(hands, 2);
  const second = await savePaper(hands, 'declaration-2.pdf');
  on.expectDeclaration(await readDeclarationRows(second), pencil.SECOND_PAPER, pencil.SECOND_COUNT);

  const paper = lotLast(await readPaperRows(await printRecord(hands, day.BOOK_PERIOD)));
  on.expectBookPaper(paper);
  expect(paper.reasons.filter((text) => text.includes('medicine from the vet'))).toEqual([
    'Swollen joint Given by Isaura Quennell; medicine from the vet',
  ]);
  const verified = await desk.ask('verify', { head: paper.checkCode });
  expect(verified).toMatchObject({ ok: true, problems: [] });
  // The bytes the keys saved are those that the desk keeps.
  const { declarations } = await desk.ask('declarations', {});
  const first = declarations.find((one) => one.number === 1);
  const kept = await desk.desk.paper(first?.paper ?? '');
  expect(Buffer.from(kept?.bytes ?? []).equals(Buffer.from(firstPaper))).toBe(true);
  await arrive(hands, 'Print the book');
  await watch.expectQuiet();
}, 90_000);
