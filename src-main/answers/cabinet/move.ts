import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import {
  type Amount,
  amountOf,
  baseOf,
  parseAmount,
  printAmount,
} from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { printUseBy, stateAt, unusableOnceOpened } from '../../../src-shared/stock/use-by.ts';
import { localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Asked, type Context, write } from '../context.ts';
import { sayLeft } from '../medicine/answers.ts';
import { happenedBy } from '../reading/flock.ts';
import { printLocal } from '../reading/labels.ts';
import { revisionOf } from '../reading/revision.ts';
import { type StockRow, stockRow } from '../reading/stock.ts';

type MoveAsk = Asked<'move-stock'>;

/**
 * When something happened to a container. On the day it came in, a day alone sorts at the end: what happens to a
 * bottle cannot come before the bottle. Refuses (`before-received`, `in-the-future`).
 */
export function happenedTo(act: Act, row: StockRow, local: string | undefined): Happened {
  const came = act.tx.get<{ at: string; local: string }>(
    "SELECT at, local FROM movement WHERE subject = ? AND cause IN ('received', 'made-up') ORDER BY at, seq LIMIT 1",
    `container:${row.id}`,
  );
  const start = happenedBy(act, undefined, 'start', local);
  if (!came || start.at >= came.at) return start;
  const end = happenedBy(act, undefined, 'end', local);
  if (end.at >= came.at) return end;
  throw new Refusal(
    'before-received',
    `${row.label} came in on ${printLocal(came.local)}, after this date.`,
    {
      field: 'happened',
      next: 'Check the date.',
    },
  );
}

/** A container that left the farm has nothing more happen to it. Refuses (`container-gone`). */
export function checkHere(row: StockRow, field = 'container'): void {
  if (row.state !== 'disposed' && row.state !== 'returned') return;
  throw new Refusal(
    'container-gone',
    `${row.label} has been ${row.state === 'disposed' ? 'disposed of' : 'returned'}.`,
    {
      field,
      next: 'If that was a mistake, strike that entry out in the book first.',
    },
  );
}

/**
 * Answers `open-container`: from now on the earlier of its expiry and its in-use life governs. An expired or
 * quarantined container that was opened is recorded as it happened; only planning refuses to use it.
 */
export function openContainer(context: Context, asked: Asked<'open-container'>): Reply<'open-container'> {
  return write<'open-container'>(context, asked, (act): Reply<'open-container'> => {
    const row = stockRow(act.tx, asked.container);
    checkHere(row);
    if (row.opened !== null) {
      throw new Refusal('already-open', `${row.label} was opened on ${printLocal(row.opened)} already.`, {
        field: 'container',
        next: 'Go on using it, or choose another container.',
      });
    }
    const happened = happenedTo(act, row, asked.happened);
    const { inUse } = revisionOf(act.tx, row.revision).terms;
    const unusableFrom = unusableOnceOpened({
      opened: happened.local,
      zone: happened.zone,
      inUse,
      unopenedUntil: row.unopened_until,
    });
    act.add(
      'container-opened',
      { container: row.id, unusableFrom, ...(inUse === undefined ? {} : { inUse }) },
      happened,
    );
    return { unusableFrom, useBy: printUseBy(unusableFrom) };
  });
}

/**
 * Answers `move-stock`: loss, disposal, return, a count, quarantine or its end, another store. Why something is set
 * aside or taken back, how it was disposed of and to whom it was returned has to be said: an inspector asks.
 */
export function moveStock(context: Context, asked: MoveAsk): Reply<'move-stock'> {
  return write<'move-stock'>(context, asked, (act): Reply<'move-stock'> => {
    const row = stockRow(act.tx, asked.container);
    checkHere(row);
    const happened = happenedTo(act, row, asked.happened);
    const piece = revisionOf(act.tx, row.revision).terms.piece;
    const now = localOf(parseInstant(act.now, 'clock'), happened.zone);
    const reply = (units: number, state: string): Reply<'move-stock'> => ({
      left: { amount: amountData(row.kind, Math.max(0, units)), text: sayLeft(row.kind, units, piece) },
      state: stateAt({ ...row, left_units: units, state }, now),
    });
    const words = {
      ...(asked.why === undefined ? {} : { why: asked.why }),
      ...(asked.how === undefined ? {} : { how: asked.how }),
      ...(asked.where === undefined ? {} : { where: asked.where }),
    };
    const base = { container: row.id, cause: asked.cause, ...words };
    checkSaid(asked);
    if (asked.cause === 'carried') {
      act.add('stock-moved', { ...base, store: otherStore(row, asked) }, happened);
      return reply(row.left_units, row.state);
    }
    if (asked.cause === 'quarantined' || asked.cause === 'released') {
      checkQuarantine(row, asked);
      act.add('stock-moved', base, happened);
      const after = asked.cause === 'quarantined' ? 'quarantined' : row.opened === null ? 'sealed' : 'open';
      return reply(row.left_units, after);
    }
    const then = balanceAt(act.tx, row, happened.at);
    const units = baseOf(amountFor(asked, row, then.before, piece));
    if (asked.cause === 'counted') {
      if (units > row.received) {
        const full = printAmount(amountOf(row.kind, row.received), piece);
        act.ask(
          'more-than-received',
          `${row.label} held ${full} when it came in. Is there really more in it?`,
          'amount',
        );
      }
      act.add('stock-moved', { ...base, amount: amountData(row.kind, units) }, happened);
      return reply(then.countedLater ? row.left_units : units + then.after, row.state);
    }
    const there = Math.max(0, then.countedLater ? then.before : Math.min(then.before, row.left_units));
    if (units > there) {
      const left = printAmount(amountOf(row.kind, there), piece);
      act.ask('more-than-left', `The book has ${left} left in ${row.label}. Was it really more?`, 'amount');
      // There was more than the book knew: that is a count, so that the balance does not go below none by a disposal.
      const found = { container: row.id, cause: 'counted' as const, why: 'There was more than the book had' };
      act.add('stock-moved', { ...found, amount: amountData(row.kind, units) }, happened);
    }
    act.add('stock-moved', { ...base, amount: amountData(row.kind, units) }, happened);
    const start = units > there ? units : then.before;
    const gone = asked.cause !== 'lost' && units >= start;
    const left = then.countedLater ? row.left_units : start - units + then.after;
    return reply(left, gone ? asked.cause : row.state);
  });
}

/** What has to be said with each, in words; the screens say the same before they send. */
const SAID: Partial<
  Record<MoveAsk['cause'], { field: 'why' | 'how' | 'where'; says: string; next: string }>
> = {
  quarantined: {
    field: 'why',
    says: 'Why: it has to be said why it is set aside.',
    next: 'Write what is wrong with it.',
  },
  released: {
    field: 'why',
    says: 'Why: it has to be said why it may be used again.',
    next: 'Write who said so, or what was found.',
  },
  disposed: {
    field: 'how',
    says: 'How: it has to be said how it was disposed of.',
    next: 'Write it as in: collected as medicine waste.',
  },
  returned: {
    field: 'where',
    says: 'To whom: it has to be said to whom it was returned.',
    next: 'Write the name of the supplier or the practice.',
  },
};

/** Refuses (`why-missing`, `how-missing`, `where-missing`). */
function checkSaid(asked: MoveAsk): void {
  const needed = SAID[asked.cause];
  if (needed === undefined || (asked[needed.field] ?? '').trim() !== '') return;
  throw new Refusal(`${needed.field}-missing`, needed.says, { field: needed.field, next: needed.next });
}

/** The store it is carried to. Refuses (`store-missing`, `same-store`, `amount-unwanted`). */
function otherStore(row: StockRow, asked: MoveAsk): string {
  const store = (asked.store ?? '').trim();
  if (asked.amount !== undefined) {
    throw new Refusal('amount-unwanted', 'A container is carried as a whole.', {
      field: 'amount',
      next: 'Leave the amount out.',
    });
  }
  if (store === '') {
    throw new Refusal('store-missing', 'Store: write where it stands from now on.', { field: 'store' });
  }
  if (row.store !== null && searchKey(row.store) === searchKey(store)) {
    throw new Refusal('same-store', `${row.label} stands in ${row.store} already.`, {
      field: 'store',
      next: 'Write the other store, or leave it where it is.',
    });
  }
  return store;
}

function checkQuarantine(row: StockRow, asked: MoveAsk): void {
  const refuse = (code: string, message: string, field: string, next: string) =>
    new Refusal(code, message, { field, next });
  if (asked.amount !== undefined) {
    throw refuse(
      'amount-unwanted',
      'Quarantine is of the whole container.',
      'amount',
      'Leave the amount out.',
    );
  }
  if (asked.cause === 'quarantined' && row.state === 'quarantined') {
    throw refuse(
      'already-quarantined',
      `${row.label} is in quarantine already.`,
      'container',
      'Nothing needs to be done.',
    );
  }
  if (asked.cause === 'released' && row.state !== 'quarantined') {
    throw refuse(
      'not-quarantined',
      `${row.label} is not in quarantine.`,
      'container',
      'Nothing needs to be done.',
    );
  }
}

/**
 * The balance when it happened, and what moved since. A later count says what was there then, whatever is written
 * about the time before it.
 */
export function balanceAt(
  tx: Reader,
  row: StockRow,
  at: string,
): { before: number; after: number; countedLater: boolean } {
  const since = tx.get<{ units: number | null; counts: number }>(
    "SELECT sum(units) AS units, count(*) FILTER (WHERE cause = 'counted') AS counts FROM movement WHERE subject = ? AND at > ?",
    `container:${row.id}`,
    at,
  );
  const after = since?.units ?? 0;
  return { before: row.left_units - after, after, countedLater: (since?.counts ?? 0) > 0 };
}

/** What was typed, held to the container's kind. A disposal or return without an amount is of all that was there. */
function amountFor(asked: MoveAsk, row: StockRow, before: number, piece: string | undefined): Amount {
  const field = 'amount';
  if (asked.amount === undefined) {
    if (asked.cause === 'disposed' || asked.cause === 'returned')
      return amountOf(row.kind, Math.max(0, before));
    throw new Refusal('amount-missing', 'Amount: write how much, with its unit.', {
      field,
      next:
        asked.cause === 'counted'
          ? 'Write what is in it now; 0 mL when it is empty.'
          : 'Write it as in 5 mL.',
    });
  }
  const amount = amountIn(asked.amount, row, piece, field);
  if (baseOf(amount) === 0 && asked.cause !== 'counted') {
    throw new Refusal('bad-amount', 'Amount: it must be above zero.', { field });
  }
  return amount;
}

/** An amount that was typed, held to the container's kind. Refuses (`units-do-not-match`, and what is no amount). */
export function amountIn(typed: string, row: StockRow, piece: string | undefined, field: string): Amount {
  const amount = parseAmount(typed, field, { piece });
  if (amount.kind !== row.kind) {
    const unit = { volume: 'mL', mass: 'g or mg', pieces: `pieces (${piece ?? 'such as bolus'})` }[row.kind];
    throw new Refusal(
      'units-do-not-match',
      `Amount: this container is measured in ${unit}, so write it so.`,
      { field },
    );
  }
  return amount;
}
