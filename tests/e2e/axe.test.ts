import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { addressOf, isRoutePath, ROUTES, type RoutePath } from '../../src-renderer/routes.ts';
import * as day from '../day/fixture.ts';
import * as pencil from '../day/pencil.ts';
import * as play from '../day/play.ts';
import { faultsOf } from './axe.ts';
import { goTo, openBrowser, serveScreens, type Watch, watchPage } from './browser.ts';

/**
 * Every screen there is by light and dark, and on an empty book what looks otherwise there by light: nothing is
 * wrong by the rules of the accessibility checker, and no screen is missing from this test, because it goes through
 * the list of screens.
 */

let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
});

type Shown = { page: Page; watch: Watch; host: LoopbackHost };

async function show(desk: play.DayDesk): Promise<Shown> {
  const host = await serveScreens(desk.desk);
  // Moving things are seen at their end: a colour on its way to another is no fault.
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('heading', { level: 1 }).waitFor();
  return { page, watch, host };
}

/** Opens screens by their addresses one after another; returns all that is wrong on any. */
async function lookAt({ page }: Shown, addresses: readonly string[], isDarkToo: boolean): Promise<string[]> {
  const found: string[] = [];
  for (const address of addresses) {
    await goTo(page, address);
    const title = await page.getByRole('heading', { level: 1 }).textContent();
    if (title === 'This screen does not work') found.push(`${address} does not work`);
    found.push(...(await faultsOf(page, address, isDarkToo)));
  }
  return found;
}

const allPaths = Object.keys(ROUTES).filter(isRoutePath);

test('the first form, of a book that is not there yet', async () => {
  const desk = play.dayDesk();
  const shown = await show(desk);
  expect(await faultsOf(shown.page, 'first run')).toEqual([]);
  await shown.watch.expectQuiet();
  await shown.host.close();
  await desk.close();
}, 60_000);

/** Screens that look otherwise while nothing is there: the places and the lists. A form is the same as on a full book. */
const emptyStates = [
  ...allPaths.filter((path) => !path.includes('/')),
  ...([
    'book/entries',
    'book/gaps',
    'book/use',
    'book/vet',
    'cabinet/disposals',
    'cabinet/prescriptions',
    'cabinet/stocktake',
    'cabinet/storage',
    'declare/clear',
    'flock/groups',
    'flock/held',
    'flock/vaccines',
    'farm/equipment',
    'treat/plan',
  ] as const),
];

test('every place and every list of a book in which nothing is', async () => {
  const desk = play.dayDesk();
  await desk.ask('start-book', {
    business: { ...day.BUSINESS },
    holding: { ...day.HOLDING },
    keeper: day.KEEPER,
  });
  const shown = await show(desk);
  expect(
    await lookAt(
      shown,
      emptyStates.map((path) => addressOf(path)),
      // The same colours as on the full screens below, which are looked at in dark as well.
      false,
    ),
  ).toEqual([]);
  await shown.watch.expectQuiet();
  await shown.host.close();
  await desk.close();
}, 180_000);

describe('a book with a day in it', () => {
  let desk: play.DayDesk;
  let shown: Shown;
  let params: Readonly<Record<string, string>>;
  const more: string[] = [];

  beforeAll(async () => {
    desk = play.dayDesk();
    const known = await play.setUp(desk);
    const animals = pencil.INJECTED.map((one) => one.animal);
    const injected = await play.inject(desk, known, animals);
    await play.doseByVet(desk, known);
    const administration = injected.treated[1]?.reply.administrations[0] ?? '';
    await play.vaccinate(desk, known);
    await play.tidyUp(desk, known, administration);
    const { signed } = await play.declareFirst(desk, known);
    const { holding } = known;
    const subject = play.subjectOf(known, day.MILKED);
    const { group } = await desk.ask('set-group', {
      holding,
      name: 'In the near field',
      add: [subject, play.subjectOf(known, day.LOT.name)],
    });
    const bought = await desk.ask('set-animal', {
      holding,
      tag: 'UK 0 700123 00300',
      class: 'ram',
      origin: 'bought',
    });
    const boughtSubject = `animal:${bought.animal}`;
    const { waits } = await desk.ask('subject', { subject: boughtSubject });
    await play.correctLabel(desk, known);
    const { session } = await desk.ask('open-session', {
      holding,
      groups: [group],
      name: 'Second drench',
      lines: [{ medicine: known.medicine.drench, reason: 'Worms' }],
    });
    const { medicine: sold } = await desk.ask('set-label', {
      act: 'first',
      terms: { ...day.DRENCH, name: 'Shop drench', prescription: 'general-sale' },
    });
    const { order } = await desk.ask('write-order', {
      supplier: 'Glenside Supplies',
      lines: [{ medicine: sold, size: '500 mL', count: 2 }],
    });
    const { equipment } = await desk.ask('set-equipment', {
      what: 'gun',
      name: 'Blue gun',
      capacity: '30 mL',
      graduation: '0.5 mL',
    });
    const { reaction } = await desk.ask('record-reaction', {
      administration: injected.treated[0]?.reply.administrations[0] ?? '',
      what: 'suspected',
      seen: 'A swelling where it went in',
    });
    const { loss } = await desk.ask('report-needle', {
      session: injected.session,
      subject,
      found: 'not-found',
      site: 'neck',
      side: 'left',
    });
    const { container: bottle } = await desk.ask('container', {
      container: play.containerOf(known, 'OR-77-1'),
    });
    const { prescription } = await desk.ask('record-prescription', {
      number: 'RX 7',
      vet: known.vet,
      medicine: known.medicine.injection,
      quantity: '100 mL',
      written: '2026-03-01',
    });
    const { instruction } = await desk.ask('record-instruction', {
      vet: known.vet,
      what: 'Twice the dose, once',
      form: 'told',
      reason: 'Lungs',
      periods: [{ produce: 'meat', period: '42 d' }],
    });
    params = {
      batch: bottle.batchId ?? '',
      prescription,
      instruction,
      loss,
      order,
      medicine: known.medicine.injection,
      revision: known.revision.injection,
      container: play.containerOf(known, 'OR-77-1'),
      subject,
      hold: waits[0]?.hold ?? '',
      group,
      session,
      administration,
      reaction,
      declaration: signed.declaration,
      holding,
      person: known.vet,
      topic: 'dose',
      equipment,
    };
    // The same screens in another state: a closed session, a lot, a statement that is waited for.
    more.push(
      addressOf('treat/session/:session', { session: injected.session }),
      addressOf('flock/subject/:subject', { subject: play.subjectOf(known, day.LOT.name) }),
      addressOf('flock/subject/:subject', { subject: boughtSubject }),
      addressOf('flock/subject/:subject/word/:hold', { ...params, subject: boughtSubject }),
      addressOf('treat/one', {}, { subject }),
      addressOf('cabinet/container/:container', params, { do: 'count' }),
    );
    shown = await show(desk);
  }, 120_000);
  afterAll(async () => {
    await shown?.host.close();
    await desk?.close();
  });

  /** The address of a screen, about something that is in this book. */
  function addressIn(path: RoutePath): string {
    for (const [, name = ''] of path.matchAll(/:(\w+)/g)) {
      if ((params[name] ?? '') === '') throw new Error(`this test has no ${name} for ${path}`);
    }
    return addressOf(path, params);
  }

  test('every screen', async () => {
    expect(await lookAt(shown, [...allPaths.map(addressIn), ...more], true)).toEqual([]);
    await shown.watch.expectQuiet();
  }, 240_000);

  test('the two boxes that lie over every screen', async () => {
    const { page } = shown;
    await goTo(page, addressOf('today'));
    await page.keyboard.press('Control+k');
    await page.getByRole('dialog', { name: 'Find or do anything' }).waitFor();
    expect(await faultsOf(page, 'find')).toEqual([]);
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await page.keyboard.press('?');
    await page.getByRole('dialog', { name: 'Keys' }).waitFor();
    expect(await faultsOf(page, 'keys')).toEqual([]);
    await shown.watch.expectQuiet();
  }, 60_000);
});
