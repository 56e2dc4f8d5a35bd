import { afterAll, beforeAll, expect, test } from 'vitest';
import { type FlockBook, flockBook } from './flock-book.ts';

/**
 * A flock of more than one page of everything: what comes out must be whole, and the same by each way to it. How
 * long it takes with 20,000 is measured by `npm run bench`.
 */
const HEADS = 1000;
let book: FlockBook;
let importId = '';
const tag = (i: number) => `UK 0 123456 ${String(i).padStart(5, '0')}`;

beforeAll(() => {
  book = flockBook();
  const rows = Array.from({ length: HEADS }, (_, i) => {
    const number = String(i + 1).padStart(5, '0');
    return `${tag(i + 1)},8260123456${number},ewe,F,2022-03-01,Field ${i % 10},${55 + (i % 20)}.5,2026-02-14`;
  });
  const text = ['Tag,EID,Class,Sex,Born,Group,Weight kg,Weighed on', ...rows].join('\n');
  const made = book.call('import-animals', {
    holding: 'h1',
    standing: 'none-running',
    file: book.file(text),
  });
  importId = made.import;
  expect(made.totals).toEqual({ in: HEADS, taken: HEADS, refused: 0, alreadyThere: 0 });
});
afterAll(() => book.close());

test('page by page everyone comes once, in order', () => {
  const seen: string[] = [];
  let after: string | undefined;
  do {
    const page = book.call('animals', after === undefined ? {} : { after });
    expect(page.total).toBe(HEADS);
    seen.push(...page.animals.map((one) => one.shown));
    after = page.next;
  } while (after !== undefined);
  expect(seen).toEqual(Array.from({ length: HEADS }, (_, i) => tag(i + 1)));
});

test('searching, finding, groups and imports agree on who is there', () => {
  expect(book.call('animals', { search: '0 123456 0099' }).total).toBe(10);
  const found = book.call('find-subject', { read: '826012345600234' });
  expect(found.found.map((one) => one.shown)).toEqual([tag(234)]);
  expect(book.call('find-subject', { read: '00234' }).found).toEqual(found.found);
  expect(book.call('subject', { subject: found.found[0]?.subject ?? '' }).who.weight).toBe('68.5 kg');
  const { groups } = book.call('groups', {});
  expect(groups.map((group) => group.heads)).toEqual(Array(10).fill(HEADS / 10));
  const group = groups[0]?.group ?? '';
  expect(book.call('group', { group }).members).toHaveLength(HEADS / 10);
  expect(book.call('animals', { group }).total).toBe(HEADS / 10);
  expect(book.call('imports', {}).imports).toMatchObject([{ import: importId, rows: HEADS }]);
});

test('a weigh-crate file of the whole flock is taken, and taken back, and so is the flock', () => {
  const rows = Array.from({ length: HEADS }, (_, i) => `${tag(i + 1)},${56 + (i % 20)},2026-04-01`);
  const file = book.file(['Tag,Weight kg,Date', ...rows].join('\n'));
  const { totals, import: weighings } = book.call('import-weighings', { file });
  expect(totals.taken).toBe(HEADS);
  expect(book.call('preview-weighings', { file }).totals.alreadyThere).toBe(HEADS);
  expect(book.call('withdraw-import', { import: weighings, reason: 'x' }).withdrawn).toBe(HEADS);
  expect(book.count('weighing')).toBe(HEADS);
  const gone = book.call('withdraw-import', { import: importId, reason: 'x' });
  expect(gone).toEqual({ withdrawn: HEADS, left: [] });
  for (const table of ['animal', 'weighing', 'flock_group', 'member']) expect(book.count(table)).toBe(0);
});
