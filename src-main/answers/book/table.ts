import { parseDay } from '../../../src-shared/time/day.ts';
import { instantOf } from '../../../src-shared/time/zone.ts';
import type { Answer } from '../context.ts';
import { holdingOf } from '../reading/holding.ts';

/** Answers `book-table`: the lines of the book as a file for a spreadsheet, which reads back without loss. */
export const bookTable: Answer<'book-table'> = async (context, asked) => {
  const { store } = context;
  const { work, holding, from, to, ...filter } = asked;
  const { zone } = holdingOf(store.read, holding);
  const input = {
    book: store.path,
    holding,
    from: instantOf(parseDay(from, 'from'), zone, 'start', 'from'),
    to: instantOf(parseDay(to, 'to'), zone, 'end', 'to'),
    filter,
  };
  const made = await context.board.run(work, (tools) => context.work('book-table', input, tools));
  return { name: `book-${from}-${to}.csv`, ...made };
};
