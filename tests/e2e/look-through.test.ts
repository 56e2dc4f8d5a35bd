import { expect, test } from 'vitest';
import { farm, host, page, show, watch } from './race-page.ts';

test('“/” goes past the groups into the list of animals, and narrows it down', async () => {
  const { holding } = await farm.seed(12);
  for (let n = 0; n < 9; n += 1) await farm.ask('set-group', { holding, name: `Field ${n}` });
  await show();
  await page.goto(`${host?.origin}/?at=flock`);
  await page.getByRole('row', { name: /Field 0/ }).waitFor();
  await page.getByText('12 lines').or(page.getByText('13 lines')).first().waitFor();
  await page.keyboard.press('/');
  await page.locator('.list-filter input:focus').waitFor();
  await page.keyboard.type('Field');
  // The groups are all there still: it was the animals that were looked through.
  await page.getByRole('row', { name: /Field 8/ }).waitFor();
  await page.getByText('Nothing in this list says “Field”').waitFor();
  expect(await page.locator('.list-filter input:focus').inputValue()).toBe('Field');
  await watch.expectQuiet();
});
