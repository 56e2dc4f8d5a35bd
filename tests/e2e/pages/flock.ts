import { arrive, type Hands, said } from './hands.ts';

/** Brings in a flock list as a file; nothing is running on any of them. Returns what the screen says of it. */
export async function bringIn(hands: Hands, file: { name: string; text: string }): Promise<string> {
  await hands.goTo('import-animals');
  await hands.giveFile('The file', file);
  await hands.page.getByText('lines in the file =').waitFor();
  const says = await hands.page.getByText('lines in the file =').textContent();
  await hands.pick('Earlier treatments of these animals', 'No withdrawal period is running');
  await hands.send('Take');
  await said(hands, 'in the book.');
  return says ?? '';
}

const CLASS_WORDS: Readonly<Record<string, string>> = { ewe: 'Ewe', lamb: 'Lamb' };

/** Adds a lot of heads without numbers. */
export async function addLot(
  hands: Hands,
  lot: { name: string; class: string; heads: number },
): Promise<void> {
  await hands.goTo('add-animal');
  await hands.pick('What comes in', 'A lot of heads without numbers');
  await hands.page.getByLabel('Name of the lot').waitFor();
  await hands.fill('Name of the lot', lot.name);
  await hands.fill('Head count', String(lot.heads));
  await hands.choose('Class', CLASS_WORDS[lot.class] ?? lot.class);
  await hands.send('Write the lot in the book');
  await said(hands, `${lot.name} is in the book.`);
}

/** Adds a named animal. */
export async function addAnimal(hands: Hands, animal: { tag: string; class: string }): Promise<void> {
  await hands.goTo('add-animal');
  await hands.page.getByRole('textbox', { name: /^Tag/ }).waitFor();
  await hands.fill('Tag', animal.tag);
  await hands.choose('Class', CLASS_WORDS[animal.class] ?? animal.class);
  await hands.send('Write the animal in the book');
  await said(hands, `${animal.tag} is in the book.`);
}

/** Finds one by its number and opens its page. */
export async function openAnimal(hands: Hands, tag: string): Promise<void> {
  await hands.goTo('find-subject');
  await hands.untilAt('Tag, number or lot');
  await hands.read('Tag, number or lot', tag);
  await arrive(hands, tag);
}

/** From now on she gives milk for people. */
export async function putInMilk(hands: Hands, tag: string): Promise<void> {
  await openAnimal(hands, tag);
  await hands.press('Change or retag');
  await arrive(hands, `Change ${tag}`);
  await hands.tick('It is in milk');
  await hands.send('Write the change');
  await arrive(hands, tag);
}
