import { arrive, type Hands, said } from './hands.ts';

export type Syringe = { capacity: string; graduation: string };
export type Work = {
  name: string;
  reason: string;
  medicine: string;
  animals: readonly string[];
  lots?: readonly string[];
  syringe?: Syringe;
  isMass?: boolean;
  /** What those that are treated are marked with, and for how many days it can be read. */
  mark?: { colour: string; place: string; days: number };
  /** What the plan must say is needed, in all, before the session is opened. */
  needs: string;
};

/** Plans work at the race, waits until the plan says what is needed, and opens it. */
export async function planWork(hands: Hands, work: Work): Promise<void> {
  const { page } = hands;
  await hands.goTo('plan-session');
  await page.getByLabel('Animals, by tag').waitFor();
  for (const lot of work.lots ?? []) await hands.tick(lot);
  for (const animal of work.animals) {
    await hands.read('Animals, by tag', animal);
    await page.getByRole('list', { name: 'Animals chosen' }).getByText(animal).waitFor();
  }
  await hands.find('Medicine', work.medicine);
  await hands.fill('Reason', work.reason);
  if (work.syringe !== undefined) {
    await hands.choose('Syringe', 'Another syringe or gun');
    await hands.fill('It holds', work.syringe.capacity);
    await hands.fill('A mark every', work.syringe.graduation);
  }
  const plan = page.locator('section').filter({
    has: page.getByRole('heading', { name: 'The plan', exact: true }),
  });
  await hands.fill('Name of the work', work.name);
  if (work.isMass === true) await hands.pick('Run', 'All at once');
  if (work.mark !== undefined) {
    await hands.tick('Those treated get a mark');
    await hands.fill('Colour', work.mark.colour);
    await hands.fill('Place', work.mark.place);
    await hands.fill('Can be read for', String(work.mark.days));
  }
  await plan.getByText(work.needs).first().waitFor();
  await hands.send('Open the session');
  await arrive(hands, work.name);
}

export type Given = {
  read: string;
  shown: string;
  weight?: string;
  draw: string;
  /** How many heads are done after it. */
  done: number;
  /** The unit of the farm's scale; absent: lb. */
  unit?: 'kg' | 'lb';
};

/** One animal at the race: tag, Enter, weight, Enter, dose, Enter. */
export async function treatNext(hands: Hands, given: Given): Promise<void> {
  const { page } = hands;
  await hands.untilAt('Tag, chip or lot');
  await hands.read('Tag, chip or lot', given.read);
  await page.getByRole('heading', { level: 2, name: given.shown }).waitFor();
  const weight = `Weight, ${given.unit ?? 'lb'}`;
  await hands.untilAt(weight);
  if (given.weight !== undefined) await hands.fill(weight, given.weight);
  await hands.enter(given.weight === undefined ? 'Go on with this weight' : 'Work out the dose');
  await hands.untilAt('Record it');
  await page
    .locator('.race-dose output, .race-dose')
    .getByText(given.draw, { exact: true })
    .first()
    .waitFor();
  await hands.enter('Record it');
  await page.getByText(`${given.done} head done`).waitFor();
  await page.getByRole('list', { name: 'The last three' }).getByText(given.shown).first().waitFor();
}

/** Counts the heads that went through, and closes. */
export async function closeWork(hands: Hands, name: string, headsThrough: number): Promise<void> {
  await hands.doHere('close-session', 'Close the session');
  await arrive(hands, `Close ${name}`);
  await hands.fill('Heads through the race', String(headsThrough));
  await hands.send('Close the session');
  await said(hands, `Closed. ${headsThrough} heads through, ${headsThrough} recorded.`);
}

/** Everybody who waits in one deed. */
export async function treatAll(hands: Hands, heads: number, lost: string): Promise<void> {
  await hands.fill('Lost', lost);
  await hands.send(`Write ${heads} head in the book`);
  await said(hands, `${heads} head written`);
}

export type ByTheVet = {
  read: string;
  medicine: string;
  reason: string;
  batch: string;
  syringe: Syringe;
  vet: string;
};

/** One treatment by itself, by the vet and from the vet's bottle. Returns the dose the screen says is written. */
export async function treatedByTheVet(hands: Hands, given: ByTheVet): Promise<string> {
  const { page } = hands;
  await hands.goTo('treat-one');
  await hands.read('Tag, chip or lot', given.read);
  await page.getByRole('list', { name: 'Whom' }).getByText(given.read).waitFor();
  await page.getByRole('combobox', { name: 'Medicine' }).waitFor();
  await hands.find('Medicine', given.medicine);
  await hands.fill('Reason', given.reason);
  await hands.pick('Where it comes from', 'Brought by the vet');
  await hands.fill('Batch number', given.batch);
  const { capacity, graduation } = given.syringe;
  await hands.choose('Syringe', `${capacity}, a mark every ${graduation}`);
  await hands.choose('Given by', given.vet);
  await hands.send('Write it in the book');
  await said(hands, 'Written in the book');
  return (await page.getByRole('main').textContent()) ?? '';
}
