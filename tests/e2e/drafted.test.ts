import { expect, test } from 'vitest';
import { faultsOf } from './axe.ts';
import { farm, page, show, watch } from './race-page.ts';
import { tagOf } from './treat-farm.ts';

/** Lambs of these weights in a group of their own. */
async function storeLambs(holding: string, weights: readonly number[]): Promise<void> {
  const lambs: string[] = [];
  for (const [n, weight] of weights.entries()) {
    const { animal } = await farm.ask('set-animal', { holding, tag: tagOf(100 + n), class: 'lamb' });
    lambs.push(`animal:${animal}`);
    await farm.ask('weigh', { subject: `animal:${animal}`, weight: `${weight} kg`, how: 'crate' });
  }
  await farm.ask('set-group', { holding, name: 'Store lambs', add: lambs });
}

/** What the book names of an animal that got more than its own dose because its group was dosed to the heaviest. */
function withGroup(to: number, given: string, own: number, ownMl: string): string {
  return `dosed with its group to ${to} kg: ${given} mL given, ${ownMl} mL by its own ${own} kg, within the 100 % of the plan`;
}

test('a drafted group is planned with its gates, run as a mass run, and stands in the book by what it was dosed to', async () => {
  const { holding } = await farm.seed(1);
  await storeLambs(holding, [20, 38, 41, 48, 49, 55, 62]);
  for (const [name, capacity, graduation] of [
    ['Coarse syringe', '10 mL', '2 mL'],
    ['Fine syringe', '12 mL', '0.2 mL'],
  ] as const) {
    await farm.ask('set-equipment', { what: 'syringe', name, capacity, graduation });
  }
  await show(800);

  await page.keyboard.press('n');
  await page.keyboard.press('p');
  await page.getByRole('heading', { name: 'Plan work at the race' }).waitFor();
  await page.getByText('Not yet: Choose who is treated').waitFor();
  await page.getByLabel('Store lambs').check();

  // An antibiotic is not offered, and it is said why.
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Orv');
  await page.keyboard.press('Enter');
  await page.getByText('An antibiotic is dosed to each animal').waitFor();
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Calv');
  await page.keyboard.press('Enter');
  await page.getByLabel('Reason').fill('Worms');

  // Drafted: the parts as sentences, the total, the worst, the ends of the trade.
  await page.getByLabel('Drafted by weight').check();
  const parts = page.getByRole('list', { name: 'Parts', exact: true });
  await parts.getByText('38 to 48 kg: 3 lambs, 4.8 mL each; set the gate at 48 kg').waitFor();
  await parts.getByText('20 kg: 1 lamb, 2 mL; dose this one by itself').waitFor();
  await page.getByText('Least product, whatever the cap').waitFor();
  await page.getByText('All to the heaviest: 43.4 mL').waitFor();
  // The coarse syringe is the smallest that holds it, and a finer one is asked for first.
  await page.getByRole('button', { name: 'Take Fine syringe' }).click();
  await page.getByText('Fine syringe: by ISO 7886-1 it may be off by').waitFor();
  await page.getByLabel('Name of the work').fill('Store lambs, drench');
  await page.getByLabel('All at once').check();
  expect(await faultsOf(page, 'the plan of a drafted group')).toEqual([]);
  await page.getByRole('button', { name: 'Open the session' }).click();

  // The run: what each part gets, and what pressing the button starts.
  const run = page.getByRole('list', { name: 'Parts, Calverol drench' });
  await run.getByText('49 to 62 kg: 3 lambs, 6.2 mL each').waitFor();
  await page.getByText(/Meat withdrawal until/).waitFor();
  expect(await faultsOf(page, 'a drafted mass run')).toEqual([]);
  await page.getByRole('button', { name: 'Write 7 head in the book' }).click();
  await page.getByText('7 head written').waitFor();

  const { sessions } = await farm.ask('sessions', {});
  expect(sessions.map(({ treated, planned }) => [treated, planned])).toEqual([[7, 7]]);
  const { rows } = await farm.ask('book', { from: '2020-01-01', to: '2100-01-01' });
  expect(rows.map(({ dose, dosedTo, deviations }) => [dose, dosedTo, deviations]).toSorted()).toEqual([
    ['2 mL', 'dosed to 20 kg, part 1 of 3', []],
    ['4.8 mL', 'dosed to 48 kg, part 2 of 3', []],
    ['4.8 mL', 'dosed to 48 kg, part 2 of 3', [withGroup(48, '4.8', 38, '3.8')]],
    ['4.8 mL', 'dosed to 48 kg, part 2 of 3', [withGroup(48, '4.8', 41, '4.2')]],
    ['6.2 mL', 'dosed to 62 kg, part 3 of 3', []],
    ['6.2 mL', 'dosed to 62 kg, part 3 of 3', [withGroup(62, '6.2', 49, '5')]],
    ['6.2 mL', 'dosed to 62 kg, part 3 of 3', [withGroup(62, '6.2', 55, '5.6')]],
  ]);
  await watch.expectQuiet();
}, 30_000);
