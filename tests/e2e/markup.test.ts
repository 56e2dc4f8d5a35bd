import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { addressOf, isRoutePath, ROUTES, type RoutePath } from '../../src-renderer/routes.ts';
import * as day from '../day/fixture.ts';
import { type DayDesk, dayDesk } from '../day/play.ts';
import { goTo, openBrowser, serveScreens, watchPage } from './browser.ts';

/**
 * Names and words that are markup: every screen shows them as the text they are. Each kind of name carries its own
 * word, so that it is seen whether it was shown at all.
 */

/** Ends an attribute, a tag and a script, and would run if any of it were taken for markup. */
function hostile(word: string): string {
  return `${word}"><img src=x onerror=alert(1)><script>alert(2)</script>`;
}

/** The same for where there is room for little. */
function short(word: string): string {
  return `${word}"><img src=x onerror=a()>`;
}

const WORDS = [
  'vet',
  'diagnosis',
  'why',
  'business',
  'keeper',
  'holding',
  'medicine',
  'substance',
  'storage',
  'danger',
  'batch',
  'supplier',
  'lot',
  'group',
  'session',
  'reason',
  'correction',
  'abattoir',
  'ordered from',
  'sold by',
  'work',
] as const;

let browser: Browser;
let host: LoopbackHost;
let desk: DayDesk;
let params: Readonly<Record<string, string>>;

beforeAll(async () => {
  desk = dayDesk();
  const begun = await desk.ask('start-book', {
    business: { name: hostile('business'), address: hostile('address') },
    holding: { ...day.HOLDING, name: hostile('holding') },
    keeper: { name: hostile('keeper'), roles: ['owner', 'keeper'] },
  });
  const { holding, person } = begun;
  desk.writeAs(person);
  const { medicine, revision } = await desk.ask('set-label', {
    act: 'first',
    terms: {
      ...day.DRENCH,
      prescription: 'general-sale',
      name: hostile('medicine'),
      actives: [{ substance: hostile('substance') }],
      storage: { says: hostile('storage') },
      hazards: { people: hostile('danger') },
    },
  });
  const { containers } = await desk.ask('receive-batch', {
    medicine,
    number: short('batch'),
    expiry: '2027-03',
    packs: [{ count: 1, size: '500 mL' }],
    supplier: hostile('supplier'),
  });
  const { animal } = await desk.ask('set-animal', {
    holding,
    management: 'E7',
    class: 'ewe',
  });
  const subject = `animal:${animal}`;
  await desk.ask('weigh', { subject, weight: '137 lb', how: 'scale' });
  const { lot } = await desk.ask('set-lot', { holding, name: hostile('lot'), class: 'lamb', heads: 3 });
  await desk.ask('weigh', { subject: `lot:${lot}`, weight: '60 lb', how: 'scale' });
  const { group } = await desk.ask('set-group', {
    holding,
    name: hostile('group'),
    add: [subject, `lot:${lot}`],
  });
  const bought = await desk.ask('set-lot', {
    holding,
    name: 'Bought',
    class: 'ewe',
    heads: 2,
    origin: 'bought',
  });
  const { waits } = await desk.ask('subject', { subject: `lot:${bought.lot}` });
  const { declaration } = await desk.ask('declare', {
    holding,
    to: hostile('abattoir'),
    departs: '2026-03-02T06:00',
    subjects: [{ subject: `lot:${lot}` }],
    signer: person,
    answer: 'yes',
  });
  const { session } = await desk.ask('open-session', {
    holding,
    groups: [group],
    name: hostile('session'),
    lines: [{ medicine, reason: hostile('reason') }],
  });
  desk.at('2026-03-01T09:00:00.000Z');
  const { administrations } = await desk.ask('treat', { session, subject });
  const administration = administrations[0] ?? '';
  await desk.ask('correct-treatment', { administration, given: '14 mL', reason: hostile('correction') });
  const { reaction } = await desk.ask('record-reaction', {
    administration,
    what: 'suspected',
    seen: hostile('seen'),
    done: hostile('done for it'),
    told: hostile('told'),
  });
  const { equipment } = await desk.ask('set-equipment', {
    what: 'gun',
    name: hostile('gun'),
    capacity: '30 mL',
    graduation: '0.5 mL',
  });
  const { loss } = await desk.ask('report-needle', {
    subject,
    found: 'not-found',
    note: hostile('needle'),
  });
  const { order } = await desk.ask('write-order', {
    supplier: hostile('ordered from'),
    lines: [{ medicine, size: '500 mL', count: 2 }],
  });
  await desk.ask('set-supply', {
    medicine,
    supplier: hostile('sold by'),
    packs: [{ size: '500 mL', price: '80.00 GBP' }],
  });
  await desk.ask('foresee-work', {
    medicine,
    name: hostile('work'),
    on: '2026-03-20',
    heads: '200',
    dose: '10 mL',
  });
  const [bottle] = containers;
  const batch = await desk.ask('container', { container: bottle?.container ?? '' });
  const { person: vet } = await desk.ask('set-person', { name: hostile('vet'), roles: ['vet'] });
  const { prescription } = await desk.ask('record-prescription', {
    number: short('number'),
    vet,
    medicine,
    written: '2026-03-01',
    diagnosis: hostile('diagnosis'),
  });
  const { instruction } = await desk.ask('record-instruction', {
    vet,
    what: hostile('order'),
    form: 'told',
    reason: hostile('why'),
    subjects: [subject],
    periods: [{ produce: 'meat', period: '42 d' }],
  });
  await desk.ask('attach', {
    to: { what: 'subject', id: subject },
    file: { name: `${short('photo')}.png`, base64: 'iVBORw0KGgoAAAAASUVORK5CYII=' },
    paper: 'photo',
    why: hostile('why'),
  });
  params = {
    topic: 'dose',
    prescription,
    instruction,
    equipment,
    loss,
    order,
    batch: batch.container.batchId ?? '',
    medicine,
    revision,
    container: containers[0]?.container ?? '',
    subject,
    hold: waits[0]?.hold ?? '',
    group,
    session,
    administration,
    reaction,
    declaration,
    holding,
    person,
  };
  host = await serveScreens(desk.desk);
  browser = await openBrowser();
}, 120_000);
afterAll(async () => {
  await browser?.close();
  await host?.close();
  await desk?.close();
});

function addressIn(path: RoutePath): string {
  for (const [, name = ''] of path.matchAll(/:(\w+)/g)) {
    if ((params[name] ?? '') === '') throw new Error(`this test has no ${name} for ${path}`);
  }
  return addressOf(path, params);
}

test('markup in names, labels and reasons is text on every screen', async () => {
  const page = await browser.newPage();
  page.setDefaultTimeout(20_000);
  const alerts: string[] = [];
  page.on('dialog', (dialog) => {
    alerts.push(dialog.message());
    void dialog.dismiss();
  });
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('heading', { level: 1 }).waitFor();
  const made: string[] = [];
  let text = '';
  for (const path of Object.keys(ROUTES).filter(isRoutePath)) {
    await goTo(page, addressIn(path));
    const seen = await page.evaluate(() => ({
      // Options of a box that drops down and what stands in a field are shown too.
      text: [
        document.title,
        document.body.textContent,
        ...[...document.querySelectorAll('input, textarea')].map((field) =>
          field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement ? field.value : '',
        ),
      ].join('\n'),
      elements: [...document.body.querySelectorAll('img, script, [onerror]')].map((one) => one.outerHTML),
    }));
    text += seen.text;
    made.push(...seen.elements.map((one) => `${path}: ${one}`));
  }
  expect(made).toEqual([]);
  expect(WORDS.filter((word) => !text.includes(`${word}"><img src=x onerror=`))).toEqual([]);
  expect(alerts).toEqual([]);
  await watch.expectQuiet();
}, 180_000);
