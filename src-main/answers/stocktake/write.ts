import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { type Amount, amountOf, baseOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { DIFFERENCE_WORDS } from '../../../src-shared/stock/differences.ts';
import type { Warning } from '../../../src-shared/working.ts';
import { amountIn, balanceAt, checkHere, happenedTo } from '../cabinet/move.ts';
import { type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { medicineName } from '../reading/labels.ts';
import { revisionOf } from '../reading/revision.ts';
import { type StockRow, stockRow } from '../reading/stock.ts';

/**
 * Answers `write-stocktake`: one counted movement for each container, all or none. A count that differs from the book
 * needs its cause. Fields are named `amount.CONTAINER` and `difference.CONTAINER`, whatever their order.
 * Refuses `counted-twice`, `difference-missing`, and what a single count refuses.
 */
export function writeStocktake(context: Context, asked: Asked<'write-stocktake'>): Reply<'write-stocktake'> {
  return write<'write-stocktake'>(context, asked, (act) => {
    const seen = new Set<string>();
    const over: string[] = [];
    const warnings: Warning[] = [];
    let differed = 0;
    for (const { container, amount, difference, note } of asked.counts) {
      const field = `amount.${container}`;
      const row = stockRow(act.tx, container, field);
      if (seen.has(container)) {
        throw new Refusal('counted-twice', `${row.label} is in this stocktake twice.`, {
          field,
          next: 'Leave one of the two out.',
        });
      }
      seen.add(container);
      checkHere(row, field);
      const happened = happenedTo(act, row, asked.happened);
      const piece = revisionOf(act.tx, row.revision).terms.piece;
      const units = baseOf(countedIn(amount, row, piece, field));
      const book = balanceAt(act.tx, row, happened.at).before;
      const apart = units - book;
      if (apart !== 0 && difference === undefined) {
        const size = printAmount(amountOf(row.kind, Math.abs(apart)), piece);
        throw new Refusal(
          'difference-missing',
          `${row.label}: ${size} ${apart < 0 ? 'less' : 'more'} is there than the book has.`,
          { field: `difference.${container}`, next: 'Say why, or that nobody knows.' },
        );
      }
      if (units > row.received) over.push(row.label);
      if (apart !== 0) differed += 1;
      if (apart < 0 && difference === 'not-written') {
        const size = printAmount(amountOf(row.kind, -apart), piece);
        warnings.push({
          code: 'treatment-missing',
          text: `${size} of ${medicineName(act.tx, row.medicine)} (${row.label}) went into animals and is not written down: write those treatments, because until then nothing holds them`,
        });
      }
      const why =
        apart === 0 || difference === undefined
          ? note
          : [DIFFERENCE_WORDS[difference], note].filter((text) => text !== undefined).join(': ');
      act.add(
        'stock-moved',
        {
          container,
          cause: 'counted',
          amount: amountData(row.kind, units),
          ...optional('why', why),
          ...(apart === 0 ? {} : optional('difference', difference)),
        },
        happened,
      );
    }
    if (over.length > 0) {
      act.ask(
        'more-than-received',
        `More was counted than came in with ${over.slice(0, 5).join(', ')}${over.length > 5 ? ` and ${over.length - 5} more` : ''}. Is there really more?`,
        `amount.${asked.counts[0]?.container ?? ''}`,
      );
    }
    return { counted: asked.counts.length, differed, warnings };
  });
}

/** The amount of one of many: what is wrong with it is said of its container. */
function countedIn(typed: string, row: StockRow, piece: string | undefined, field: string): Amount {
  try {
    return amountIn(typed, row, piece, 'amount');
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    throw new Refusal(thrown.code, thrown.message.replace(/^Amount/, row.label), {
      field,
      next: thrown.next,
    });
  }
}
