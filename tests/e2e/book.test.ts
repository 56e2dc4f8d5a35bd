import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { packLines, verifyPack } from '../../src-main/answers/book/verify-pack.ts';
import { readZip } from '../../src-main/exchange/zip.ts';
import { readPdf } from '../paper/reading.ts';
import { recordPage } from './record-page.ts';
import { tabTo } from './treat-farm.ts';

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 90_000 });

const on = recordPage();
const { key, type, heading, show, goBy, saved, expectClean } = on;

const YEAR = { from: '2026-01-01', to: '2026-12-31' };
const rows = async () => (await on.desk.call('book', YEAR)).rows;

const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-book-'));
afterAll(() => rmSync(folder, { recursive: true }));
/** One red dot. */
const PNG = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);

/** What an inspector sees who checks a pack in a terminal. */
function verified(bytes: Uint8Array, checkCode: string): string[] {
  const file = path.join(folder, 'pack.zip');
  writeFileSync(file, bytes);
  const program = path.join(import.meta.dirname, '../../src-main/host-command/verify.ts');
  const { stdout } = spawnSync(process.execPath, [program, file, '--head', checkCode], { encoding: 'utf8' });
  return stdout.trim().split('\n');
}

test('a visit is got ready for: what is missing is mended, a line corrected, its photo kept, all printed, packed and verified', async () => {
  await on.desk.drench(on.desk.first, '2026-02-20');
  await on.desk.drench(on.desk.second, '2026-02-25');
  await show();
  // Today says it; the list has a step for each.
  await on.page.getByText('3 things are missing in the book of the last year.').waitFor();
  await goBy('g', 'g', 'What is missing');
  await on.page.getByText('3 things are missing, newest first.').waitFor();
  await tabTo(on.page, /^Fill in the supplier/);
  await key('Enter');
  await heading('Fill in what is missing').waitFor();
  await tabTo(on.page, /^Supplier/);
  await type('=Vale Stores');
  await tabTo(on.page, /^Address of the supplier/);
  await type('-3 Vale');
  await key('Control+Enter');
  await on.page.getByRole('alert').getByText('Where you have it from').waitFor();
  await tabTo(on.page, /^Where you have it from(?!:)/);
  await type('@ the office, on the note');
  await expectClean('filling in');
  await key('Control+Enter');
  await heading('What is missing').waitFor();
  await on.page.getByText('1 thing is missing, newest first.').waitFor();
  await tabTo(on.page, /^It cannot be found any more/);
  await key('Enter');
  await heading('Say why it is missing').waitFor();
  await tabTo(on.page, /^Why/);
  await type('+The invoice burned');
  await key('Control+Enter');
  await on.page.getByRole('heading', { name: 'Nothing is missing' }).waitFor();
  await on.page.getByText('+The invoice burned').waitFor();

  // The newest line is on top; the arrow goes to the one before, Enter opens it.
  await goBy('g', 'b', 'Book');
  await on.page.getByText('26 Mar 2026, 00:00').waitFor();
  await tabTo(on.page, /^25 Feb 2026.*00002/);
  await key('ArrowDown');
  await key('Enter');
  await heading('Vermolin drench into UK 9 999999 00001').waitFor();
  expect(await on.page.locator('output', { hasText: '21 Mar 2026, 00:00' }).count()).toBe(1);
  expect(await on.page.getByText(/needle|injection site/i).count()).toBe(0);

  // The dose was another: what the book then says stands there before it is written.
  await tabTo(on.page, /^Correct this treatment/);
  await key('Enter');
  await heading('Correct a treatment').waitFor();
  await tabTo(on.page, /^Given/);
  await key('Control+a');
  await type('13 mL');
  await on.page.getByText('13 mL given, 1.3 mL worked out').waitFor();
  await on.page.getByText('never clears by time').waitFor();
  await on.page.getByText('which then holds 985.7 mL').waitFor();
  await tabTo(on.page, /^Reason/);
  await key('Control+Enter');
  await on.page.getByRole('alert').getByText('Say why it is corrected.').waitFor();
  await tabTo(on.page, /^Reason/);
  await type('=Read the wrong mark');
  await expectClean('a correction');
  await key('Control+Enter');
  await on.page.getByText('The line now says 13 mL.').waitFor();
  expect((await rows()).map((row) => [row.shown.slice(-5), row.state, row.dose])).toEqual([
    ['00001', 'replaced', '1.3 mL'],
    ['00001', 'stands', '13 mL'],
    ['00002', 'stands', '1.3 mL'],
  ]);

  // Its photo: of 200 MB not a byte is read, and what is not what its name says the desk refuses.
  await tabTo(on.page, /^See the line/);
  await key('Enter');
  await heading('Vermolin drench into UK 9 999999 00001').waitFor();
  await tabTo(on.page, /^Add a paper or a photo/);
  await key('Enter');
  const file = on.page.getByLabel('File');
  const film = path.join(folder, 'film.png');
  writeFileSync(film, '');
  truncateSync(film, 200 * 1024 * 1024);
  await file.setInputFiles(film);
  await on.page.getByRole('alert').getByText('film.png is larger than 10 MB').waitFor();
  await file.setInputFiles({ name: 'scan.pdf', mimeType: 'application/pdf', buffer: PNG });
  const keep = on.page.getByRole('button', { name: 'Keep it in the book' });
  await keep.click();
  await on.page.getByText('scan.pdf is a PNG picture, and its name says something else').waitFor();
  await file.setInputFiles({ name: '=pocket book.png', mimeType: 'image/png', buffer: PNG });
  await on.page.getByLabel(/^Note/).fill('-the page of that day');
  await keep.click();
  await on.page.getByRole('button', { name: 'Show =pocket book.png' }).click();
  const picture = on.page.getByRole('img', { name: '=pocket book.png' });
  await picture.waitFor();
  await expect
    .poll(() => picture.evaluate((img) => img instanceof HTMLImageElement && img.naturalWidth))
    .toBe(1);
  await expectClean('a photo that is kept');

  // In the record both versions stand, the wrong one struck through.
  await goBy('g', 'b', 'Book');
  await on.page.locator('s', { hasText: '21 Mar 2026' }).waitFor();
  await on.page
    .getByText('Corrected by Siân Ó Briain-Łukasz on 1 Mar 2026, 09:00: =Read the wrong mark')
    .waitFor();
  await goBy('n', 'r', 'Print the book');
  await tabTo(on.page, /^Paper/);
  await type('US');
  await tabTo(on.page, /^Make the paper/);
  await key('Enter');
  await tabTo(on.page, /^Save medicine-book/);
  const paper = await saved();
  expect(paper.name).toBe('medicine-book-2025-03-02-2026-03-01.pdf');
  const { text, width } = await readPdf(paper.bytes);
  // Letter is 612 by 792 points, whichever way it lies.
  expect([612, 792]).toContain(Math.round(width));
  const { head } = await on.desk.call('farm', {});
  for (const said of [
    head.checkCode,
    '=Vale Stores, -3 Vale',
    '@ the office, on the note',
    '+The invoice burned',
    '=Read the wrong mark',
    'Late entry',
  ]) {
    expect(text).toContain(said);
  }

  await goBy('n', 'k', 'The inspector’s pack');
  await tabTo(on.page, /^Make the pack/);
  const pack = await saved();
  expect(pack.name).toBe(`pack-Hafod-y-Gwynt-2026-03-01-entry-${head.seq}.zip`);
  expect(packLines(verifyPack(pack.bytes, head.checkCode))).toEqual([
    `The pack is whole: ${head.seq} entries, check code ${head.checkCode}.`,
  ]);
  const { files } = readZip(pack.bytes);
  expect(files.filter(({ bytes }) => bytes !== undefined && PNG.equals(bytes))).toHaveLength(1);
  const table = Buffer.from(files.find(({ name }) => name === 'book.csv')?.bytes ?? []).toString('utf8');
  for (const cell of ["'=Vale Stores", "'-3 Vale", "'=Read the wrong mark"]) expect(table).toContain(cell);
  // One byte of the journal, in the middle of it.
  const journal = pack.bytes.indexOf('journal/journal.jsonl') + 'journal/journal.jsonl'.length;
  const at = journal + 1500;
  pack.bytes[at] = (pack.bytes[at] ?? 0) ^ 1;
  const tampered = verified(pack.bytes, head.checkCode);
  expect(tampered[0]).toContain('The pack is not whole.');
  expect(tampered.join('\n')).toMatch(/- Line \d+ of journal\/journal\.jsonl \(entry \d+\) is the first/);
  await on.watch.expectQuiet();
});

test('a treatment is struck out by keyboard: what follows is said, and it is asked once more', async () => {
  await on.desk.drench(on.desk.first, '2026-02-20');
  await on.desk.drench(on.desk.second, '2026-02-25');
  await show();
  await goBy('g', 'b', 'Book');
  await tabTo(on.page, /^25 Feb 2026.*00002/);
  await key('Enter');
  await heading('Vermolin drench into UK 9 999999 00002').waitFor();
  await tabTo(on.page, /^Strike it out/);
  await key('Enter');
  await heading('Strike out').waitFor();
  await on.page.getByText('1.3 mL counts as back in').waitFor();
  await tabTo(on.page, /^Reason/);
  await type('It was never given');
  await key('Control+Enter');
  await on.page.getByRole('dialog', { name: 'Strike this out?' }).waitFor();
  await key('Escape');
  await on.page.getByRole('dialog').waitFor({ state: 'detached' });
  expect((await rows()).filter((row) => row.state === 'voided')).toEqual([]);
  await tabTo(on.page, /^Reason/);
  await key('Control+Enter');
  await on.page.getByRole('dialog', { name: 'Strike this out?' }).waitFor();
  await tabTo(on.page, /^Yes, strike it out/);
  await key('Enter');
  await on.page.getByText('Struck out', { exact: true }).waitFor();
  expect((await rows()).at(-1)).toMatchObject({
    state: 'voided',
    correction: { reason: 'It was never given' },
  });
  expect((await on.desk.call('clear-list', { at: '2026-03-02' })).clear.map((row) => row.subject)).toContain(
    on.desk.second,
  );

  // In the record it stands struck through, and the file says so too.
  await goBy('g', 'b', 'Book');
  await on.page.locator('s', { hasText: '26 Mar 2026' }).waitFor();
  await tabTo(on.page, /^Save as a file/);
  const file = await saved();
  expect(file.name).toBe('treatment-record-2025-03-02-2026-03-01.csv');
  const lines = file.bytes.toString('utf8').trim().split('\r\n');
  expect(lines).toHaveLength(1 + 2);
  expect(lines[0]).toContain('Meat withdrawal until');
  expect(
    lines.filter((line) => line.includes('struck out') && line.includes('It was never given')),
  ).toHaveLength(1);
  await on.watch.expectQuiet();
});

test('the book is checked against the code of a paper, decided again, and its journal leads to striking out', async () => {
  await on.desk.drench(on.desk.first, '2026-02-20');
  const code = (await on.desk.call('farm', {})).head.checkCode;
  await show();
  await goBy('g', 'k', 'Check the book');
  await tabTo(on.page, /^Check code/);
  await type('nonsense');
  await key('Enter');
  await on.page.getByText('is not a check code').waitFor();
  await key('Control+a');
  await type(code);
  await key('Enter');
  await on.page.getByText('The book is whole').waitFor();
  await tabTo(on.page, /^Decide every hold again/);
  await key('Enter');
  await on.page.getByText('Nothing would be decided otherwise today.').waitFor();

  // The journal, newest first; what is put right otherwise says how.
  await goBy('g', 'j', 'Journal');
  await on.page.getByRole('table', { name: 'Entries of the journal' }).waitFor();
  await tabTo(on.page, /^\d+Vermolin drench given/);
  await key('Enter');
  await heading('Strike out').waitFor();
  await on.page.getByText('counts as back in').waitFor();
  await on.watch.expectQuiet();
});
