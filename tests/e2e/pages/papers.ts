import { readFile } from 'node:fs/promises';
import { dayInWords } from '../../../src-renderer/parts/words.ts';
import { arrive, type Hands, said, typedDay } from './hands.ts';

/** Corrects what was written of one treatment. */
export async function correctDose(
  hands: Hands,
  line: { product: string; animal: string; given: string; reason: string },
): Promise<void> {
  await hands.goTo('go-book');
  await hands.page.getByRole('table', { name: 'Treatments' }).waitFor();
  await hands.open('Treatments', line.product, line.animal);
  await arrive(hands, `${line.product} into ${line.animal}`);
  await hands.press('Correct this treatment');
  await arrive(hands, 'Correct a treatment');
  await hands.fill('Given', line.given);
  await hands.fill('Reason', line.reason);
  await hands.send('Write the correction in the book');
  await said(hands, `The line now says ${line.given}.`);
}

export type Consignment = {
  to: string;
  /** "2026-03-16T06:00". */
  departs: string;
  going: readonly { animal: string; heads?: number }[];
};

/** The deed that answers what a declaration in Great Britain asks of the keeper. */
export const NO_DISEASE = 'Diseases that may affect the meat: No disease that may affect the meat is known.';

/** Writes down who goes where and when, and answers yes; signs nothing yet. */
export async function fillDeclaration(hands: Hands, { to, departs, going }: Consignment): Promise<void> {
  const [day = '', time = ''] = departs.split('T');
  await hands.goTo('declare');
  await hands.page.getByLabel('To whom').waitFor();
  await hands.fill('To whom', to);
  await hands.fill('Day they leave', typedDay(day));
  await said(hands, dayInWords(day));
  await hands.fill('Time they leave', time);
  for (const [n, { animal }] of going.entries()) {
    await hands.read('Add by number', animal);
    await hands.page.getByText(animal, { exact: true }).nth(0).waitFor();
    if (n === going.length - 1) await said(hands, 'on the list.');
  }
  for (const { animal, heads } of going) {
    if (heads === undefined) continue;
    await hands.page.getByLabel(`How many head of ${animal}`).waitFor();
    await hands.fill(`How many head of ${animal}`, String(heads));
  }
  await hands.press(NO_DISEASE);
  await hands.pick('Your answer', 'Yes');
}

/** Signs what was filled in. */
export async function sign(hands: Hands, number: number): Promise<void> {
  await hands.send('Sign and print it');
  await arrive(hands, `Declaration ${number}`);
}

/** Saves the paper that is shown, and reads it from where it was saved. */
export async function savePaper(hands: Hands, fileName: string): Promise<Uint8Array> {
  const { page } = hands;
  await page.getByRole('link', { name: `Save ${fileName}` }).waitFor();
  const [download] = await Promise.all([page.waitForEvent('download'), hands.press(`Save ${fileName}`)]);
  return new Uint8Array(await readFile(await download.path()));
}

/** Prints the treatment record of a period and saves it. */
export async function printRecord(
  hands: Hands,
  { from, to }: { from: string; to: string },
): Promise<Uint8Array> {
  await hands.goTo('book-paper');
  await hands.page.getByLabel('From').waitFor();
  await hands.pick('What is printed', 'The treatment record');
  await hands.fill('From', typedDay(from));
  await hands.fill('To', typedDay(to));
  for (const day of [from, to]) await said(hands, dayInWords(day));
  await hands.send('Make the paper');
  return savePaper(hands, `treatment-record-${from}-${to}.pdf`);
}
