import { expect, test } from 'vitest';
import { farm, page, show, watch } from './race-page.ts';
import { tagOf } from './treat-farm.ts';

const click = (name: string) => page.getByRole('button', { name, exact: true }).click();
const follow = (name: string) => page.getByRole('link', { name }).first().click();
const heading = (name: string) => page.getByRole('heading', { name }).first().waitFor();
const big = () => page.locator('.result-big');

test('a gun is written down, found wrong, set as told and found right', async () => {
  await farm.seed(1);
  await show();
  await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Farm' }).click();
  await follow('Syringes, guns and weighers');
  await follow('Add the first one');
  await page.getByLabel('Called').fill('Blue drench gun');
  await page.getByRole('textbox', { name: 'It holds' }).fill('30 mL');
  await page.getByLabel('A mark every').fill('0.5 mL');
  await click('Write it in the book');
  await page.getByText('Never checked.').waitFor();
  await follow('Check it');
  await heading('Blue drench gun');
  // 5.55 mL a shot at 5 mL: 5 × 5 ÷ 5.55 = 4.50.
  await page.getByLabel('The gun stands at, mL').fill('5');
  await page.getByLabel('Each shot, mL').fill('5.6 5.5 5.6 5.5');
  await page.getByText('Not right: set it to').waitFor();
  expect(await big().textContent()).toBe('4.5 mL');
  await click('Write the check');
  await page.getByText('4 shots at 5 mL gave 5.55 mL on average').waitFor();
  await page.getByText('was not right at its last check').first().waitFor();
  await page.getByLabel('The gun stands at, mL').fill('4.5');
  await page.getByLabel('It should give, mL').fill('5');
  await page.getByLabel('Each shot, mL').fill('5.0 5.0 5.1 4.9');
  expect(await big().textContent()).toBe('Right');
  await click('Write the check');
  await page.getByText('4 shots at 4.5 mL gave 5 mL on average').waitFor();
  const [gun] = (await farm.ask('equipment', {})).equipment;
  expect(gun?.last?.verdict).toBe('right');
  expect(gun?.due).toBeUndefined();
  await watch.expectQuiet();
});

test('a drench is made up of a powder, and a ewe is dosed from it by its own strength', async () => {
  const { holding } = await farm.seed(0);
  const { medicine } = await farm.ask('set-label', {
    act: 'first',
    terms: {
      name: 'Fennadyl powder',
      form: 'powder',
      kind: 'mass',
      purpose: 'other',
      actives: [{ substance: 'fennadyl', strength: '900 mg/g' }],
      doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '8 mg/kg' } }],
      periods: [{ produce: 'meat', says: 'value', value: '10 d' }],
      inUse: '24 h',
    },
  });
  await farm.ask('receive-batch', {
    medicine,
    number: 'FP-7',
    expiry: `${new Date().getUTCFullYear() + 2}-03`,
    packs: [{ count: 1, size: '104 g' }],
  });
  const { animal } = await farm.ask('set-animal', { holding, tag: tagOf(1), class: 'ewe' });
  await farm.ask('weigh', { subject: `animal:${animal}`, weight: '50 kg', how: 'tape' });
  await show();
  await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Cabinet' }).click();
  await follow('Make up a powder or a concentrate');
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Fenn');
  await page.keyboard.press('Enter');
  await page.getByLabel('From', { exact: true }).selectOption({ index: 1 });
  await page.getByLabel('How much of it').fill('52 g');
  await page.getByLabel('Water', { exact: true }).fill('943 mL');
  await page.getByText('52 g in 943 mL gives 49.63 mg in each mL; 50 kg needs 8.06 mL.').waitFor();
  await click('Write it in the book');
  await page.getByText('There are 943 mL of it.').waitFor();

  await page.keyboard.press('Escape');
  await follow('Look at it');
  await page.getByText('Made up here, 49.63 mg in each mL').waitFor();
  // One treatment by itself, from the mixture: the plan on the screen says what is drawn.
  await page.keyboard.press('n');
  await page.keyboard.press('t');
  await page.getByLabel('Tag, chip or lot').fill('00001');
  await page.keyboard.press('Enter');
  await page.getByRole('list', { name: 'Whom' }).getByText(tagOf(1)).waitFor();
  await page.getByText('50 kg, tape, today').waitFor();
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Fenn');
  await page.keyboard.press('Enter');
  await page.getByLabel('Reason').fill('Worms');
  await page.locator('.race-dose output').getByText('8.1 mL', { exact: true }).waitFor();
  await click('Write it in the book');
  await page.getByText('Written in the book').waitFor();
  const { rows } = await farm.ask('book', { from: '2020-01-01', to: '2100-01-01' });
  expect(rows.map((row) => [row.quantity, row.batch, row.deviations])).toEqual([['8.1 mL', 'FP-7', []]]);
  await watch.expectQuiet();
});

test('at the race: an unchecked gun is asked for, a weight by tape, and a leak put to a dose that is written', async () => {
  const { holding, injection, subjects } = await farm.seed(2);
  const { equipment } = await farm.ask('set-equipment', {
    what: 'gun',
    name: 'Red gun',
    capacity: '10 mL',
    graduation: '0.1 mL',
    drawsBack: false,
  });
  const { session } = await farm.ask('open-session', {
    holding,
    subjects,
    lines: [{ medicine: injection, reason: 'Lameness', equipment }],
    name: 'Lame feet',
  });
  await show();
  await page.goto(`${new URL(page.url()).origin}/?at=treat/session/${session}`);
  await page.getByText('Red gun has never been checked.').waitFor();
  await page.getByText('Red gun cannot draw back').waitFor();
  await page.getByLabel('Tag, chip or lot').fill('00001');
  await page.keyboard.press('Enter');
  await page.getByText('Enter keeps 51 kg, scale, today.').waitFor();
  await page.getByLabel('How it is known').selectOption('tape');
  await page.getByLabel('Girth, behind the forelegs').fill('88.9 cm');
  await page.getByLabel('Length, point of shoulder to pin bone').fill('76.2 cm');
  await page.getByText('55.6 kg by the tape: an estimate, not a weighing').waitFor();
  await click('Work out the dose');
  await page.getByText('55.6 kg, by tape now, an estimate').waitFor();
  await page.locator('.race-dose output').getByText('5.6 mL', { exact: true }).waitFor();
  await click('Record it');
  await page.getByText('1 head done').waitFor();
  await click('It leaked');
  await page.getByLabel('What ran out').fill('3 drops');
  await page.getByText('3 drops of 5.6 mL leaked back: about 3 % short, 1 to 4 %').waitFor();
  await click('Write that it leaked');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  const { rows } = await farm.ask('book', { from: '2020-01-01', to: '2100-01-01', corrections: false });
  expect(rows).toHaveLength(1);
  expect(rows[0]?.quantity).toBe('5.6 mL');
  expect(rows[0]?.deviations.join()).toContain('3 drops of 5.6 mL leaked back');
  const { containers } = await farm.ask('cabinet', { medicine: injection });
  expect(containers[0]?.left.text).toBe('494.4 mL');
  await watch.expectQuiet();
});
