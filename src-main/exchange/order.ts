import type { OrderList } from '../../src-shared/calls/order-list.ts';
import { writeCsv } from './write.ts';

const HEAD = [
  'Order',
  'Date',
  'Supplier',
  'Medicine',
  'Packs',
  'Pack size',
  'Price of one',
  'Came',
  'Missing',
  'State',
];

const STATES: Readonly<Record<OrderList['lines'][number]['state'], string>> = {
  open: 'waited for',
  received: 'received',
  short: 'does not come',
};

/** An order list as comma-separated text, a line for each size of each medicine; formulas are made harmless. */
export function orderCsv({ number, made, supplier, lines }: OrderList): string {
  const rows = lines.map((line) => [
    String(number),
    made,
    supplier,
    line.product,
    String(line.count),
    line.size,
    line.price ?? '',
    line.received,
    line.missing,
    STATES[line.state],
  ]);
  return writeCsv(HEAD, rows, { bom: true });
}
