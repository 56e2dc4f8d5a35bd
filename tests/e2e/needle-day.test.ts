import { expect, test } from 'vitest';
import { goTo as goWithin } from './browser.ts';
import { NO_DISEASE } from './pages/papers.ts';
import { farm, page, show, watch } from './race-page.ts';
import { tagOf } from './treat-farm.ts';

const goTo = (at: string) => goWithin(page, `/?at=${at}`);
const click = (name: string | RegExp) => page.getByRole('button', { name }).first().click();
const list = (name: string) => page.getByRole('list', { name });

/** An injection under the skin of an invented substance that has no withdrawal period: only the needle holds. */
const VACCINE = {
  name: 'Belvoran injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'vaccine',
  flowClass: 'watery',
  hazards: { people: 'It numbs a hand for days.' },
  doseLines: [{ id: 'sc', route: 'subcutaneous', rate: { style: 'rate', text: '2 mL per head' } }],
  periods: [{ produce: 'meat', says: 'zero' }],
  inUse: '10 h',
} as const;

test('a day with a needle: drawer, plan, checks, a needle lost, and the animal on the declaration', async () => {
  const { holding, group, subjects } = await farm.seed(2);
  const { medicine } = await farm.ask('set-label', {
    act: 'first',
    terms: structuredClone(VACCINE) as never,
  });
  await farm.ask('receive-batch', {
    medicine,
    number: 'V-1',
    expiry: `${new Date().getUTCFullYear() + 2}-03`,
    packs: [{ count: 1, size: '100 mL' }],
  });
  await show();

  // The drawer: a size, and a count with one key.
  await page.keyboard.press('g');
  await page.keyboard.press('e');
  await click('Add the first size');
  await page.getByLabel('Gauge', { exact: true }).fill('18');
  await page.getByLabel('Length, inches').fill('1/2');
  await page.keyboard.press('Enter');
  await page.getByText('18G 1/2 in').waitFor();
  await page.locator('h1').focus();
  await page.keyboard.press('=');
  await page.getByLabel('There are now').fill('4');
  await page.keyboard.press('Enter');
  await page.getByText('18G 1/2 in: 4.').waitFor();

  // The house settles on a rule, and is refused one that no source has.
  await goTo('farm/needles');
  await page.getByText('every animal').first().waitFor();
  await page.getByLabel('A new needle after so many animals').fill('60');
  await click('Write the rules in the book');
  await page.getByRole('alert').getByText('no source uses one needle for more than 50 animals').waitFor();
  await page.getByLabel('A new needle after so many animals').fill('1');
  await click('Write the rules in the book');
  await page.getByRole('heading', { name: 'Farm', exact: true }).waitFor();

  // The plan says the needle, and what is short: 2 animals, 1 to draw off, 2 spare, and 4 in the drawer.
  await goTo(`treat/plan&group=${encodeURIComponent(group)}`);
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Belv');
  await page.keyboard.press('Enter');
  const needle = list('Needle, Belvoran injection');
  await needle.getByText('18G 1/2 in').waitFor();
  await needle.getByText('Lift a fold of skin').waitFor();
  const taken = list('Take along').getByRole('listitem').filter({ hasText: '5 × needle 18G 1/2 in' });
  await taken.getByText('1 short').waitFor();

  const { session } = await farm.ask('open-session', {
    holding,
    subjects,
    lines: [{ medicine, reason: 'Clostridia', syringe: { capacity: '5 mL', graduation: '0.2 mL' } }],
    name: 'Spring vaccine',
    sharpsOut: 5,
  });
  // The checks, by keyboard.
  await goTo(`treat/session/${encodeURIComponent(session)}`);
  await page.getByText('None of the checks before starting is ticked.').waitFor();
  await page.getByRole('link', { name: 'Look before starting' }).click();
  await page.getByText('Given with: 5 mL syringe').waitFor();
  await page.getByText('It numbs a hand for days.').waitFor();
  const boxes = page.getByRole('group', { name: 'Ticked means: I have looked' }).getByRole('checkbox');
  expect(await boxes.count()).toBe(10);
  await boxes.first().focus();
  for (let n = 0; n < 9; n += 1) {
    await page.keyboard.press('Space');
    await page.keyboard.press('Tab');
  }
  await page.keyboard.press('Enter');
  await page.getByText('1 check before starting: A phone that has a signal is at hand').waitFor();

  // One is treated; a needle is missing at the count.
  await farm.ask('treat', { session, subject: subjects[0] ?? '' });
  await goTo(`treat/session/${encodeURIComponent(session)}/ready`);
  await page.getByLabel('Counted now, used and unused together').fill('4');
  await page.getByRole('button', { name: 'Write it in the book' }).click();
  await page.getByRole('alert').getByText('1 needle is missing.').waitFor();
  await page.getByRole('alert').getByRole('link', { name: 'Say what is known' }).click();
  await list('Held by it').getByText(tagOf(1)).waitFor();
  await page.getByLabel('It is in one of them').check();
  await page.getByLabel('In which', { exact: true }).selectOption({ label: tagOf(1) });
  await page.getByLabel('Place', { exact: true }).selectOption({ label: 'Neck' });
  await page.getByLabel('Side', { exact: true }).selectOption({ label: 'Left' });
  await page.getByRole('img', { name: /A sheep from its left side. Marked: .*neck/ }).waitFor();
  await page.getByLabel('Marked, colour').fill('red');
  await page.getByLabel('Marked, where').fill('back');
  await page.getByLabel('What was found, where and by whom').fill('Felt under the skin');
  await click('Write the finding');
  await list('Needles not found').getByText('neck, left side').waitFor();

  // The animal, the flock and the declaration say it.
  await goTo(`flock/subject/${encodeURIComponent(subjects[0] ?? '')}`);
  await page.getByText('No date', { exact: true }).waitFor();
  await page.getByText('A needle broke and was not found.').waitFor();
  await goTo('flock');
  await page.getByText('no date: may carry a needle').waitFor();
  // Also on the lists of work at the race: of the session that is open and of the next one that is planned.
  const marked = `${tagOf(1)}, may carry a broken needle`;
  await goTo(`treat/plan&group=${encodeURIComponent(group)}`);
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Belv');
  await page.keyboard.press('Enter');
  await page.getByText(marked).waitFor();
  await farm.ask('close-session', { session, headsThrough: 1, sharpsBack: 4 });
  await goTo('declare/new');
  await page.getByLabel('To whom').fill('Brackwater Meats');
  await page.getByLabel('Add by number').fill('00001');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: '1 head may not go' }).waitFor();
  await click(`${tagOf(1)} goes accompanied`);
  await page.getByLabel(`How ${tagOf(1)} is marked`).fill('red on the back');
  await page.getByLabel('Who was told at the abattoir').fill('Their office, by telephone');
  await page.getByText('goes accompanied: it may carry a broken needle').waitFor();
  await click(NO_DISEASE);
  await page.getByLabel('Who signs').selectOption({ label: 'Isla Thorn' });
  await page.getByLabel('Yes').check();
  await click('Sign and print it');
  await page
    .getByRole('heading', { name: /Declaration/ })
    .first()
    .waitFor();
  const { declarations } = await farm.ask('declarations', {});
  expect(declarations.map(({ heads, notices }) => [heads, notices])).toEqual([[1, []]]);
  await watch.expectQuiet();
}, 60_000);
