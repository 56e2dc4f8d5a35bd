import { expect, test } from 'vitest';
import { addressOf } from '../../src-renderer/routes.ts';
import { DRENCH } from '../answers/farm-desk.ts';
import { goTo } from './browser.ts';
import { recordPage } from './record-page.ts';

const shown = recordPage();
/** A reading every hour of 28 February, warm from 10:00 until 12:00. */
const LOGGED = Buffer.from(
  `Date,Temperature\n${Array.from({ length: 24 }, (_, hour) => {
    const time = `${String(hour).padStart(2, '0')}:00`;
    return `2026-02-28 ${time},${hour >= 10 && hour < 12 ? '53.6' : '41'}\n`;
  }).join('')}`,
);

test('a delivery draws a prescription down and leads to where its invoice is kept, and a logger’s file sets it aside', async () => {
  const { desk } = shown;
  const { person: vet } = await desk.call('set-person', { name: 'Dr Wren', roles: ['vet'] });
  const { medicine } = await desk.call('set-label', {
    act: 'first',
    terms: {
      ...structuredClone(DRENCH),
      name: 'Orvandrex drench',
      prescription: 'vet-prescription',
      storage: { leastC: 2, mostC: 8 },
    },
  });
  const { prescription } = await desk.call('record-prescription', {
    number: 'RX 7',
    vet,
    medicine,
    quantity: '600 mL',
    written: '2026-02-20',
  });
  await shown.show();
  const { page, heading } = shown;
  const one = addressOf('cabinet/prescription/:prescription', { prescription });
  await goTo(page, one);
  await page.getByText('Nothing came in on it yet.').waitFor();
  await page.getByRole('link', { name: 'Take in a delivery on it' }).click();
  await heading('Take in a delivery').waitFor();
  await page.getByLabel('Batch number').fill('K1');
  await page.getByLabel('Expiry').fill('03/2028');
  await page.getByLabel('Packs').fill('1 × 500 mL');
  await page.getByLabel(/^Kept in/).fill('Fridge');
  await page.getByLabel(/^Came in on/).fill('27 Feb 2026');
  await page.getByRole('button', { name: /^Take it into the cabinet/ }).click();
  await heading('Taken in').waitFor();

  await page.getByRole('link', { name: 'Keep its invoice or a photo' }).click();
  await heading('Orvandrex drench · batch K1').waitFor();
  await page.getByRole('button', { name: 'Add a paper or a photo' }).waitFor();

  await goTo(page, one);
  await page.getByText('500 mL came in on it, 100 mL is left.').waitFor();

  await goTo(page, addressOf('cabinet/storage/logger'));
  await page
    .getByLabel('The file')
    .setInputFiles({ name: 'fridge.csv', mimeType: 'text/csv', buffer: LOGGED });
  // The file does not say its unit, so nothing is taken before it is said.
  await page.getByText('None is taken before the questions are answered.').waitFor();
  await page.getByLabel('Degrees Fahrenheit (°F)').check();
  await page.getByText('24 readings: between 5 and 12 °C.').waitFor();
  await page.getByRole('heading', { name: 'Will be set aside' }).waitFor();
  await shown.expectClean('a logger’s file that was looked at');
  await page.getByRole('button', { name: 'Take 24 readings in' }).click();
  await page.getByText('24 readings are in the book.').waitFor();
  await page.getByRole('heading', { name: 'Set aside', exact: true }).waitFor();
  await shown.watch.expectQuiet();

  const { containers } = await desk.call('cabinet', { medicine });
  expect(containers.map(({ label, state }) => [label, state])).toEqual([['K1-1', 'quarantined']]);
}, 60_000);
