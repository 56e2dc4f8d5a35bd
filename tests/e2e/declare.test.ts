import { expect, test, vi } from 'vitest';
import { readPdf } from '../paper/reading.ts';
import { NO_DISEASE } from './pages/papers.ts';
import { recordPage } from './record-page.ts';
import { tabTo } from './treat-farm.ts';

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 90_000 });

const on = recordPage();
const { key, type, heading, show, goBy, saved, expectClean } = on;

test('one is held: refused by name, taken off; the rest is signed, and the paper says so', async () => {
  await on.desk.drench(on.desk.first, '2026-02-20');
  await on.desk.drench(on.desk.second, '2026-01-03');
  await show();
  await goBy('n', 's', 'Sign a declaration');
  await tabTo(on.page, /^To whom/);
  await type('Abattoir of the Test');
  await tabTo(on.page, /^Add by number/);
  for (const tag of ['00001', '00002', '00003']) {
    await type(tag);
    await key('Enter');
    await on.page.getByText(`${Number(tag)} head on the list`).waitFor();
  }
  await on.page.getByRole('heading', { name: '1 head may not go' }).waitFor();
  await on.page.getByText('UK 9 999999 00001 is held until 21 Mar 2026, 00:00.').waitFor();
  await expectClean('a consignment with one held');

  await tabTo(on.page, new RegExp(NO_DISEASE));
  await key('Enter');
  // Signed all the same it is refused by name, and nothing is written.
  await tabTo(on.page, /^Yes$/);
  await key('Space');
  await key('Control+Enter');
  await on.page
    .getByRole('alert')
    .getByText(/00001: Meat held until 21 Mar 2026/)
    .waitFor();
  expect((await on.desk.call('declarations', {})).declarations).toEqual([]);

  await tabTo(on.page, /^Take UK 9 999999 00001 off the list/);
  await key('Enter');
  await on.page.getByText('2 head on the list').waitFor();
  expect(await on.page.getByText('may not go').count()).toBe(0);
  await on.page.getByText('2 head are declared: 2 ewes.').waitFor();
  await key('Control+Enter');
  await heading('Declaration 1').waitFor();

  const [declared] = (await on.desk.call('declarations', {})).declarations;
  if (declared === undefined) throw new Error('nothing was declared');
  expect(declared).toMatchObject({
    to: 'Abattoir of the Test',
    heads: 2,
    state: 'standing',
    departs: '2026-03-01',
  });
  await on.page.getByText(declared.checkCode).first().waitFor();
  await tabTo(on.page, /^Save declaration-1\.pdf/);
  const file = await saved();
  const { text } = await readPdf(file.bytes);
  expect(text).toContain('Abattoir of the Test');
  expect(text).toContain('UK 9 999999 00002');
  expect(text).toContain('UK 9 999999 00003');
  expect(text).not.toContain('UK 9 999999 00001');
  expect(text).toContain(declared.checkCode);

  // What is written later touches it: who was told what stands in the list, until it is cancelled.
  await on.desk.drench(on.desk.third, '2026-02-27');
  await goBy('g', 'l', 'Declare');
  await on.page
    .getByText(/To Abattoir of the Test on 1 Mar 2026 \(no\. 1\).*00003 was declared clear/)
    .waitFor();
  await expectClean('the declarations');
  await tabTo(on.page, /^Open declaration 1/);
  await key('Enter');
  await heading('Declaration 1').waitFor();
  await tabTo(on.page, /^I have told them/);
  await key('Enter');
  await tabTo(on.page, /^Whom you told/);
  await type('Their clerk');
  await tabTo(on.page, /^How/);
  await type('By telephone');
  await key('Control+Enter');
  await on.page
    .getByText('Their clerk on 1 Mar 2026, 09:00, by Siân Ó Briain-Łukasz: By telephone')
    .waitFor();
  expect((await on.desk.call('notices', {})).notices).toEqual([]);
  await tabTo(on.page, /^Cancel this declaration/);
  await key('Enter');
  await tabTo(on.page, /^Why/);
  await type('One was treated late');
  await key('Control+Enter');
  await on.page.getByRole('dialog', { name: 'Cancel declaration 1?' }).waitFor();
  await tabTo(on.page, /^Yes, cancel it/);
  await key('Enter');
  await on.page.getByText(/By Siân Ó Briain-Łukasz on 1 Mar 2026.*One was treated late/).waitFor();
  await on.watch.expectQuiet();
});

test('the held one goes later instead: the departure moves to the moment it clears', async () => {
  await on.desk.drench(on.desk.first, '2026-02-20');
  await show();
  await goBy('g', 'h', 'Who is clear');
  await on.page.getByRole('heading', { name: '1 head held on 1 Mar 2026' }).waitFor();
  await on.page.getByRole('heading', { name: '2 head clear on 1 Mar 2026' }).waitFor();
  // A farm that takes no milk is not asked about it.
  expect(await on.page.getByLabel('For', { exact: true }).locator('option').allTextContents()).not.toContain(
    'Milk',
  );
  await goBy('n', 's', 'Sign a declaration');
  await tabTo(on.page, /^To whom/);
  await type('Dealer of the Test');
  await tabTo(on.page, /^Add by number/);
  await type('00001');
  await key('Enter');
  await tabTo(on.page, /^Leave on 21 Mar 2026 instead/);
  await key('Enter');
  await on.page.getByText('Saturday 21 March 2026').waitFor();
  await on.page.getByText('every period for meat ends before they leave').waitFor();
  await tabTo(on.page, new RegExp(NO_DISEASE));
  await key('Enter');
  await tabTo(on.page, /^Yes$/);
  await key('Space');
  await key('Control+Enter');
  await heading('Declaration 1').waitFor();
  expect((await on.desk.call('declarations', {})).declarations[0]).toMatchObject({
    departs: '2026-03-21',
    heads: 1,
  });
  await on.watch.expectQuiet();
});

test('a doubted clock calls nobody clear until the date is confirmed', async () => {
  on.desk.at('2026-04-20T09:00:00.000Z');
  await show();
  for (const [first, second, name] of [
    ['g', 'h', 'Who is clear'],
    ['n', 's', 'Sign a declaration'],
    ['g', 'l', 'Declare'],
  ] as const) {
    await goBy(first, second, name);
    await on.page.getByRole('alert').getByText('Nobody is called clear').waitFor();
    expect(await on.page.getByText(/head clear/).count()).toBe(0);
    expect(await on.page.getByLabel('Add by number').count()).toBe(0);
  }
  await expectClean('the doubted date');
  // The deed in the notice leads to where the date is confirmed.
  await tabTo(on.page, /^Confirm the date/);
  await key('Enter');
  await heading('Confirm the date').waitFor();
  await tabTo(on.page, /^What day is it today/);
  await type('20/4/2026');
  await on.page.getByText('Monday 20 April 2026').last().waitFor();
  await key('Enter');
  await heading('Monday 20 April 2026').waitFor();
  await goBy('g', 'h', 'Who is clear');
  await on.page.getByRole('heading', { name: '3 head clear on 20 Apr 2026' }).waitFor();
  await on.watch.expectQuiet();
});
