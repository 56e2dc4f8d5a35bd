import type { Browser, Locator } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import { addDays, type Day } from '../../src-shared/time/day.ts';
import { faultsOf } from './axe.ts';
import { openBrowser, serveScreens, watchPage } from './browser.ts';
import { prepareScreens } from './setup.ts';
import { type TreatFarm, tagOf, treatFarm } from './treat-farm.ts';

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 90_000 });

let browser: Browser;
let farm: TreatFarm;
beforeAll(async () => {
  await prepareScreens();
  browser = await openBrowser();
}, 120_000);
afterAll(async () => {
  await browser?.close();
});
beforeEach(() => {
  farm = treatFarm();
});
afterEach(() => farm.close());

/** What stands there, with plain spaces: a tag is kept on one line by others. */
async function textOf(there: Locator): Promise<string> {
  return ((await there.textContent()) ?? '').replace(/\s/g, ' ');
}

/** An invented vaccine of two doses, 28 days apart. */
const VACCINE = {
  name: 'Ferrowick vaccine',
  form: 'injection' as const,
  kind: 'volume' as const,
  purpose: 'vaccine' as const,
  actives: [{ substance: 'ferrowick toxoid' }],
  doseLines: [
    {
      id: 'start',
      title: 'First course',
      route: 'subcutaneous' as const,
      rate: { style: 'rate' as const, text: '2 mL per head' },
      repeats: { doses: 2, earliest: '21 d', due: '28 d', latest: '42 d', whenLate: 'Begin the course anew' },
      protects: '365 d',
    },
  ],
  periods: [
    { produce: 'meat' as const, says: 'zero' as const },
    { produce: 'milk' as const, says: 'zero' as const },
  ],
  inUse: '10 h',
};

test('Today says which second doses are due and plans them; an open course is closed there; the animal and the list say who is covered', async () => {
  const { subjects, group, injection } = await farm.seed(3);
  const [first = '', second = '', third = ''] = subjects;
  const today = (await farm.ask('farm', {})).clock.today as Day;
  const { medicine } = await farm.ask('set-label', { act: 'first', terms: VACCINE, state: 'confirmed' });
  await farm.ask('receive-batch', {
    medicine,
    number: 'FW-1',
    expiry: `${Number(today.slice(0, 4)) + 2}-03`,
    packs: [{ count: 2, size: '100 mL' }],
  });
  const give = (subject: string, daysAgo: number) =>
    farm.ask('treat', {
      subject,
      single: { medicine, doseLine: 'start', source: 'vet', reason: 'First vaccine' },
      happened: addDays(today, -daysAgo),
    });
  // One is due today, one may not have it yet, and one has both.
  await give(first, 28);
  await give(second, 5);
  await give(third, 60);
  await give(third, 32);
  await farm.ask('treat', {
    subject: third,
    single: { medicine: injection, reason: 'Lame' },
    happened: addDays(today, -1),
    course: { planned: [addDays(today, -1), today, addDays(today, 1)] },
  });

  const host = await serveScreens(farm.desk());
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  const list = page.getByRole('list', { name: 'Courses and vaccines' });
  await list.waitFor();
  expect(await textOf(list)).toContain('2 of Lame ewes: dose 2 of 2 of Ferrowick vaccine is due');
  expect(await faultsOf(page, 'Today with courses')).toEqual([]);

  // The course of three doses: the second is planned for today; it is given up, with why.
  expect(await textOf(list)).toContain(`${tagOf(3)}: dose 2 of 3 of Orvandrex injection is planned for`);
  await list.getByRole('button', { name: 'Close the course' }).click();
  const closing = page.getByRole('dialog', { name: 'Close the course of Orvandrex injection' });
  await closing.getByRole('button', { name: 'Close it' }).click();
  await closing.getByRole('button', { name: 'Choose how the course ends.' }).waitFor();
  await closing.getByRole('radio', { name: /^Given up/ }).check();
  await closing.getByLabel('Why').fill('She is sound again');
  await closing.getByRole('button', { name: 'Close it' }).click();
  await closing.waitFor({ state: 'detached' });
  expect((await farm.ask('courses', {})).courses).toEqual([]);

  // The plan opens with the animals and the medicine; who may not have it yet is left out with the day.
  await list.getByRole('link', { name: 'Plan it' }).click();
  await page.getByRole('heading', { level: 1, name: 'Plan work at the race' }).waitFor();
  const doses = page.getByRole('table', { name: 'Doses' });
  await doses.getByText('Dose 2 of 2').waitFor();
  expect(await textOf(doses)).toContain(tagOf(1));
  const leftOut = page.getByRole('list', { name: 'Left out' });
  expect(await textOf(leftOut)).toContain(tagOf(2));
  expect(await textOf(leftOut)).toContain('dose 2 of 2 may be given from');

  await page.goto(`${new URL(page.url()).origin}/?at=flock/subject/${encodeURIComponent(third)}`);
  const hers = page.getByRole('list', { name: 'Vaccines and courses' });
  await hers.waitFor();
  expect(await textOf(hers)).toContain('Ferrowick vaccineCovered to');

  await page.goto(`${new URL(page.url()).origin}/?at=flock/vaccines&group=${encodeURIComponent(group)}`);
  await page.getByText('1 covered, 2 part of a course.').waitFor();
  await page.getByLabel('Stands').selectOption('covered');
  const covered = page.getByRole('table', { name: 'Coverage' });
  expect(await textOf(covered)).toContain(tagOf(3));
  expect(await textOf(covered)).not.toContain(tagOf(1));
  expect(await faultsOf(page, 'who is covered')).toEqual([]);
  await watch.expectQuiet();
  await context.close();
  await host.close();
});
