import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { baseOf } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { isOfTheVet } from '../../../src-shared/stock/of-the-vet.ts';
import { type Act, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { medicineOf } from '../reading/labels.ts';
import { revisionOf } from '../reading/revision.ts';
import { bookCurrency, priceInBook, supplyOf } from '../reading/supply.ts';
import { lineOf, type Order, orderOf } from './lists.ts';
import { filled, readAmount } from './supply.ts';

/** Answers `write-order`. It is a list on paper: nothing is sent to anybody. */
export function writeOrder(context: Context, asked: Asked<'write-order'>): Reply<'write-order'> {
  return write<'write-order'>(context, asked, (act): Reply<'write-order'> => {
    if (asked.supplier === '') {
      throw new Refusal('supplier-missing', 'Supplier: write whom it is ordered from.', {
        field: 'supplier',
      });
    }
    if (asked.lines.length === 0) {
      throw new Refusal('nothing-ordered', 'Nothing is on this list yet.', {
        field: 'lines',
        next: 'Write how many packs of at least one medicine.',
      });
    }
    const reads = lineReader(act);
    const lines = asked.lines.map(reads);
    const order = act.id();
    const number = nextNumber(act);
    act.add('order-set', {
      order,
      number,
      made: act.happened(undefined).local,
      supplier: asked.supplier,
      lines,
    });
    return { order, number };
  });
}

function nextNumber({ tx }: Act): number {
  const last = tx.get<{ last: number | null }>(
    `SELECT max(data ->> '$.number') AS last FROM record WHERE what = 'order'`,
  )?.last;
  return (last ?? 0) + 1;
}

function lineReader(act: Act) {
  const { tx } = act;
  let currency = bookCurrency(tx);
  return (asked: Asked<'write-order'>['lines'][number], i: number): Order['lines'][number] => {
    const row = medicineOf(tx, asked.medicine, `lines.${i}.medicine`);
    const { terms } = revisionOf(tx, row.revision);
    if (isOfTheVet(terms.prescription)) {
      throw new Refusal(
        'vet-decides',
        terms.prescription === 'not-stated'
          ? `${row.name}: its label on record does not say who may supply it.`
          : `${row.name} is had from a vet or on a vet’s prescription, so it goes on no order list.`,
        {
          field: `lines.${i}.medicine`,
          next:
            terms.prescription === 'not-stated'
              ? 'Write down who may supply it with its label, or ask the vet.'
              : 'Talk about it with the vet.',
        },
      );
    }
    const field = `lines.${i}.size`;
    const amount = readAmount(asked.size, field, 'Pack size', terms);
    if (baseOf(amount) === 0) {
      throw new Refusal('bad-amount', 'Pack size: a pack cannot be empty.', { field });
    }
    const typed = filled(asked.price);
    const known = supplyOf(tx, row.id, terms.piece).offers.find(
      (offer) => offer.amount.kind === amount.kind && baseOf(offer.amount) === baseOf(amount),
    )?.price;
    const price = typed === undefined ? known : priceInBook(typed, `lines.${i}.price`, currency);
    // A delivery may have come in another currency; its price is then no price of this book.
    const inBook = price !== undefined && (currency ?? price.currency) === price.currency ? price : undefined;
    currency ??= inBook?.currency;
    return {
      line: act.id(),
      medicine: row.id,
      product: row.name,
      size: asked.size,
      amount: amountData(amount.kind, baseOf(amount)),
      count: asked.count,
      ...optional('price', inBook),
    };
  };
}

/** Answers `close-order-line`. A delivery that comes all the same is still taken in. */
export function closeOrderLine(
  context: Context,
  asked: Asked<'close-order-line'>,
): Reply<'close-order-line'> {
  return write<'close-order-line'>(context, asked, (act): Reply<'close-order-line'> => {
    const order = orderOf(act.tx, asked.order);
    const { closed } = lineOf(order, asked.line);
    if (closed !== undefined) {
      throw new Refusal('already-closed', 'This line is closed already.', { field: 'line' });
    }
    const on = act.happened(undefined).local;
    act.add('order-set', {
      ...order,
      lines: order.lines.map((one) =>
        one.line === asked.line ? { ...one, closed: { on, ...optional('why', filled(asked.why)) } } : one,
      ),
    });
    return { done: true };
  });
}
