import { expect, test } from 'vitest';
import { faultsOf } from './axe.ts';
import { goTo } from './browser.ts';
import { farm, page, show, watch } from './race-page.ts';
import { tabTo } from './treat-farm.ts';

const focused = (name: string) => page.locator(`[name="${name}"]:focus`);
const key = (name: string) => page.keyboard.press(name);
const type = (text: string) => page.keyboard.type(text);

test('a dose outside the label at the race: said with the least by law, held by the vet’s word, told by the book', async () => {
  const seeded = await farm.seed(2);
  const { person: vet } = await farm.ask('set-person', { name: 'Dr Wren', roles: ['vet'] });
  await farm.ask('record-instruction', {
    vet,
    what: 'Twice the dose, once',
    form: 'told',
    reason: 'Lungs',
    periods: [{ produce: 'meat', period: '30 d' }],
  });
  const { session } = await farm.ask('open-session', {
    holding: seeded.holding,
    name: 'Worming',
    groups: [seeded.group],
    lines: [{ medicine: seeded.drench, reason: 'Worms' }],
  });
  await show();
  await goTo(page, `/?at=treat/session/${session}`);
  await focused('read').waitFor();
  await type('00001');
  await key('Enter');
  await focused('weight').waitFor();
  await key('Enter');
  await focused('record').waitFor();

  // On the label nothing is said of the vet. Twice of it is outside, before anything is written.
  expect(await page.getByText('Outside the label').count()).toBe(0);
  await key('Control+i');
  await tabTo(page, /^What went in/);
  await type('10.2 mL');
  await page.getByText("dose 2 times the label's").waitFor();
  await page.getByText('Meat: no less than 42 days.').waitFor();
  expect(await faultsOf(page, 'outside the label at the race')).toEqual([]);

  // Enter without the vet's word stops first: the hand is quicker than the eye. No leads back.
  await key('Enter');
  await page.getByRole('dialog').getByText('Calverol drench is outside its label').waitFor();
  await key('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  expect((await farm.ask('session', { session })).last).toEqual([]);

  // 30 days of the vet are less than the law: the law's 42 count, and it is said before it is written.
  await page.getByLabel('The vet’s instruction it follows').selectOption({ index: 1 });
  await page.getByText(/Meat held until .*42 d/).waitFor();
  await page.locator('[name="record"]').focus();
  await key('Enter');
  await expect.poll(async () => (await farm.ask('session', { session })).last[0]?.quantity).toBe('10.2 mL');

  // The book says that it was outside the label, by whose word it is held, and what was weighed.
  const [row] = (await farm.ask('session', { session })).last;
  await goTo(page, `/?at=book/treatment/${row?.administration}`);
  await page.getByText('Outside the label: dose.').waitFor();
  await page.getByText('Dr Wren: Twice the dose, once (not yet in writing)').waitFor();
  await page
    .getByText('28 d × 1.5, a part of a day rounded up = 42 d at least')
    .first()
    .waitFor({ state: 'attached' });
  expect(await faultsOf(page, 'the line of a treatment outside the label')).toEqual([]);

  // Today asks for the paper, and the page of the instruction names who follows it.
  // By itself as well: whoever goes to write down the vet's word comes back to what was typed.
  await goTo(page, '/?at=treat/one');
  await tabTo(page, /^Tag, chip or lot/);
  await type('00002');
  await key('Enter');
  await tabTo(page, /^Medicine/);
  await type('Calv');
  await key('Enter');
  await tabTo(page, /^What went in/);
  await type('12 mL');
  await page.getByRole('link', { name: 'Write down what the vet says' }).click();
  await page.getByRole('heading', { name: 'What the vet ordered' }).waitFor();
  await page.getByRole('button', { name: /^Leave/ }).click();
  await page.getByRole('heading', { name: 'Write down one treatment' }).waitFor();
  await expect.poll(() => page.getByLabel('What went in').inputValue()).toBe('12 mL');

  await goTo(page, '/?at=today');
  await page.getByRole('heading', { name: 'Not yet in writing' }).waitFor();
  await page.getByRole('link', { name: 'Keep its paper' }).click();
  await page.getByText('Calverol drench into').waitFor();
  await watch.expectQuiet();
});
