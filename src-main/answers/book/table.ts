import { instantOf } from '../../../src-shared/time/zone.ts';
import type { Answer } from '../context.ts';
import { daysOf } from '../reading/days.ts';
import { holdingOf } from '../reading/holding.ts';
import { checkFilter } from './check-filter.ts';

/** Answers `book-table`: the lines of the book as a file for a spreadsheet, which reads back without loss. */
export const bookTable: Answer<'book-table'> = async (context, asked) => {
  const { store } = context;
  const { work, holding, from: _from, to: _to, ...filter } = asked;
  const { from, to } = daysOf(asked);
  const { zone } = holdingOf(store.read, holding);
  checkFilter(store.read, filter);
  const input = {
    book: store.path,
    holding,
    from: instantOf(from, zone, 'start', 'from'),
    to: instantOf(to, zone, 'end', 'to'),
    filter,
  };
  const made = await context.board.run(work, (tools) => context.work('book-table', input, tools));
  return { name: `book-${from}-${to}.csv`, ...made };
};
