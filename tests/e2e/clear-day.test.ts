import { expect, test, vi } from 'vitest';
import { DRENCH } from '../answers/declare-desk.ts';
import { arrive, type Hands, said } from './pages/hands.ts';
import { keyboard } from './pages/keyboard.ts';
import { mouse } from './pages/mouse.ts';
import { planWork, treatNext } from './pages/race.ts';
import { recordPage } from './record-page.ts';

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 90_000 });

// London puts its clocks forward on 30 March 2025.
const on = recordPage('2025-03-20T09:00:00.000Z');

const [first, second] = ['UK 9 999999 00001', 'UK 9 999999 00002'] as const;
const twoDays = 'Vermolin two-day drench';
const twoInserts = 'Vermolin small drench';

/** A medicine whose two bottles carry inserts of 28 and 42 d, one of a two-day course, and two lots of 100 lambs. */
async function seed() {
  const { desk } = on;
  const meat = (value: string) => [{ produce: 'meat' as const, says: 'value' as const, value }];
  const small = { ...DRENCH, name: twoInserts, periods: meat('28 d') };
  const { medicine } = await desk.call('set-label', { act: 'first', terms: small });
  const pack = (size: string) => [{ count: 1, size }];
  await desk.call('receive-batch', { medicine, number: 'S-28', expiry: '2026-01', packs: pack('1 mL') });
  await desk.call('receive-batch', {
    medicine,
    number: 'S-42',
    expiry: '2026-06',
    packs: pack('100 mL'),
    insert: { terms: { ...small, periods: meat('42 d') } },
  });
  const doseLines = DRENCH.doseLines.map((line) => ({ ...line, repeats: { doses: 2, due: '1 d' } }));
  const course = await desk.call('set-label', {
    act: 'first',
    terms: { ...DRENCH, name: twoDays, doseLines, periods: meat('7 d') },
  });
  await desk.call('receive-batch', {
    medicine: course.medicine,
    number: 'C-7',
    expiry: '2026-06',
    packs: pack('100 mL'),
  });
  for (const name of ['Hill lambs', 'Moor lambs']) {
    const { lot } = await desk.call('set-lot', { holding: desk.holding, name, class: 'lamb', heads: 100 });
    await desk.call('weigh', { subject: `lot:${lot}`, weight: '30 kg', how: 'crate' });
    if (name !== 'Hill lambs') continue;
    await desk.call('set-group', {
      holding: desk.holding,
      name: 'Lambs away',
      add: [`lot:${lot}`],
      dates: { dueAwayFrom: '2025-04-05' },
    });
  }
}

/** The rows of a list, each as its text. */
async function rowsOf({ page }: Hands, list: string): Promise<string[]> {
  const rows = page.getByRole('table', { name: list, exact: true }).getByRole('row');
  return (await rows.allTextContents()).slice(1);
}

/** Finds an animal by its number and waits until its page says this. */
async function openSaying(hands: Hands, tag: string, ...says: readonly string[]): Promise<void> {
  await hands.goTo('find-subject');
  await hands.fill('Tag, number or lot', tag);
  await hands.page.keyboard.press('Enter');
  await arrive(hands, tag);
  for (const text of says) await said(hands, text);
}

test('two inserts in one dose, ten of a hundred with and without a mark, a course over the change of the clocks', async () => {
  await seed();

  await on.show();
  const { page } = on;
  // By mouse, but for the keys that lead to a screen.
  const hands = { ...mouse(page), goTo: keyboard(page).goTo };

  // 1.24 mL is rounded up against worms. Drawn from the last of a bottle with 28 d and the first of one with 42: 42 count, and why says both.
  await planWork(hands, {
    name: 'Small drench',
    reason: 'Worms',
    medicine: twoInserts,
    animals: [second],
    needs: 'The bottles have different inserts: the longest period counts',
  });
  await treatNext(hands, { read: second, shown: second, draw: '1.3 mL', done: 1, unit: 'kg' });
  await openSaying(hands, second);
  await said(hands, 'Meat withdrawal until');
  // 20 March 09:00 + 42 × 24 h is 10:00 by summer time; by whole days it is the start of the day after.
  await said(hands, '2 May 2025, 00:00');
  await said(hands, 'Drawn from bottles with different inserts, 28 d and 42 d: the longest counts.');

  // Ten of each hundred: those of one lot get a mark that can be read for ten days, those of the other none.
  await planWork(hands, {
    name: 'Ten of each',
    reason: 'Worms',
    medicine: 'Vermolin drench',
    animals: [],
    lots: ['Hill lambs', 'Moor lambs'],
    isMass: true,
    mark: { colour: 'blue', place: 'shoulder', days: 10 },
    needs: 'Vermolin drench clears 13 days after they are due away (5 Apr 2025): on 18 Apr 2025.',
  });
  for (const lot of ['Hill lambs', 'Moor lambs']) {
    const part = page
      .locator('section')
      .filter({ has: page.getByRole('heading', { name: lot, exact: true }) });
    await part.getByLabel('Head done').fill('10');
  }
  await page.getByText('all 100 are held').nth(1).waitFor();
  await page.getByLabel('Those done are marked: blue, shoulder').nth(1).check();
  await page.getByText('They become a lot of their own; the others are not held by this.').waitFor();
  await hands.send('Write 20 head in the book');
  await said(hands, '20 head written');
  await hands.goTo('clear-list');
  await page.getByRole('heading', { name: '92 head clear on 20 Mar 2025' }).waitFor();
  const lambs = async (list: string) =>
    (await rowsOf(hands, list)).filter((row) => row.includes('lamb')).toSorted();
  expect(await lambs('Held')).toEqual([
    'Hill lambslamb10018 Apr 2025, 00:00Vermolin drench, 28 d',
    'Moor lambs, blue shoulderlamb1018 Apr 2025, 00:00Vermolin drench, 28 d',
  ]);
  expect(await lambs('Clear')).toEqual(['Moor lambslamb90nothing ever held it']);
  await hands.goTo('set-group');
  await hands.open('Groups', 'Lambs away');
  await arrive(hands, 'Lambs away');
  await said(hands, '100 head of 100 may not go on Saturday 5 April 2025, when they are due away.');

  // A course of two days, begun at half past eleven at night: until it is closed its planned day counts to its end.
  const course = async (more: () => Promise<void>) => {
    await hands.fill('Reason', 'Worms');
    await more();
    await hands.send('Write it in the book');
    await said(hands, 'Written in the book');
  };
  on.desk.at('2025-03-23T23:30:00.000Z');
  await hands.goTo('treat-one');
  await hands.read('Tag, chip or lot', first);
  await page.getByRole('combobox', { name: 'Medicine' }).waitFor();
  await hands.find('Medicine', twoDays);
  await course(() => hands.pick('This dose', 'Begins a course of 2 doses'));
  await openSaying(hands, first);
  // The end of 24 March + 7 × 24 h, over the change of the clocks.
  await said(hands, '1 Apr 2025, 01:00');
  on.desk.at('2025-03-24T23:30:00.000Z');
  await on.goBy('g', 'd', 'Monday 24 March 2025');
  await said(hands, 'Moor lambs, blue shoulder: the blue mark on the shoulder may fade by 30 Mar 2025.');
  await hands.press('Write the next dose');
  await course(async () => undefined);
  await openSaying(hands, first);
  await said(hands, '1 Apr 2025, 01:00');
  await on.goBy('g', 'd', 'Monday 24 March 2025');
  await hands.press('Close the course');
  await page.getByRole('dialog').getByRole('button', { name: 'Close it' }).click();
  await page.getByText('the course is still open').waitFor({ state: 'detached' });
  // 24 March 23:30 + 7 × 24 h is 00:30 by summer time, later than whole days, which end at midnight.
  await openSaying(hands, first);
  await said(hands, '1 Apr 2025, 00:30');
  await hands.goTo('go-book');
  const lines = (await rowsOf(hands, 'Treatments')).filter((row) => row.includes(twoDays));
  expect(lines.map((row) => /Worms(.+)$/.exec(row)?.[1])).toEqual([
    '1 Apr 2025, 00:30',
    '31 Mar 2025, 00:30',
  ]);

  // Ten minutes past midnight by summer time it is held, and at half past it is clear.
  on.desk.at('2025-03-31T23:10:00.000Z');
  await on.goBy('g', 'd', 'Tuesday 1 April 2025');
  await said(hands, '1 head clears in the course of today.');
  await said(hands, `${first} at 00:30.`);
  await said(hands, 'could be read until about 30 Mar 2025');
  on.desk.at('2025-03-31T23:30:00.000Z');
  await openSaying(hands, first);
  await page.getByText('Clear', { exact: true }).waitFor();
  await on.watch.expectQuiet();
});
