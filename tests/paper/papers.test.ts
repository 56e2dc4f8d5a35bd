import { expect, test } from 'vitest';
import { PRINTABLE, printable } from '../../src-main/paper/glyphs.ts';
import { renderPaper } from '../../src-main/paper/render.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { madeUpDeclaration, madeUpHead, madeUpRecord, madeUpRow } from './made-up.ts';
import { readPdf } from './reading.ts';

const WORKER = new URL('../../src-main/paper/worker.ts', import.meta.url);
const record = (data: unknown, worker?: URL) => renderPaper({ paper: 'treatment-record', data }, worker);
const declaration = (data: unknown) => renderPaper({ paper: 'declaration', data });

test('a treatment record prints every row, the last one, its totals and its running headings', async () => {
  const rows = Array.from({ length: 137 }, (_, i) => madeUpRow(i + 1));
  const { pages, text, width, height } = await readPdf(await record(madeUpRecord(rows)));
  expect([Math.round(width), Math.round(height)]).toEqual([842, 595]);
  expect(text.match(/ZZ \d{6}/g)).toHaveLength(137);
  expect(text).toContain('ZZ 000137');
  expect(text).toContain('4321.5 mL');
  expect(text).toContain('137 treatments stand, 137 head treated in all.');
  expect(pages.length).toBeGreaterThan(5);
  pages.forEach((page, i) => {
    expect(page).toContain(`Page ${i + 1} of ${pages.length}`);
    expect(page).toContain('Hafod-y-Gwynt Farming · Hafod-y-Gwynt · 99/999/0042');
    expect(page).toContain('1234-ab12-cd34-ef56');
    if (page.includes('ZZ 0')) expect(page).toContain('Meat: held until');
  });
});

test('what every paper says about itself', async () => {
  for (const bytes of [await record(madeUpRecord([madeUpRow(1)])), await declaration(madeUpDeclaration(3))]) {
    const { text } = await readPdf(bytes);
    expect(text).toContain('The label and the vet come first.');
    expect(text).toContain('does not claim that any law has been complied with');
    expect(text).toContain('How the days are counted: the later of two ends.');
    expect(text).toContain('believed the day to be 12 Apr 2026');
    expect(text).toContain('Siân Ó Briain-Łukasz');
    expect(text).not.toContain('DEMO');
  }
});

test('a declaration names everyone, their treatments, and who signed what', async () => {
  const { text, pages } = await readPdf(await declaration(madeUpDeclaration(61)));
  expect(text.match(/ZZ \d{6}/g)).toHaveLength(61);
  expect(text.match(/no treatment with a withdrawal period in the book/g)).toHaveLength(40);
  expect(text.match(/Vermolin drench/g)).toHaveLength(21);
  for (const said of [
    'Declaration for slaughter no. 7',
    'Abattoir of the Test',
    '12 Apr 2026, 06:00',
    'Keeper: Siân Ó Briain-Łukasz',
    'Is it all in the book?',
    'Żaneta Ørsted',
    'Signature',
  ]) {
    expect(text).toContain(said);
  }
  expect(pages.at(-1)).toContain(`Page ${pages.length} of ${pages.length}`);
});

test('both paper sizes', async () => {
  const a4 = await readPdf(await declaration(madeUpDeclaration(2)));
  const letter = await readPdf(await declaration(madeUpDeclaration(2, { size: 'letter' })));
  expect([Math.round(a4.width), Math.round(a4.height)]).toEqual([595, 842]);
  expect([letter.width, letter.height]).toEqual([612, 792]);
  const wide = await readPdf(await record(madeUpRecord([madeUpRow(1)], { size: 'letter' })));
  expect([wide.width, wide.height]).toEqual([792, 612]);
});

test('a demo says DEMO on every page', async () => {
  const rows = Array.from({ length: 30 }, (_, i) => madeUpRow(i + 1));
  const { pages } = await readPdf(await record(madeUpRecord(rows, { demo: true })));
  expect(pages.length).toBeGreaterThan(2);
  for (const page of pages) expect(page).toContain('DEMO');
});

test('the same data gives the same bytes, in this thread and in one of its own', async () => {
  const data = madeUpRecord([madeUpRow(1), madeUpRow(2)]);
  const first = await record(data);
  expect(Buffer.from(await record(data)).equals(Buffer.from(first))).toBe(true);
  expect(Buffer.from(await record(data, WORKER)).equals(Buffer.from(first))).toBe(true);
  const later = madeUpRecord([madeUpRow(1), madeUpRow(2)], { stated: '2026-04-12T08:00:01.000Z' });
  expect(Buffer.from(await record(later)).equals(Buffer.from(first))).toBe(false);
});

test('a struck row keeps its words and says why beneath, before the row that stands', async () => {
  const { text } = await readPdf(
    await record(
      madeUpRecord([
        madeUpRow(1, {
          dose: '1.24 mL',
          state: 'replaced',
          correction: 'Corrected by N. N.: slip of the keyboard.',
        }),
        madeUpRow(1),
        madeUpRow(2, { state: 'voided', correction: 'Struck out by N. N.: not this ewe.' }),
      ]),
    ),
  );
  const order = ['1.24 mL', 'slip of the keyboard', '12.4 mL', 'not this ewe'].map((said) =>
    text.indexOf(said),
  );
  expect(order.every((at) => at >= 0)).toBe(true);
  expect(order).toEqual(order.toSorted((a, b) => a - b));
});

test('a row taller than a page is printed to its last word', async () => {
  const words = Array.from({ length: 330 }, (_, i) => `word${i}`).join(' ');
  const { text, pages } = await readPdf(
    await record(madeUpRecord([madeUpRow(1), madeUpRow(2, { reason: words }), madeUpRow(3)])),
  );
  expect(text).toContain('word0 ');
  expect(text).toContain('word329');
  expect(text).toContain('ZZ 000003');
  expect(pages.length).toBeGreaterThan(2);
});

test('every character the font is said to have comes back as itself', async () => {
  const all = PRINTABLE.flatMap(([from, to]) =>
    Array.from({ length: to - from + 1 }, (_, i) => from + i),
  ).filter((code) => !/\s/u.test(String.fromCodePoint(code)));
  const marked = all.map((code) => `<${String.fromCodePoint(code)}>`);
  const rows: string[] = [];
  for (let i = 0; i < marked.length; i += 10) rows.push(marked.slice(i, i + 10).join(''));
  const { text } = await readPdf(
    await record(madeUpRecord(rows.map((reason, i) => madeUpRow(i, { reason, product: '', givenBy: '' })))),
  );
  // The micro sign and the Greek letter are one glyph, so either may be read back.
  const same = (read: string) => read.normalize('NFC').replaceAll('\u03bc', '\u00b5').replace(/\s/g, '');
  const plain = same(text);
  const missing = marked.filter((each) => !plain.includes(same(each)));
  expect(missing).toEqual([]);
});

test('a character the font lacks is printed as its code, and accents are joined to their letters', async () => {
  expect(printable('羊 1')).toBe('[U+7F8A] 1');
  expect(printable('Sia\u0302n')).toBe('Siân');
  const { text } = await readPdf(await declaration({ ...madeUpDeclaration(1), to: '羊 & Sia\u0302n' }));
  expect(text).toContain('[U+7F8A] & Siân');
});

test('a paper of more than 20,000 rows is refused in a sentence', async () => {
  const rows = Array.from({ length: 20_001 }, (_, i) => madeUpRow(i));
  const refused = await record(madeUpRecord(rows)).catch((thrown: unknown) => thrown);
  expect(refused).toBeInstanceOf(Refusal);
  expect(refused).toMatchObject({ code: 'paper-too-long' });
});

test('data that is not a paper is not rendered', async () => {
  await expect(record({ head: madeUpHead() })).rejects.toThrow();
  await expect(renderPaper({ paper: 'no-such', data: {} })).rejects.toThrow('no paper called');
});

/** A paper long enough that each step of the press takes a while. */
const LONG = madeUpRecord(Array.from({ length: 400 }, (_, i) => madeUpRow(i)));
const STEPS = [
  'Measuring the text of',
  'Placing the lines on pages',
  'Writing the pages',
  'Closing the file',
];

test('the press tells what it is at, and of lines and pages how far, in the order they are done', async () => {
  const told: { done: number; total: number; step: string }[] = [];
  await renderPaper({ paper: 'treatment-record', data: LONG }, WORKER, undefined, (done, total, step = '') =>
    told.push({ done, total, step }),
  );
  const stepOf = ({ step }: { step: string }) => STEPS.findIndex((one) => step.startsWith(one));
  const order = told.map(stepOf);
  expect(order).toEqual(order.toSorted((a, b) => a - b));
  expect([...new Set(order)]).toEqual([0, 1, 2, 3]);
  const shares = (n: number) =>
    told.filter((one) => stepOf(one) === n).map(({ done, total }) => done / total);
  for (const n of [0, 1, 2]) {
    expect(shares(n)).toEqual(shares(n).toSorted((a, b) => a - b));
    // Every text was measured, every row of both tables placed, and every page written.
    expect(shares(n).at(-1)).toBe(1);
  }
  expect(told.find((one) => stepOf(one) === 1)?.total).toBe(400 + 1 + LONG.totals.products.length + 1);
  // Eight cells a line, four in the totals, and what stands above and beneath them.
  expect(told[0]).toMatchObject({ done: 1, step: 'Measuring the text of 403 lines' });
  expect(told[0]?.total).toBeGreaterThan(401 * 8 + 2 * 4);
  expect(told[0]?.total).toBeLessThan(401 * 8 + 2 * 4 + 40);
});

test.each(STEPS)('a paper ended while it says %j is refused as cancelled, and says no more', async (step) => {
  const end = new AbortController();
  const told: string[] = [];
  const making = renderPaper(
    { paper: 'treatment-record', data: LONG },
    WORKER,
    end.signal,
    (_done, _total, now = '') => {
      told.push(now);
      if (now.startsWith(step)) end.abort();
    },
  );
  await expect(making).rejects.toMatchObject({ code: 'cancelled' });
  expect(told.at(-1)?.startsWith(step)).toBe(true);
});
