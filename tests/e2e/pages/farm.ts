import { arrive, type Hands, said } from './hands.ts';

const LAW_WORDS: Readonly<Record<string, string>> = { gb: 'Great Britain' };
const COUNTING_WORDS: Readonly<Record<string, string>> = { 'whole-days': 'In whole days' };
const UNIT_WORDS: Readonly<Record<string, string>> = { kg: 'kilograms (kg)', lb: 'pounds (lb)' };

/** The words for a code; fails for one that this test was not written for. */
function word(words: Readonly<Record<string, string>>, code: string): string {
  const found = words[code];
  if (found === undefined) throw new Error(`no word for ${code}`);
  return found;
}

type Beginning = {
  business: { name: string; address: string };
  holding: { number: string; law: string; weightUnit: string; zone: string };
  keeper: { name: string };
};

/** The first form of an empty book. */
export async function beginBook(hands: Hands, { business, holding, keeper }: Beginning): Promise<void> {
  await arrive(hands, 'A new book');
  await hands.fill('Name of the farm or business', business.name);
  await hands.fill('Address', business.address);
  await hands.fill('Holding number', holding.number);
  await hands.pick('Which law is the book kept under?', word(LAW_WORDS, holding.law));
  await hands.pick('Weights are in', word(UNIT_WORDS, holding.weightUnit));
  await hands.fill('Time zone', holding.zone);
  await hands.fill('Who keeps the animals?', keeper.name);
  await hands.send('Begin the book');
  // The places stand there a moment before the book is led to Today: keys pressed in between would be overtaken.
  await hands.page.waitForURL(/at=today/);
  await hands.page.getByRole('navigation', { name: 'Places' }).waitFor();
}

type Holding = { name: string; address: string; milk: boolean; counting: string };

/** What the first form did not ask: the holding's own name, how periods are counted, whether milk is taken. */
export async function changeHolding(hands: Hands, holding: Holding): Promise<void> {
  await hands.goTo('go-farm');
  await said(hands, 'weights in');
  await hands.press('Change', 'Holding');
  await arrive(hands, 'Change a holding');
  await hands.fill('Name', holding.name);
  await hands.fill('Address', holding.address);
  await hands.pick('How periods are counted', word(COUNTING_WORDS, holding.counting));
  if (holding.milk) await hands.tick('Milk for people is taken here');
  await hands.send('Write the holding in the book');
  await arrive(hands, 'Farm');
  await said(hands, 'milk is taken for people');
}

/** Adds a person with what they do. */
export async function addPerson(hands: Hands, name: string, does: string): Promise<void> {
  await hands.goTo('set-person');
  await hands.fill('Name', name);
  await hands.tick(does);
  await hands.send('Write it in the book');
  await arrive(hands, 'Farm');
  await said(hands, name);
}

/** From here on this person's name goes under what is written. */
export async function writeAs(hands: Hands, name: string): Promise<void> {
  await hands.choose('Written by', name);
}
