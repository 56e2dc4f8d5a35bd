import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
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
import { lifeOf, makeUp as madeUp } from '../../../src-shared/stock/made-up.ts';
import {
  compareUnusable,
  printUseBy,
  stateAt,
  unusableOnceOpened,
} from '../../../src-shared/stock/use-by.ts';
import { type Act, type Context, write } from '../context.ts';
import { sayLeft } from '../medicine/answers.ts';
import { optional } from '../optional.ts';
import { happenedBy } from '../reading/flock.ts';
import { onlyHolding } from '../reading/holding.ts';
import { type Revision, revisionOf } from '../reading/revision.ts';
import { type StockRow, stockRow } from '../reading/stock.ts';

type Taken = { row: StockRow; amount: Amount };

/**
 * Answers `make-up`: what is in the containers becomes another with a strength of its own and an end of its own, never
 * later than theirs. Refuses what cannot be made up or must not be used, by its field.
 */
export function makeUp(context: Context, asked: Asked<'make-up'>): Reply<'make-up'> {
  return write<'make-up'>(context, asked, (act): Reply<'make-up'> => {
    const happened = happenedBy(act, onlyHolding(act.tx), 'end', asked.happened);
    const rows = asked.from.map(({ container }, i) => stockRow(act.tx, container, `from.${i}.container`));
    const revision = oneInsert(act, rows);
    const { terms } = revision;
    const taken = asked.from.map(({ amount }, i) =>
      takenFrom(rows[i] as StockRow, amount, i, happened.local, terms.piece),
    );
    const water = asked.water === undefined ? undefined : parseAmount(asked.water, 'water');
    const madeUpTo = asked.madeUpTo === undefined ? undefined : parseAmount(asked.madeUpTo, 'madeUpTo');
    const made = madeUp(terms, {
      from: taken.map(({ row, amount }) => ({ amount, own: row.strength ?? undefined })),
      water,
      madeUpTo,
    });
    const life = lifeOf(terms, asked.life);
    const ends = taken.map(({ row }) => opened(act, row, terms.inUse, happened));
    const unusableFrom = unusableOnceOpened({
      opened: happened.local,
      zone: happened.zone,
      inUse: life,
      unopenedUntil: ends.reduce((first, end) => (compareUnusable(end, first) < 0 ? end : first)),
    });
    const container = act.id();
    const batch = asked.batch ?? batchesOf(rows);
    const label = asked.label ?? `Made up ${happened.local.slice(0, 10)}, ${printAmount(made.volume)}`;
    act.add(
      'container-made-up',
      {
        container,
        label,
        medicine: revision.medicine,
        revision: revision.revision,
        amount: amountData('volume', baseOf(made.volume)),
        strength: made.strength,
        unusableFrom,
        from: taken.map(({ row, amount }) => ({
          container: row.id,
          amount: amountData(amount.kind, baseOf(amount)),
        })),
        ...optional('batch', batch === '' ? undefined : batch),
        ...optional('store', asked.store),
      },
      happened,
    );
    return {
      container,
      label,
      strength: made.strength,
      volume: printAmount(made.volume),
      useBy: printUseBy(unusableFrom),
      says: made.says,
      working: printWorking(made.working),
      warnings: made.warnings,
    };
  });
}

/** The one insert they all came with. Refuses (`two-medicines`, `two-inserts`, `container-twice`, `label-draft`). */
function oneInsert(act: Act, rows: readonly StockRow[]): Revision {
  const twice = rows.findIndex((row, i) => rows.findIndex((other) => other.id === row.id) !== i);
  const other = rows.findIndex((row) => row.medicine !== rows[0]?.medicine);
  if (twice >= 0) {
    throw new Refusal('container-twice', `${rows[twice]?.label} is named twice.`, {
      field: `from.${twice}.container`,
      next: 'Write all that is taken from it in one line.',
    });
  }
  if (other >= 0) {
    throw new Refusal('two-medicines', 'Two medicines cannot be made up into one: no label speaks for it.', {
      field: `from.${other}.container`,
      next: 'Choose containers of one medicine.',
    });
  }
  const insert = rows.findIndex((row) => row.revision !== rows[0]?.revision);
  if (insert >= 0) {
    throw new Refusal('two-inserts', 'These containers came with different inserts.', {
      field: `from.${insert}.container`,
      next: 'Make up each by itself, so that its own period counts.',
    });
  }
  const revision = revisionOf(act.tx, rows[0]?.revision ?? '');
  if (revision.state === 'draft') {
    throw new Refusal('label-draft', `The label of ${revision.terms.name} is still a draft.`, {
      field: 'from',
      next: 'Have its rate, strength and meat period typed a second time under Cabinet.',
    });
  }
  return revision;
}

const BARRED: Readonly<Record<string, string>> = {
  expired: 'is past its expiry date',
  'past-in-use': 'has been open too long',
  quarantined: 'is set aside',
  disposed: 'has been disposed of',
  returned: 'has been returned',
  empty: 'is empty by the book',
};

/** What is taken from one container. Refuses what must not be used, another unit, and more than is left. */
function takenFrom(row: StockRow, text: string, i: number, local: string, piece: string | undefined): Taken {
  const barred = BARRED[stateAt(row, local)];
  if (barred !== undefined) {
    throw new Refusal('not-usable', `${row.label} ${barred}, so nothing may be made up from it.`, {
      field: `from.${i}.container`,
      next: 'Choose another container.',
    });
  }
  const field = `from.${i}.amount`;
  const amount = parseAmount(text, field, { piece });
  if (amount.kind !== row.kind) {
    const unit = { volume: 'mL', mass: 'g or mg', pieces: piece ?? 'pieces' }[row.kind];
    throw new Refusal('units-do-not-match', `Amount: ${row.label} is measured in ${unit}, so write it so.`, {
      field,
    });
  }
  if (baseOf(amount) === 0) throw new Refusal('bad-amount', 'Amount: it must be above zero.', { field });
  if (baseOf(amount) > row.left_units) {
    const left = sayLeft(row.kind, row.left_units, piece);
    throw new Refusal(
      'more-than-left',
      `The book has ${left} left in ${row.label}, not ${printAmount(amountOf(amount.kind, baseOf(amount)), piece)}.`,
      { field, next: 'If there is more in it, count it first.' },
    );
  }
  return { row, amount };
}

/** Broaches a container that was still sealed; until when what is made of it may be used at the latest. */
function opened(act: Act, row: StockRow, inUse: string | undefined, happened: Happened): string {
  if (row.opened !== null || row.state !== 'sealed') return row.unusable_from;
  const unusableFrom = unusableOnceOpened({
    opened: happened.local,
    zone: happened.zone,
    inUse,
    unopenedUntil: row.unopened_until,
  });
  act.add('container-opened', { container: row.id, unusableFrom, ...optional('inUse', inUse) }, happened);
  return unusableFrom;
}

/** The batch numbers it came from, as the treatment record shows them; no longer than the record keeps. */
function batchesOf(rows: readonly StockRow[]): string {
  const all = [...new Set(rows.map((row) => row.number))].filter((number) => number !== '').join(' + ');
  return all.length <= 40 ? all : `${all.slice(0, 37)}...`;
}
