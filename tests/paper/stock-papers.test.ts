import { expect, test } from 'vitest';
import type { RecallPaper } from '../../src-main/paper/recall.ts';
import { renderPaper } from '../../src-main/paper/render.ts';
import type { StocktakePaper } from '../../src-main/paper/stocktake.ts';
import { madeUpHead } from './made-up.ts';
import { readPdf } from './reading.ts';

const recall: RecallPaper = {
  head: madeUpHead({ demo: true }),
  number: 'AB17',
  name: 'Vermolin drench',
  says: ['1 container of it is still here.', '13 head got it or may have got it.'],
  deliveries: ['1 Mar 2026: 2 containers, expiry Mar 2027, from Glenside Supplies'],
  balance: [
    { cause: 'Came in', text: '1000 mL' },
    { cause: 'Put right by counting', text: '−14 mL' },
    { cause: 'Left', text: '900 mL' },
  ],
  containers: [{ label: 'AB17-1', left: '400 mL', state: 'set aside', store: 'Fridge' }],
  got: [
    {
      shown: 'ZZ 000001',
      class: 'ewe',
      heads: 1,
      given: ['3 Mar 2026, 6 mL, AB17-1'],
      now: [{ says: 'sold on 4 Mar 2026 to Fell Farm', holds: '' }],
    },
    {
      shown: 'Top field',
      class: 'ewe lamb',
      heads: 12,
      given: ['3 Mar 2026, 72 mL, AB17-1'],
      now: [
        { says: '9 here', holds: 'Meat held until 31 Mar 2026' },
        { says: 'Low field: 45 here', holds: 'Meat held until 31 Mar 2026' },
      ],
    },
  ],
};

test('the paper of a batch says all of it, and that it is a demo', async () => {
  const job = { paper: 'recall', data: recall };
  const bytes = await renderPaper(job);
  expect(Buffer.from(await renderPaper(job)).equals(Buffer.from(bytes))).toBe(true);
  const { text } = await readPdf(bytes);
  for (const said of [
    'DEMO',
    'Vermolin drench, batch AB17',
    'Came in: 1000 mL. Put right by counting: –14 mL. Left: 900 mL',
    'set aside',
    'sold on 4 Mar 2026 to Fell Farm',
    'Low field: 45 here',
    'Meat held until 31 Mar 2026',
    'Check code 1234-ab12-cd34-ef56',
  ]) {
    expect(text).toContain(said);
  }
});

test('the sheet for the shelf has a line for each container, with or without what the book has', async () => {
  const row = {
    label: 'AB17-1',
    name: 'Vermolin drench',
    batch: 'AB17',
    useBy: '31 Mar 2027',
    received: '500 mL',
    book: '412 mL',
    unit: 'mL',
  };
  const sheet: StocktakePaper = {
    head: madeUpHead(),
    stores: [{ store: 'Fridge', rows: [row, { ...row, label: 'AB17-2' }] }],
    showsBook: true,
  };
  const { text } = await readPdf(await renderPaper({ paper: 'stocktake', data: sheet }));
  for (const said of [
    'Stocktake',
    'Fridge',
    'AB17-1',
    'AB17-2',
    'The book says',
    '412 mL',
    'Why it differs',
  ]) {
    expect(text).toContain(said);
  }
  const blind = { ...sheet, showsBook: false, stores: [{ store: 'Fridge', rows: [{ ...row, book: '' }] }] };
  const unseen = (await readPdf(await renderPaper({ paper: 'stocktake', data: blind }))).text;
  expect(unseen).not.toContain('The book says');
  expect(unseen).not.toContain('412 mL');
});
