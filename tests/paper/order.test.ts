import { expect, test } from 'vitest';
import type { OrderPaper } from '../../src-main/paper/order.ts';
import { renderPaper } from '../../src-main/paper/render.ts';
import { madeUpHead } from './made-up.ts';
import { readPdf } from './reading.ts';

const ORDER: OrderPaper = {
  head: madeUpHead({ demo: true }),
  number: 12,
  supplier: 'Glenside Supplies',
  made: '3 Mar 2026',
  by: 'Isla Thorn',
  rows: [
    { product: 'Vermolin drench', count: '2', size: '500 mL', price: '80.00 GBP', state: '' },
    { product: 'Calverol drench', count: '1', size: '1 L', price: '', state: '' },
  ],
  cost: '160.00 GBP',
  unpriced: 1,
};

test('an order list says what, how much and from whom, and that it is a demo', async () => {
  const job = { paper: 'order', data: ORDER };
  const bytes = await renderPaper(job);
  expect(Buffer.from(await renderPaper(job)).equals(Buffer.from(bytes))).toBe(true);
  const { text } = await readPdf(bytes);
  for (const said of [
    'DEMO',
    'Order 12 to Glenside Supplies',
    'Vermolin drench',
    '500 mL',
    '80.00 GBP',
    'By the prices in the book: 160.00 GBP, and 1 line without a price.',
    'Isla Thorn',
    'Check code 1234-ab12-cd34-ef56',
  ]) {
    expect(text).toContain(said);
  }
  // Nothing came yet, so there is no column for it.
  expect(text).not.toContain('What came of it');
});

test('an order list that something came of says so beside each line', async () => {
  const rows = ORDER.rows.map((row) => ({ ...row, state: 'All of it came.' }));
  const { text } = await readPdf(await renderPaper({ paper: 'order', data: { ...ORDER, rows } }));
  expect(text).toContain('What came of it');
  expect(text).toContain('All of it came.');
});
