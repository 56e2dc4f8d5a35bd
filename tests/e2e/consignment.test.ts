import { expect, test, vi } from 'vitest';
import type { DeclareDesk } from '../answers/declare-desk.ts';
import { readPdf } from '../paper/reading.ts';
import { said } from './pages/hands.ts';
import { mouse } from './pages/mouse.ts';
import { NO_DISEASE } from './pages/papers.ts';
import { recordPage } from './record-page.ts';

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 90_000 });

const on = recordPage();

/** Sixty head that are to go on 10 March: 54 of one lot that is clear, and five animals and lots held each in its own way. */
async function sixtyHead(d: DeclareDesk) {
  const { holding } = d;
  const lot = async (name: string, heads: number, more: object = {}) =>
    (await d.call('set-lot', { holding, name, class: 'lamb', heads, ...more })).lot;
  const drench = (of: string, happened: string) =>
    d.call('treat', {
      subject: `lot:${of}`,
      happened,
      weight: '30 kg',
      single: { medicine: d.medicine, reason: 'worms' },
    });
  const clear = await lot('Hill lambs', 54);
  await drench(clear, '2026-01-05');
  // It went out on 26 February; that the lot was treated on the 20th is written only after the move.
  const later = await lot('Store lambs', 20);
  const late = await lot('Late lamb', 1);
  await d.call('move-heads', { from: later, heads: 1, to: { lot: late }, happened: '2026-02-26' });
  await drench(later, '2026-02-20');
  // Split from a lot after that was treated.
  const split = await d.call('move-heads', {
    from: later,
    heads: 1,
    to: { newLot: 'Split lamb' },
    happened: '2026-02-25',
  });
  // In the middle of a course.
  await d.call('treat', {
    subject: d.first,
    happened: '2026-02-28',
    single: { medicine: d.medicine, reason: 'worms' },
    course: { planned: ['2026-02-28', '2026-03-03', '2026-03-06'] },
  });
  await d.call('report-needle', {
    subject: d.second,
    needle: '18G 1 in',
    site: 'neck',
    side: 'left',
    found: 'not-found',
    mark: { colour: 'red', place: 'back' },
  });
  const bought = await lot('Bought lamb', 1, {
    origin: 'bought',
    cameOn: '2026-02-27',
    standing: 'unknown',
  });
  await d.call('set-group', {
    holding,
    name: 'Consignment',
    add: [`lot:${clear}`, split.to, `lot:${late}`, d.first, d.second, `lot:${bought}`],
  });
}

test('sixty head with five held: named, one goes accompanied, the paper is read back, and a late correction is told', async () => {
  await sixtyHead(on.desk);
  await on.show();
  const { page } = on;
  const click = (name: string | RegExp) => page.getByRole('button', { name }).first().click();
  await on.goBy('n', 's', 'Sign a declaration');
  await page.getByLabel('To whom').fill('Abattoir of the Test');
  await page.getByLabel('Day they leave').fill('10/3/2026');
  await page.getByLabel('Or from a group').selectOption({ label: 'Consignment, 60 head' });
  await click('Add everybody of Consignment');
  await page.getByText('60 head on the list.').waitFor();
  await page.getByRole('heading', { name: '6 head may not go' }).waitFor();
  const refused = page.getByRole('list', { name: 'May not go' });
  for (const said of [
    'Split lamb is held until 21 Mar 2026',
    'Late lamb is held until 21 Mar 2026',
    // Three doses, the last planned for 6 March: 28 d from its end.
    'UK 9 999999 00001 is held until 4 Apr 2026',
    'UK 9 999999 00002 may not go: waiting alone does not clear it.',
    'Bought lamb may not go: waiting alone does not clear it.',
  ]) {
    await refused.getByText(said).waitFor();
  }
  await on.expectClean('sixty head with five held');

  await click('UK 9 999999 00002 goes accompanied');
  await page.getByLabel('How UK 9 999999 00002 is marked').fill('red on the back');
  await page.getByLabel('Who was told at the abattoir').fill('Their office, by telephone');
  await page.getByRole('heading', { name: '5 head may not go' }).waitFor();
  await click('Take all 4 off the list');
  await page.getByText('55 head are declared: 1 ewe, 54 lambs.').waitFor();
  await click(NO_DISEASE);
  await page.getByLabel('Yes').check();
  await click('Sign and print it');
  await on.heading('Declaration 1').waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'Save declaration-1.pdf' }).click(),
  ]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
  const text = (await readPdf(Buffer.concat(chunks))).text.replaceAll(/\s+/g, ' ');
  for (const said of [
    '55 head are declared: 1 ewe, 54 lambs.',
    'Hill lambs',
    '5 Jan 2026',
    'Accompanied: may carry a broken needle.',
    'Marked: red on the back.',
    'Abattoir told: Their office, by telephone.',
    'No disease that may affect the meat is known.',
  ]) {
    expect(text).toContain(said);
  }
  for (const held of ['Split lamb', 'Late lamb', 'Bought lamb', 'UK 9 999999 00001']) {
    expect(text).not.toContain(held);
  }

  // The paper is signed when it comes out that they were drenched on 20 February and not on 5 January.
  const hands = mouse(page);
  await on.goBy('g', 'b', 'Book');
  await hands.open('Treatments', 'Hill lambs');
  await hands.press('Correct this treatment');
  await hands.fill('Day it was given', '20/2/2026');
  await hands.fill('Reason', 'The day was written wrong');
  await hands.send('Write the correction in the book');
  await said(hands, 'The correction is in the book.');
  await on.goBy('g', 'd', 'Sunday 1 March 2026');
  await page.getByText('Declaration 1 is now wrong: tell Abattoir of the Test.').waitFor();
  await page
    .getByText(/Hill lambs was declared clear;.*its meat is now held until 21 Mar 2026, 00:00/)
    .waitFor();
  await page.getByRole('link', { name: 'Open declaration 1' }).click();
  await click('I have told them');
  await page.getByLabel('Whom you told').fill('Their office');
  await page.getByLabel('How', { exact: true }).fill('By telephone');
  await click('Write down that they were told');
  await page.getByText('Their office on 1 Mar 2026, 09:00, by Siân Ó Briain-Łukasz: By telephone').waitFor();
  await on.goBy('g', 'd', 'Sunday 1 March 2026');
  await page.getByRole('heading', { name: 'Meat, today' }).waitFor();
  expect(await page.getByText('is now wrong').count()).toBe(0);
  await on.watch.expectQuiet();
});
