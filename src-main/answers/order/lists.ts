import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { OrderList } from '../../../src-shared/calls/order-list.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { printPrice } from '../../../src-shared/stock/price.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { recordOf } from '../reading/holding.ts';
import { type MedicineRow, printLocal, termsReader } from '../reading/labels.ts';

export type Order = DataOf<'order-set'>;
type OrderLine = Order['lines'][number];
type Batch = DataOf<'batch-received'>;
type Came = { batch: string; number: string; on: string; units: number; text: string };

/** An order list. Refuses (`no-such-order`). */
export function orderOf(tx: Reader, id: string): Order {
  const found = recordOf<Order>(tx, 'order', id);
  if (found) return found;
  throw new Refusal('no-such-order', 'This order list is not in the book.', {
    field: 'order',
    next: 'Look for it under Order.',
  });
}

/** A line of an order list. Refuses (`no-such-line`). */
export function lineOf(order: Order, id: string): OrderLine {
  const found = order.lines.find(({ line }) => line === id);
  if (found) return found;
  throw new Refusal('no-such-line', `Order ${order.number} has no such line.`, { field: 'line' });
}

/** What came on each line of an order, by line, in the order it came. */
function cameOn(tx: Reader, order: string): Map<string, Came[]> {
  const rows = tx.all<{ id: string; number: string; received: string; data: string }>(
    `SELECT id, number, received, data FROM batch WHERE data ->> '$.order.order' = ? ORDER BY received, seq`,
    order,
  );
  const came = new Map<string, Came[]>();
  for (const { id, number, received, data } of rows) {
    const batch = JSON.parse(data) as Batch;
    const line = batch.order?.line ?? '';
    const units = batch.containers.reduce((sum, { amount }) => sum + unitsOf(amount), 0);
    const sizes = Map.groupBy(batch.containers, ({ amount }) => unitsOf(amount));
    const kind = batch.containers[0]?.amount.kind ?? 'volume';
    const text = [...sizes].map(([size, all]) => `${all.length} × ${printAmount(amountOf(kind, size))}`);
    came.set(line, [
      ...(came.get(line) ?? []),
      { batch: id, number, on: printLocal(received), units, text: listed(text) },
    ]);
  }
  return came;
}

type ShownLine = OrderList['lines'][number];

function shownLine(one: OrderLine, came: readonly Came[], piece: string | undefined): ShownLine {
  const say = (units: number) => printAmount(amountOf(one.amount.kind, units), piece);
  const ordered = unitsOf(one.amount) * one.count;
  const received = came.reduce((sum, { units }) => sum + units, 0);
  const missing = Math.max(0, ordered - received);
  const state = missing === 0 ? 'received' : one.closed ? 'short' : 'open';
  return {
    line: one.line,
    medicine: one.medicine,
    product: one.product,
    size: one.size,
    count: one.count,
    ...optional('price', one.price && printPrice(one.price)),
    state,
    says: sayLine(one, state, { received, missing, say }),
    ordered: `${one.count} × ${one.size}`,
    received: received === 0 ? '' : say(received),
    missing: missing === 0 ? '' : say(missing),
    packsOpen: Math.ceil(missing / unitsOf(one.amount)),
    deliveries: came.map(({ units: _units, ...each }) => each),
  };
}

function sayLine(
  { closed }: OrderLine,
  state: ShownLine['state'],
  { received, missing, say }: { received: number; missing: number; say: (units: number) => string },
): string {
  if (state === 'received') return 'All of it came.';
  const part = received === 0 ? 'Nothing of it came' : `${say(received)} came`;
  if (state === 'open') return received === 0 ? 'Waited for.' : `${part}, ${say(missing)} is waited for.`;
  const why = closed?.why === undefined ? '' : `: ${closed.why}`;
  const on = closed === undefined ? '' : ` Closed on ${printLocal(closed.on)}${why}.`;
  return `${part}; ${say(missing)} does not come.${on}`;
}

/** An order list as it stands. */
export function shownOrder(tx: Reader, order: Order, by: string): OrderList {
  const came = cameOn(tx, order.order);
  const pieceOf = pieces(tx);
  const lines = order.lines.map((one) => shownLine(one, came.get(one.line) ?? [], pieceOf(one.medicine)));
  const priced = order.lines.flatMap(({ price, count }) => (price === undefined ? [] : [{ price, count }]));
  const [first] = priced;
  const sum = priced.reduce((all, { price, count }) => all + price.minorUnits * count, 0);
  const made = order.made.slice(0, 10) as Day;
  return {
    order: order.order,
    number: order.number,
    supplier: order.supplier,
    made,
    madeText: printDay(made),
    by,
    state: lines.some(({ state }) => state === 'open') ? 'open' : 'done',
    lines,
    ...optional('cost', first && printPrice({ minorUnits: sum, currency: first.price.currency })),
    unpriced: order.lines.length - priced.length,
  };
}

function pieces(tx: Reader): (medicine: string) => string | undefined {
  const read = termsReader(tx);
  return (medicine) => {
    const row = tx.get<{ revision: string }>('SELECT revision FROM medicine WHERE id = ?', medicine);
    return row && read(row.revision)?.piece;
  };
}

function allOrders(tx: Reader): { order: Order; seq: number }[] {
  return tx
    .all<{ data: string; seq: number }>(`SELECT data, seq FROM record WHERE what = 'order'`)
    .map(({ data, seq }) => ({ order: JSON.parse(data) as Order, seq }))
    .toSorted((a, b) => b.order.number - a.order.number);
}

/** Answers `orders`. */
export function orders({ store }: Context, asked: Asked<'orders'>): Reply<'orders'> {
  const tx = store.read;
  const some =
    asked.order === undefined ? allOrders(tx).map(({ order }) => order) : [orderOf(tx, asked.order)];
  return {
    orders: some
      .map((order) => shownOrder(tx, order, writerOf(store, order.order)))
      .filter(({ state }) => asked.order !== undefined || asked.show === 'all' || state === 'open'),
  };
}

/** Who wrote it first. */
export function writerOf(store: Context['store'], order: string): string {
  const by = store.entriesOf(`order:${order}`)[0]?.by;
  return by === undefined ? '' : (recordOf<{ name: string }>(store.read, 'person', by)?.name ?? by);
}

/** What of a medicine is ordered and waited for: base units, and in words. */
export function comingOf(
  tx: Reader,
  medicine: string,
  kind: MedicineRow['kind'],
): { units: number; text: string } | undefined {
  let units = 0;
  const texts: string[] = [];
  for (const { order } of allOrders(tx)) {
    const own = order.lines.filter((one) => one.medicine === medicine && one.closed === undefined);
    if (own.length === 0) continue;
    const came = cameOn(tx, order.order);
    for (const one of own) {
      if (one.amount.kind !== kind) continue;
      const received = (came.get(one.line) ?? []).reduce((sum, each) => sum + each.units, 0);
      const missing = unitsOf(one.amount) * one.count - received;
      if (missing <= 0) continue;
      units += missing;
      texts.push(
        `${printAmount(amountOf(kind, missing))} from ${order.supplier}, order ${order.number} of ${printDay(order.made.slice(0, 10) as Day)}`,
      );
    }
  }
  return units === 0 ? undefined : { units, text: listed(texts) };
}
