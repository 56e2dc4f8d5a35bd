import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { StockRow } from '../../../src-shared/stock/draw.ts';
import { checkRows } from '../../paper/papers.ts';
import type { StocktakePaper } from '../../paper/stocktake.ts';
import { inHand, shower } from '../cabinet/answers.ts';
import type { Answer, Context } from '../context.ts';
import { nowLocal } from '../medicine/answers.ts';
import { optional } from '../optional.ts';
import { farmHolding, farmPaperHead } from '../reading/paper-head.ts';
import { stockRows } from '../reading/stock.ts';

type Sheet = Reply<'stocktake-sheet'>;

/** A million micrograms are a gram: what came in grams is counted in grams. */
const GRAM = 1_000_000;

/** The unit a container is counted in. */
export function unitOf(row: Pick<StockRow, 'kind' | 'received'>, piece: string | undefined): string {
  if (row.kind === 'volume') return 'mL';
  if (row.kind === 'pieces') return piece ?? 'piece';
  return row.received >= GRAM ? 'g' : 'mg';
}

/** Answers `stocktake-sheet`: what is on the shelf, store by store, by medicine and number. */
export function stocktakeSheet(context: Context, asked: Asked<'stocktake-sheet'>): Sheet {
  const tx = context.store.read;
  const show = shower(tx, nowLocal(context, tx));
  const rows = stockRows(tx)
    .map((row) => ({ row, one: show(row) }))
    .filter(({ one }) => inHand(one) && (asked.store === undefined || (one.store ?? '') === asked.store))
    .map(({ row, one }) => ({
      store: one.store ?? '',
      container: one.container,
      label: one.label,
      medicine: one.medicine,
      name: one.name,
      batch: one.batch,
      useBy: one.useBy,
      state: one.state,
      received: one.received,
      left: one.left,
      isBelowNone: row.left_units < 0,
      unit: unitOf(row, one.piece),
      ...optional('piece', one.piece),
      ...optional('counted', one.counted),
    }));
  const order = (a: string, b: string) => a.localeCompare(b, 'en', { numeric: true });
  return {
    stores: [...Map.groupBy(rows, ({ store }) => store)]
      .sort(([a], [b]) => order(a, b))
      .map(([store, all]) => ({
        store,
        containers: all
          .sort((a, b) => order(a.name, b.name) || order(a.label, b.label))
          .map(({ store: _store, ...one }) => one),
      })),
  };
}

/** Answers `stocktake-paper`. */
export const stocktakePaper: Answer<'stocktake-paper'> = async (context, asked) => {
  const { stores } = stocktakeSheet(context, { store: asked.store });
  const data: StocktakePaper = {
    head: farmPaperHead(context, farmHolding(context), asked.paper),
    stores: stores.map(({ store, containers }) => ({
      store: store === '' ? 'No store is written' : store,
      rows: containers.map((one) => ({
        label: one.label,
        name: one.name,
        batch: one.batch,
        useBy: one.useBy,
        received: one.received.text,
        book: asked.showBook ? one.left.text : '',
        unit: one.unit,
      })),
    })),
    showsBook: asked.showBook,
  };
  const containers = data.stores.reduce((sum, { rows }) => sum + rows.length, 0);
  checkRows(containers);
  const bytes = await context.render({ paper: 'stocktake', data });
  return {
    paper: context.store.kept.attachments.put(bytes),
    checkCode: data.head.checkCode,
    containers,
  };
};
