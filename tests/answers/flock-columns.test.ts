import { afterEach, beforeEach, expect, test } from 'vitest';
import { type FlockBook, flockBook } from './flock-book.ts';

let book: FlockBook;
beforeEach(() => {
  book = flockBook();
});
afterEach(() => book.close());

test('a file in which no column is known to hold the number is shown with its columns, and asked about', () => {
  const file = book.file('Beast,Sort\nUK 0 123456 00001,ewe\nUK 0 123456 00002,ewe\n');
  const columns = { tag: -1, chip: -1, management: -1, class: 1 };
  const preview = book.call('preview-animals', { file, columns });
  expect(preview).toMatchObject({
    header: ['Beast', 'Sort'],
    columns: { class: 1 },
    questions: [{ code: 'ask:columns', field: 'columns.tag' }],
    totals: { in: 2, taken: 0, refused: 2, alreadyThere: 0 },
    rows: [{ line: 2, state: 'refused', waiting: true }, { line: 3 }],
  });
  const answered = book.call('preview-animals', { file, columns: { ...columns, tag: 0 } });
  expect(answered).toMatchObject({ questions: [], totals: { taken: 2 } });
  // What is only asked about while it is looked at is refused when it is to be written.
  expect(
    book.refused('import-animals', { holding: 'h1', standing: 'none-running', file, columns }),
  ).toMatchObject({
    code: 'no-identity-column',
    field: 'columns.tag',
  });
});

test('a weigh-crate file asks for its column of weights', () => {
  const file = book.file('Tag,Number\nUK 0 123456 00001,62\n');
  expect(book.call('preview-weighings', { file, columns: { weight: -1 } }).questions).toMatchObject([
    { code: 'ask:columns', field: 'columns.weight' },
  ]);
});

test('an answer about weights no sheep has is none about weights far from the last', () => {
  const numbers = ['UK 0 123456 00001', 'UK 0 123456 00002', 'UK 0 123456 00003'];
  for (const tag of numbers) {
    const { animal } = book.call('set-animal', { holding: 'h1', tag, class: 'ewe', happened: '2026-03-01' });
    book.call('weigh', {
      subject: `animal:${animal}`,
      weight: '60 kg',
      how: 'scale',
      happened: '2026-03-01',
    });
  }
  const [plain, jump, odd] = numbers;
  const file = book.file(
    `Tag,Weight kg,Date\n${plain},61,2026-04-01\n${jump},95,2026-04-01\n${odd},136,2026-04-01\n`,
  );
  const asking = (options: object) => book.call('preview-weighings', { file, options });
  expect(asking({ jumps: 'ask' }).questions.map((one) => one.code)).toContain('ask:weight-check');
  for (const oddWeights of ['take', 'refuse']) {
    expect(asking({ jumps: 'ask', oddWeights })).toMatchObject({
      questions: [{ code: 'ask:weight-jump', lines: [3] }],
      totals: { taken: 0 },
    });
  }
  expect(asking({ jumps: 'take', oddWeights: 'refuse' }).totals).toMatchObject({ taken: 2, refused: 1 });
});
