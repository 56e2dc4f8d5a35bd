import { afterAll, beforeAll, expect, test } from 'vitest';
import { type FlockBook, flockBook } from './flock-book.ts';

/**
 * The largest flock the desk promises to be quick with. Limits are on processor time, which a busy machine changes
 * less than the clock on the wall, and several times what was measured: a query that walks the flock once for each
 * animal does not pass.
 */
const HEADS = 20_000;
let book: FlockBook;
let importId = '';
const tag = (i: number) => `UK 0 123456 ${String(i).padStart(5, '0')}`;

function timed<T>(name: string, mostMs: number, work: () => T): T {
  const [begun, before] = [performance.now(), process.cpuUsage()];
  const result = work();
  const spent = process.cpuUsage(before);
  const cpuMs = Math.round((spent.user + spent.system) / 1000);
  console.log(
    `${name}: ${cpuMs} ms of processor time, ${Math.round(performance.now() - begun)} ms on the wall`,
  );
  expect(cpuMs, name).toBeLessThan(mostMs);
  return result;
}

beforeAll(() => {
  book = flockBook();
  const rows = Array.from({ length: HEADS }, (_, i) => {
    const number = String(i + 1).padStart(5, '0');
    return `${tag(i + 1)},8260123456${number},ewe,F,2022-03-01,Field ${i % 10},${55 + (i % 20)}.5,2026-02-14`;
  });
  const text = ['Tag,EID,Class,Sex,Born,Group,Weight kg,Weighed on', ...rows].join('\n');
  const file = book.file(text);
  timed('preview', 6000, () => book.call('preview-animals', { file }));
  const made = timed('import of 20,000 rows', 15_000, () =>
    book.call('import-animals', { holding: 'h1', standing: 'none-running', file }),
  );
  importId = made.import;
  expect(made.totals).toEqual({ in: HEADS, taken: HEADS, refused: 0, alreadyThere: 0 });
}, 120_000);
afterAll(() => book.close());

test('every reading call stays quick', () => {
  const first = timed('animals, a page', 300, () => book.call('animals', {}));
  expect(first.total).toBe(HEADS);
  const late = `${tag(19_000).toLowerCase()}\tz`;
  timed('animals, a late page', 300, () => book.call('animals', { after: late }));
  const searched = timed('animals, searched', 500, () => book.call('animals', { search: '0 123456 1999' }));
  expect(searched.total).toBe(10);
  const found = timed('find by chip', 50, () => book.call('find-subject', { read: '826012345612345' }));
  expect(found.found.map((one) => one.shown)).toEqual([tag(12_345)]);
  const ends = timed('find by the end of a tag', 300, () => book.call('find-subject', { read: '12345' }));
  expect(ends.found).toHaveLength(1);
  timed('subject', 50, () => book.call('subject', { subject: found.found[0]?.subject ?? '' }));
  const { groups } = timed('groups', 1000, () => book.call('groups', {}));
  expect(groups.map((group) => group.heads)).toEqual(Array(10).fill(2000));
  timed('group', 500, () => book.call('group', { group: groups[0]?.group ?? '' }));
  timed('animals of a group', 300, () => book.call('animals', { group: groups[0]?.group ?? '' }));
  timed('imports', 1000, () => book.call('imports', {}));
});

test('a weigh-crate file of the whole flock is taken, and taken back, and so is the flock', () => {
  const rows = Array.from({ length: HEADS }, (_, i) => `${tag(i + 1)},${56 + (i % 20)},2026-04-01`);
  const file = book.file(['Tag,Weight kg,Date', ...rows].join('\n'));
  const { totals, import: weighings } = timed('import of 20,000 weighings', 15_000, () =>
    book.call('import-weighings', { file }),
  );
  expect(totals.taken).toBe(HEADS);
  const again = timed('the same weighings again', 10_000, () => book.call('preview-weighings', { file }));
  expect(again.totals.alreadyThere).toBe(HEADS);
  timed('taking the weighings back', 30_000, () =>
    book.call('withdraw-import', { import: weighings, reason: 'x' }),
  );
  const gone = timed('taking the flock back', 30_000, () =>
    book.call('withdraw-import', { import: importId, reason: 'x' }),
  );
  expect(gone).toEqual({ withdrawn: HEADS, left: [] });
  expect(book.count('animal')).toBe(0);
}, 120_000);
