import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { orderCsv } from '../../exchange/order.ts';
import type { OrderPaper } from '../../paper/order.ts';
import type { Answer, Context } from '../context.ts';
import { farmHolding, farmPaperHead } from '../reading/paper-head.ts';
import { orderOf, shownOrder, writerOf } from './lists.ts';

/** Answers `order-paper`. */
export const orderPaper: Answer<'order-paper'> = async (context, asked) => {
  const { store } = context;
  const order = orderOf(store.read, asked.order);
  const shown = shownOrder(store.read, order, writerOf(store, order.order));
  const data: OrderPaper = {
    head: farmPaperHead(context, farmHolding(context), asked.paper),
    number: shown.number,
    supplier: shown.supplier,
    made: shown.madeText,
    by: shown.by,
    rows: shown.lines.map((line) => ({
      product: line.product,
      count: String(line.count),
      size: line.size,
      price: line.price ?? '',
      state: line.state === 'open' && line.received === '' ? '' : line.says,
    })),
    cost: shown.cost ?? '',
    unpriced: shown.unpriced,
  };
  const bytes = await context.render({ paper: 'order', data });
  return { paper: store.kept.attachments.put(bytes), checkCode: data.head.checkCode };
};

/** Answers `order-file`. */
export function orderFile({ store }: Context, asked: Asked<'order-file'>): Reply<'order-file'> {
  const order = orderOf(store.read, asked.order);
  const shown = shownOrder(store.read, order, writerOf(store, order.order));
  return { name: `order-${shown.number}.csv`, text: orderCsv(shown) };
}
