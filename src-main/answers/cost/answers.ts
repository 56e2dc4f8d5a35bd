import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { costCalls } from '../../../src-shared/calls/cost.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Answers, type Context, write } from '../context.ts';
import { bookCurrency, priceInBook } from '../reading/supply.ts';
import { cost } from './cost.ts';
import { costPaper, costTable } from './paper.ts';

/** Answers `set-batch-price`. Refuses (`no-such-batch`, `other-currency`, `bad-price`, `bad-number`). */
function setPrice(context: Context, asked: Asked<'set-batch-price'>): Reply<'set-batch-price'> {
  return write<'set-batch-price'>(context, asked, (act) => {
    const row = act.tx.get<{ number: string }>('SELECT number FROM batch WHERE id = ?', asked.batch);
    if (row === undefined) {
      throw new Refusal('no-such-batch', 'This delivery is not in the book, or was struck out.', {
        field: 'batch',
        next: 'Look for it under Cabinet.',
      });
    }
    const { batch, price } = asked;
    act.add('batch-priced', {
      batch,
      number: row.number,
      price: priceInBook(price, 'price', bookCurrency(act.tx)),
    });
    return { done: true };
  });
}

/** What medicines cost, and prices that came after the delivery. */
export const costAnswers: Answers<keyof typeof costCalls> = {
  cost,
  'cost-paper': costPaper,
  'cost-table': costTable,
  'set-batch-price': setPrice,
};
