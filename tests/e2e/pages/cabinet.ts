import type { Ask } from '../../../src-shared/calls/all.ts';
import { FORM_WORDS, PRODUCE_WORDS, PURPOSE_WORDS, ROUTE_WORDS } from '../../../src-shared/label/words.ts';
import { arrive, type Hands, said } from './hands.ts';

export type Terms = Ask<'check-label'>['terms'];
type DoseLine = Terms['doseLines'][number];

function upper(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

const SAYS_WORDS: Readonly<Record<string, string>> = {
  value: 'A period in days or hours',
  zero: 'Zero: it may be taken at once',
};

/** Writes down a label from top to bottom, and its few figures once more from the insert. */
export async function writeLabel(hands: Hands, terms: Terms): Promise<void> {
  await hands.goTo('write-label');
  await hands.page.getByRole('group', { name: 'The label' }).waitFor();
  await hands.fill('Name', terms.name);
  await hands.choose('What it is', upper(FORM_WORDS[terms.form]));
  await hands.pick('How it is measured', 'By volume, in mL');
  await hands.choose('What it is for', PURPOSE_WORDS[terms.purpose]);
  if (terms.prescription === 'vet-prescription')
    await hands.choose('Who may supply it', 'Only on a vet’s prescription');
  for (const active of terms.actives ?? []) {
    await hands.fill('Active substance', active.substance);
    if (active.strength !== undefined) await hands.fill('Strength', active.strength);
  }
  for (const line of terms.doseLines) await writeDose(hands, line);
  for (const row of terms.periods ?? []) {
    const produce = PRODUCE_WORDS[row.produce];
    await hands.choose('The label says', SAYS_WORDS[row.says] ?? row.says, produce);
    if (row.value !== undefined) await hands.fill('Period', row.value, produce);
  }
  if (terms.inUse !== undefined) {
    await hands.pick('Once opened', 'So many days or hours');
    await hands.fill('It keeps for', terms.inUse);
  }
  await hands.send('Go on');
  await arrive(hands, `${terms.name}: once more`);
  await writeAgain(hands, terms);
  await hands.send('Write the label in the book');
  await arrive(hands, terms.name);
}

async function writeDose(hands: Hands, line: DoseLine): Promise<void> {
  const { rate } = line;
  await hands.choose('How it is given', upper(ROUTE_WORDS[line.route]));
  if (rate.style === 'rate') {
    await hands.fill('Dose', rate.text);
    if (rate.perVolume !== undefined) await hands.fill('Printed also as', rate.perVolume);
  } else {
    await hands.pick('How the dose is printed', 'As a table of weights');
    if (rate.from !== undefined) await hands.fill('From', rate.from);
    for (const [n, band] of rate.bands.entries()) {
      if (n > 0) {
        await hands.press('Add another weight');
        await hands.untilAt('Up to');
      }
      await hands.fill('Up to', band.upTo, String(n + 1));
      await hands.fill('Dose', band.dose, String(n + 1));
    }
    if (rate.furtherStep !== undefined) {
      await hands.fill('Above the last, for each further', rate.furtherStep.each);
      await hands.fill('so much more', rate.furtherStep.dose);
    }
  }
  if (line.mostPerSite !== undefined) await hands.fill('Most in one place', line.mostPerSite);
}

async function writeAgain(hands: Hands, terms: Terms): Promise<void> {
  for (const { rate } of terms.doseLines) {
    if (rate.style === 'rate') await hands.fill('Rate', rate.text);
    else {
      if (rate.from !== undefined) await hands.fill('Table: from', rate.from);
      for (const [n, band] of rate.bands.entries()) {
        await hands.fill(`Table, line ${n + 1}: up to`, band.upTo);
        await hands.fill(`Table, line ${n + 1}: dose`, band.dose);
      }
      if (rate.furtherStep !== undefined) {
        await hands.fill('Table: for each further', rate.furtherStep.each);
        await hands.fill('Table: so much more', rate.furtherStep.dose);
      }
    }
  }
  for (const active of terms.actives ?? []) {
    if (active.strength !== undefined) await hands.fill(`Strength of ${active.substance}`, active.strength);
  }
  const meat = terms.periods?.find((row) => row.produce === 'meat');
  const period = meat?.says === 'zero' ? 'zero' : meat?.value;
  if (period !== undefined) await hands.fill('Meat period', period);
}

type Delivery = {
  medicine: string;
  number: string;
  expiry: string;
  packs: readonly { count: number; size: string }[];
  supplier: string;
};

/** Takes in one batch, with the box in the hand. */
export async function takeIn(hands: Hands, delivery: Delivery): Promise<void> {
  await hands.goTo('receive-batch');
  await hands.untilAt('Medicine');
  await hands.find('Medicine', delivery.medicine);
  await hands.fill('Batch number', delivery.number);
  await hands.fill('Expiry', delivery.expiry);
  await hands.fill('Packs', delivery.packs.map(({ count, size }) => `${count} × ${size}`).join(', '));
  await hands.fill('Supplier', delivery.supplier);
  await hands.send('Take it into the cabinet');
  await arrive(hands, 'Taken in');
  await said(hands, `${delivery.number}-1`);
}

/** Disposes of what is left in a container. */
export async function disposeOf(
  hands: Hands,
  container: { label: string; why: string; how: string },
): Promise<void> {
  await hands.goTo('go-cabinet');
  await hands.page.getByRole('table', { name: 'On the shelf' }).waitFor();
  await hands.open('On the shelf', container.label);
  await hands.press('Dispose of it');
  await hands.untilAt('How much');
  await hands.fill('Why', container.why);
  await hands.fill('How', container.how);
  await hands.send('Write that it was disposed of');
  await said(hands, `${container.label}: 0 mL left, disposed of.`);
}

/**
 * Corrects the meat period of a label that was typed wrongly. Returns what the screen says will move, row by row,
 * read before it is written.
 */
export async function correctMeatPeriod(
  hands: Hands,
  { name, period, why }: { name: string; period: string; why: string },
): Promise<string[][]> {
  await hands.goTo('go-cabinet');
  await hands.page.getByRole('table', { name: 'Medicines' }).waitFor();
  await hands.open('Medicines', name);
  await arrive(hands, name);
  await hands.press('Correct a typing error');
  await arrive(hands, `${name}: correct what was typed`);
  await hands.fill('What was wrong', why);
  await hands.fill('Period', period, 'Meat');
  await hands.send('Go on');
  await arrive(hands, `${name}: once more`);
  await hands.fill('Meat period', period);
  await hands.send('See what moves');
  await arrive(hands, `${name}: what moves`);
  const table = hands.page.getByRole('table', { name: 'What moves' });
  await table.waitFor();
  const rows = await table
    .locator('tbody tr')
    .evaluateAll((found) =>
      found.map((row) => [...row.querySelectorAll('td')].map((cell) => cell.textContent ?? '')),
    );
  await hands.press('Correct it in the book');
  await arrive(hands, name);
  return rows;
}
