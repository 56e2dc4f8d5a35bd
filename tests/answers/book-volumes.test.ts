import { afterAll, beforeAll, expect, test } from 'vitest';
import { cut, cutParts, makeVolumes, volumesAsk } from '../../src-main/answers/book/volumes.ts';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { readBookCsv } from '../../src-main/exchange/book-csv.ts';
import { MOST_ROWS } from '../../src-main/paper/parts.ts';
import { readSnapshot } from '../../src-main/store/reading.ts';
import { readPdf } from '../paper/reading.ts';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

const DAY = '2026-05-01';
let desk: FarmDesk;
let holding: string;

beforeAll(async () => {
  desk = farmDesk();
  ({ holding } = await desk.started());
  const { medicine } = await desk.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) });
  await desk.ask('receive-batch', {
    medicine,
    number: 'B4',
    expiry: '2027-03',
    packs: [{ count: 1, size: '500 mL' }],
  });
  for (let n = 1; n <= 5; n += 1) {
    const { animal } = await desk.ask('set-animal', { holding, tag: `UK 0123456 0001${n}`, class: 'ewe' });
    await desk.ask('treat', {
      subject: `animal:${animal}`,
      single: { medicine, reason: 'Worms' },
      given: '6 mL',
      weight: '60 kg',
    });
  }
});
afterAll(() => desk.close());

/** The papers of the book, in volumes of so few rows that a small book needs several. */
const volumes = (form: 'treatments' | 'whole', most: number) =>
  readSnapshot(desk.book, storeParts.kinds, (book) =>
    makeVolumes(
      book,
      volumesAsk.parse({
        book: desk.book,
        now: `${DAY}T09:00:00.000Z`,
        holding,
        from: DAY,
        to: DAY,
        form,
        filter: {},
        most,
      }),
      () => {},
    ),
  );

test('a record that is too long for one paper becomes volumes, with the totals in the last', async () => {
  const { volumes: made, rows } = await volumes('treatments', 2);
  expect(rows).toBe(5);
  expect(made.map(({ rows: own, name }) => [own, name])).toEqual([
    [2, '-volume-1-of-3'],
    [2, '-volume-2-of-3'],
    [1, '-volume-3-of-3'],
  ]);
  const texts = await Promise.all(made.map(async ({ bytes }) => (await readPdf(bytes)).text));
  expect(texts.map((text) => text.includes('5 treatments stand'))).toEqual([false, false, true]);
  expect(texts[1]).toContain('Treatment record, volume 2 of 3');
  for (let n = 1; n <= 5; n += 1) {
    expect(texts.filter((text) => text.includes(`UK 0 123456 0001${n}`))).toHaveLength(1);
  }
});

test('the whole book is cut without losing a row, and short parts are kept together', async () => {
  const { volumes: made } = await volumes('whole', 4);
  expect(made.length).toBeGreaterThan(1);
  const all = (await Promise.all(made.map(async ({ bytes }) => (await readPdf(bytes)).text))).join(' ');
  for (let n = 1; n <= 5; n += 1) expect(all).toContain(`UK 0 123456 0001${n}`);
  expect(all).toContain('What is left');
});

test('the same lines are had as a table, narrowed as the paper is, and read back', async () => {
  const { text, rows, name } = await desk.ask('book-table', { holding, from: DAY, to: DAY });
  expect(name).toBe(`book-${DAY}-${DAY}.csv`);
  const lines = readBookCsv(Buffer.from(text, 'utf8'));
  expect(lines.map(({ act }) => act)).toEqual([
    'received',
    ...Array.from({ length: 5 }, () => 'given'),
    'left',
  ]);
  expect(rows).toBe(lines.length);
  const none = await desk.ask('book-table', { holding, from: DAY, to: DAY, batch: 'other' });
  expect(readBookCsv(Buffer.from(none.text, 'utf8'))).toEqual([]);
  const bad = await desk.refused('book-table', { holding, from: '2026-02-31', to: DAY });
  expect(bad.field).toBe('from');
});

test('versions of one treatment stay together, and no volume has more rows than a paper holds', () => {
  const groups = Array.from({ length: 15_000 }, (_, n) => (n % 3 === 0 ? [n, n] : [n]));
  const made = cut(groups, MOST_ROWS);
  expect(made.every((rows) => rows.length <= MOST_ROWS)).toBe(true);
  expect(made.flat()).toEqual(groups.flat());
  // No pair is torn: what ends one volume does not begin the next.
  for (const [n, rows] of made.entries()) expect(made[n + 1]?.[0]).not.toBe(rows.at(-1));
  const left = { kind: 'left' as const, on: 'x', rows: Array.from({ length: 30_000 }, () => row) };
  const parts = cutParts(
    [{ kind: 'about', title: 'a', lines: [] }, left, { ...left, rows: [row] }],
    MOST_ROWS,
  );
  expect(parts.map((own) => own.map((part) => (part.kind === 'about' ? 0 : part.rows.length)))).toEqual([
    [0, 20_000],
    [10_000, 1],
  ]);
});

const row = {
  date: '',
  medicine: 'm',
  detail: '',
  container: '',
  quantity: '',
  cells: [],
  struck: false,
  beneath: [],
};
