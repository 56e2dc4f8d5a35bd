import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { sampleLines, sampleText } from '../../src-renderer/screens/flock/import-sample.ts';
import { bytesOf } from '../exchange/fixture.ts';
import { type FlockBook, flockBook } from './flock-book.ts';

let book: FlockBook;
beforeEach(() => {
  book = flockBook();
});
afterEach(() => book.close());

const sum = (t: { taken: number; refused: number; alreadyThere: number }) =>
  t.taken + t.refused + t.alreadyThere;
const fixture = (name: string) => book.file(bytesOf(name));
const importing = (file: { token: string }, more: object = {}) =>
  ({ holding: 'h1', standing: 'none-running', file, ...more }) as const;
const lines = (...rows: string[]) => rows.join('\r\n');
const found = (read: string) => book.call('find-subject', { read }).found;

describe('a flock file', () => {
  test.each([
    'flock-utf8.csv',
    'flock-utf8-bom.csv',
    'flock-utf16le.csv',
    'flock-utf16be.csv',
    'flock-utf16le-unmarked.csv',
    'flock-utf16be-unmarked.csv',
    'flock-windows-1252.csv',
    'flock-semicolon.csv',
    'flock-tab.csv',
    'flock-sep-line.csv',
    'flock-bar-old-mac.csv',
    'flock-chips-spaced.csv',
  ])('%s gives the same six animals, groups and weights', (name) => {
    const preview = book.call('preview-animals', { file: fixture(name) });
    expect(preview.questions).toEqual([]);
    expect(preview.totals).toEqual({ in: 6, taken: 6, refused: 0, alreadyThere: 0 });
    expect(book.count('animal')).toBe(0);
    const { totals } = book.call('import-animals', importing(fixture(name)));
    expect(totals).toEqual(preview.totals);
    expect(book.count('animal')).toBe(6);
    expect(book.count('hold')).toBe(0);
    expect(book.call('groups', {}).groups.map(({ name: called, heads }) => [called, heads])).toEqual([
      ['Clos Élanne', 2],
      ['Müllerwies', 3],
      ['Ødegård', 1],
    ]);
    expect(found('826012345600003')).toMatchObject([
      { shown: 'UK 0 123456 00003', class: 'ram', weight: '96.0 kg', weighedOn: '2026-02-15', present: true },
    ]);
  });

  test('as the screen shows one is taken line by line with no question', () => {
    const preview = book.call('preview-animals', { file: book.file(sampleText(sampleLines)) });
    expect(preview.questions).toEqual([]);
    expect(preview.totals).toEqual({ in: 3, taken: 3, refused: 0, alreadyThere: 0 });
    book.call('import-animals', importing(book.file(sampleText(sampleLines))));
    expect(found('UK 0 999999 00002')).toMatchObject([
      { class: 'ewe-lamb', sex: 'female', born: '2026-03-29', management: '18' },
    ]);
  });

  test('read a second time is all there already, and writes no entry', () => {
    book.call('import-animals', importing(fixture('flock-utf8.csv')));
    const before = book.store.head().seq;
    const again = book.call('import-animals', importing(fixture('flock-semicolon.csv')));
    expect(again.totals).toEqual({ in: 6, taken: 0, refused: 0, alreadyThere: 6 });
    expect(book.store.head().seq).toBe(before);
  });

  test('the same request is answered again and taken once', () => {
    const id = book.requestId();
    const base64 = Buffer.from(bytesOf('flock-utf8.csv')).toString('base64');
    const asked = { holding: 'h1', standing: 'none-running', file: { name: 'f.csv', base64 } } as const;
    const first = book.call('import-animals', asked, id);
    expect(book.call('import-animals', asked, id)).toEqual(first);
    expect(book.count('animal')).toBe(6);
  });

  test('with numbers spoilt by a spreadsheet loses those rows, by line and with the reason', () => {
    const { totals, refused } = book.call(
      'import-animals',
      importing(fixture('flock-spreadsheet-damage.csv')),
    );
    expect(totals.in).toBe(sum(totals));
    expect(totals.taken).toBeGreaterThan(0);
    expect(refused).toHaveLength(totals.refused);
    expect(refused[0]).toMatchObject({ line: 3, shown: '8.26012E+14', field: 'chip' });
    expect(refused[0]?.message).toContain('last digits are gone');
    expect(book.count('animal')).toBe(totals.taken);
  });

  test('with one animal on several lines refuses what contradicts and takes what repeats once', () => {
    const { totals, refused } = book.call('import-animals', importing(fixture('flock-duplicates.csv')));
    expect(totals).toEqual({ in: 7, taken: 3, refused: 4, alreadyThere: 0 });
    expect(refused.map((row) => row.line)).toEqual([3, 4, 5, 7]);
  });

  test.each([
    'flock-ragged.csv',
    'flock-no-header.csv',
    'flock-unknown-words.csv',
    'flock-ambiguous-dates.csv',
    'flock-odd-weights.csv',
  ])('%s: rows in = taken + refused + already there', (name) => {
    const { totals } = book.call('preview-animals', { file: fixture(name) });
    expect(totals.in).toBeGreaterThan(0);
    expect(sum(totals)).toBe(totals.in);
  });

  test('whose dates could be either way is not taken before somebody says which', () => {
    const preview = book.call('preview-animals', { file: fixture('flock-ambiguous-dates.csv') });
    expect(preview.questions).toMatchObject([{ code: 'ask:date-order', choices: ['dmy', 'mdy'] }]);
    expect(preview.totals.taken).toBe(0);
    const fault = book.refused('import-animals', importing(fixture('flock-ambiguous-dates.csv')));
    expect(fault).toMatchObject({ code: 'ask:date-order', field: 'options.born' });
    expect(book.count('animal')).toBe(0);
    book.call(
      'import-animals',
      importing(fixture('flock-ambiguous-dates.csv'), { options: { dateOrder: 'mdy' } }),
    );
    expect(found('UK 0 123456 00001')).toMatchObject([{ born: '2021-03-04' }]);
  });

  test('with unknown words asks for each, and takes the answers', () => {
    const text = lines(
      'Tag,Class,Sex',
      'UK 0 123456 00001,gimmer,F',
      'UK 0 123456 00002,Gimmer,F',
      'UK 0 123456 00003,theave,F',
      'UK 0 123456 00004,ewe,?',
      'UK 0 123456 00005,ewe,F',
    );
    const { questions } = book.call('preview-animals', { file: book.file(text) });
    expect(questions.map((one) => [one.code, one.word])).toEqual([
      ['ask:class', 'gimmer'],
      ['ask:class', 'theave'],
      ['ask:sex', '?'],
    ]);
    const options = {
      classWords: { gimmer: 'hogg', theave: 'refuse' },
      sexWords: { '?': 'female' },
    } as const;
    const { totals } = book.call('import-animals', importing(book.file(text), { options }));
    expect(totals).toEqual({ in: 5, taken: 4, refused: 1, alreadyThere: 0 });
    expect(found('UK 0 123456 00002')).toMatchObject([{ class: 'hogg' }]);
  });

  test('with weights no sheep has asks about 620, 6.2, 0 and -61, and not about a lamb of 6.2 kg', () => {
    const odd = ['62', '620', '6.2', '0', '-61'].map((weight, i) => `UK 0 123456 0000${i + 1},ewe,${weight}`);
    const text = lines('Tag,Class,Weight kg', ...odd, 'UK 0 123456 00006,lamb,6.2');
    const preview = book.call('preview-animals', { file: book.file(text) });
    expect(preview.questions).toMatchObject([{ code: 'ask:weight-check', lines: [3, 4, 5, 6] }]);
    expect(book.refused('import-animals', importing(book.file(text))).code).toBe('ask:weight-check');
    const sure = book.call('import-animals', importing(book.file(text), { confirmed: ['ask:weight-check'] }));
    // Nobody can say yes to a weight of nothing.
    expect(sure.totals).toEqual({ in: 6, taken: 4, refused: 2, alreadyThere: 0 });
    expect(found('UK 0 123456 00002')).toMatchObject([{ weight: '620 kg' }]);
  });

  test('with weights and no unit is not taken by habit', () => {
    const text = lines('Tag,Class,Weight', 'UK 0 123456 00001,ewe,62');
    expect(book.refused('import-animals', importing(book.file(text))).code).toBe('ask:weight-unit');
    book.call('import-animals', importing(book.file(text), { options: { weightUnit: 'lb' } }));
    expect(found('UK 0 123456 00001')).toMatchObject([{ weight: '62 lb' }]);
  });

  test('an animal that left and is in the file again is refused, with what to do', () => {
    book.call('import-animals', importing(fixture('flock-utf8.csv')));
    const [ewe] = found('826012345600001');
    book.call('depart', { subjects: [{ subject: ewe?.subject ?? '' }], how: 'sold', happened: '2026-04-01' });
    const { totals, refused } = book.call('import-animals', importing(fixture('flock-utf8.csv')));
    expect(totals).toEqual({ in: 6, taken: 0, refused: 1, alreadyThere: 5 });
    expect(refused[0]?.message).toBe(
      'UK 0 123456 00001 left on 1 Apr 2026 (sold). If it is here again, strike out that departure under Book; then its number is in use again.',
    );
  });

  test('a row whose tag and chip name two animals of the book is refused by name', () => {
    book.call('set-animal', { holding: 'h1', tag: 'UK 0 123456 00001', class: 'ewe' });
    book.call('set-animal', { holding: 'h1', chip: '982000123456789', class: 'ewe' });
    const text = lines('Tag,Chip,Class', 'UK 0 123456 00001,982000123456789,ewe');
    const { refused } = book.call('import-animals', importing(book.file(text)));
    expect(refused[0]?.message).toContain('UK 0 123456 00001 and 982 000123456789');
  });

  test('a short number used again does not hide a new animal', () => {
    book.call('set-animal', { holding: 'h1', tag: 'UK 0 123456 00001', management: '12', class: 'ewe' });
    const text = lines('Tag,Management tag,Class', 'UK 0 123456 00002,12,ewe');
    expect(book.call('import-animals', importing(book.file(text))).totals.taken).toBe(1);
    expect(found('12').map((one) => one.shown)).toEqual(['UK 0 123456 00001', 'UK 0 123456 00002']);
  });

  test('animals nobody speaks for are held for meat and milk until a statement', () => {
    book.call('import-animals', { ...importing(fixture('flock-utf8.csv')), standing: 'unknown' });
    const [ewe] = found('826012345600001');
    const { holds } = book.call('subject', { subject: ewe?.subject ?? '' });
    expect(holds.map(({ produce, state, cause }) => [produce, state, cause])).toEqual([
      ['meat', 'unknown', 'bought-in'],
      ['milk', 'unknown', 'bought-in'],
    ]);
    expect(book.count('hold')).toBe(12);
  });

  test('animals bought in are held whatever is said of the others; the holding itself is no seller', () => {
    const text = lines(
      'Tag,Class,Bought from',
      'UK 0 123456 00001,ewe,Far Invented Farm',
      'UK 0 123456 00002,ewe,upper test farm',
      'UK 0 123456 00003,ewe,99/001/0001',
      'UK 0 123456 00004,ewe,',
    );
    book.call('import-animals', importing(book.file(text)));
    const held = book.store.read.all<{ shown: string }>(
      "SELECT DISTINCT shown FROM hold JOIN animal ON hold.subject = 'animal:' || animal.id",
    );
    expect(held).toEqual([{ shown: 'UK 0 123456 00001' }]);
  });

  test('columns are overruled by the request, and -1 leaves one out', () => {
    const text = lines('Number,Other,Class', '7,UK 0 123456 00001,ewe');
    const preview = book.call('preview-animals', {
      file: book.file(text),
      columns: { management: 0, tag: -1 },
    });
    expect(preview.columns).toEqual({ management: 0, class: 2 });
    expect(preview.rows[0]?.shown).toBe('7');
  });

  test('a file that is gone, or did not come through whole, is refused', () => {
    expect(book.refused('preview-animals', { file: { token: 'gone' } }).code).toBe('file-gone');
    expect(book.refused('preview-animals', { file: { name: 'x', base64: 'VGFn*!LENsYXNz' } }).code).toBe(
      'file-unreadable',
    );
  });

  test('joins a group that is there and keeps its dates', () => {
    const dates = { ramIn: '2025-10-20', ramOut: '2025-12-01' };
    const { group } = book.call('set-group', { holding: 'h1', name: 'clos  ÉLANNE', dates });
    book.call('import-animals', importing(fixture('flock-utf8.csv')));
    const joined = book.call('group', { group });
    expect(joined.group).toMatchObject({ heads: 2, dates });
    expect(joined.members.map((one) => one.shown)).toEqual(['UK 0 123456 00001', 'UK 0 123456 00002']);
  });
});
