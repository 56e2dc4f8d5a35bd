import { Refusal } from '../../../src-shared/refusal.ts';
import type { Answer } from '../context.ts';
import { daysOf } from '../reading/days.ts';
import { holdingOf } from '../reading/holding.ts';
import { checkBalanceFilter, checkFilter } from './check-filter.ts';

/** Answers `book-paper`: the book of a period as PDFs, their bytes kept by their hash. Made beside the desk. */
export const bookPaper: Answer<'book-paper'> = async (context, asked) => {
  const { store } = context;
  holdingOf(store.read, asked.holding);
  const { work, holding, paper: size, form, ...rest } = asked;
  const { from, to } = daysOf(asked);
  const { from: _from, to: _to, ...filter } = rest;
  checkFilter(store.read, filter);
  if (form === 'medicines') checkBalanceFilter(filter);
  const input = { book: store.path, now: context.now(), holding, from, to, size, form, filter };
  const made = await context.board.run(work, (tools) => context.work('book-volumes', input, tools));
  const volumes = made.volumes.map(({ bytes, rows, name }) => ({
    paper: store.kept.attachments.put(bytes),
    rows,
    name,
  }));
  const [first] = volumes;
  if (!first) throw new Refusal('nothing-made', 'The paper has no pages.', { next: 'Make it again.' });
  return { paper: first.paper, rows: made.rows, checkCode: made.checkCode, volumes };
};
