import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant, instantOf } from '../../../src-shared/time/zone.ts';
import { checkRows } from '../../paper/papers.ts';
import { MOST_ROWS } from '../../paper/parts.ts';
import type { RecordRow, TreatmentRecord } from '../../paper/treatment-record.ts';
import { clockState } from '../../store/store.ts';
import type { Answer } from '../context.ts';
import { pieceWords, revisionIn } from '../declare/lines.ts';
import { paperHead } from '../declare/paper.ts';
import { type BookItem, type BookRow, bookItems } from '../reading/book.ts';
import { holdingOf } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';

/** Answers `book-paper`: the treatment record of a period as a PDF, its bytes kept by their hash. */
export const bookPaper: Answer<'book-paper'> = async (context, asked) => {
  const { store } = context;
  const now = context.now();
  const head = store.head();
  const holding = holdingOf(store.read, asked.holding);
  const { zone } = holding;
  const items = bookItems(store.read, {
    from: instantOf(asked.from, zone, 'start', 'from'),
    to: instantOf(asked.to, zone, 'end', 'to'),
    holding: asked.holding,
    limit: MOST_ROWS + 1,
  });
  const rows = items.flatMap((item) => item.rows);
  checkRows(rows.length);
  const piece = pieceWords(store.read);
  const data: TreatmentRecord = {
    head: paperHead(store.read, holding, {
      now,
      checkCode: head.checkCode,
      size: asked.paper ?? holding.paper,
      doubted: clockState(store, now).state === 'doubted',
    }),
    from: printDay(asked.from as Day),
    to: printDay(asked.to as Day),
    rows: rows.map((row) => recordRow(row, zone)),
    totals: totalsOf(items, piece),
  };
  const job = { paper: 'treatment-record', data };
  const bytes = await context.board.run(asked.work, (tools) => context.render(job, tools));
  return { paper: store.kept.attachments.put(bytes), rows: rows.length, checkCode: head.checkCode };
};

function recordRow(row: BookRow, zone: string): RecordRow {
  const { administration, entry, local, recorded, subject, correction, route, untilAt, ...same } = row;
  const written = (at: string) => printDay(dayOf(at as Instant, zone));
  const said =
    correction &&
    (row.state === 'voided'
      ? `Struck out by ${correction.by} on ${written(correction.recorded)}: ${correction.reason}`
      : `Corrected by ${correction.by} on ${written(correction.recorded)}: ${correction.reason}. The corrected line follows.`);
  return {
    ...same,
    date: printLocal(local),
    route: route.replaceAll('-', ' '),
    ...(said === undefined ? {} : { correction: said }),
  };
}

/** Sums over what stands, in whole units, so that nothing is lost in the adding. */
export function totalsOf(
  items: readonly BookItem[],
  piece: ReturnType<typeof pieceWords>,
): TreatmentRecord['totals'] {
  const standing = items.flatMap((item) => (item.stands ? [item.stands] : []));
  const products = new Map<
    string,
    {
      product: string;
      administrations: number;
      heads: number;
      kind: 'volume' | 'mass' | 'pieces';
      units: number;
      word: string | undefined;
    }
  >();
  for (const data of standing) {
    const { kind } = data.total;
    const word = piece(revisionIn(data));
    const key = JSON.stringify([data.medicine, data.product, kind, kind === 'pieces' ? word : '']);
    const sum = products.get(key) ?? {
      product: data.product,
      administrations: 0,
      heads: 0,
      kind,
      units: 0,
      word,
    };
    products.set(key, {
      ...sum,
      administrations: sum.administrations + 1,
      heads: sum.heads + data.heads,
      units: sum.units + unitsOf(data.total),
    });
  }
  return {
    administrations: standing.length,
    heads: standing.reduce((sum, data) => sum + data.heads, 0),
    struck: items.reduce((sum, item) => sum + item.rows.filter((row) => row.state !== 'stands').length, 0),
    products: [...products.values()]
      .sort((a, b) => a.product.localeCompare(b.product, 'en'))
      .map(({ product, administrations, heads, kind, units, word }) => ({
        product,
        administrations,
        heads,
        quantity: printAmount(amountOf(kind, units), word),
      })),
  };
}
