import type { Reply } from '../../../src-shared/calls/all.ts';
import type { cabinetCalls } from '../../../src-shared/calls/cabinet.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { compareForUse } from '../../../src-shared/stock/draw.ts';
import { lastUsableDay, printExpiry, printUseBy, stateAt } from '../../../src-shared/stock/use-by.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import type { Reader, Store } from '../../store/store.ts';
import type { Answers, Asked, Context } from '../context.ts';
import { nowLocal, sayLeft } from '../medicine/answers.ts';
import { disposalsOf } from '../reading/disposals.ts';
import { personName } from '../reading/holding.ts';
import { medicineName, printLocal, termsReader } from '../reading/labels.ts';
import { type StockRow, stockRow, stockRows } from '../reading/stock.ts';
import { subjectsOf } from '../reading/subjects.ts';
import { shelfAhead } from './ahead.ts';
import { makeUp } from './make-up.ts';
import { moveStock, openContainer } from './move.ts';
import { receiveBatch } from './receive.ts';

type Shown = Reply<'container'>['container'];
type Batch = DataOf<'batch-received'>;

/** An amount with its text. Below none it is given as none, and the text says what is missing. */
export function shownLeft(kind: StockRow['kind'], units: number, piece: string | undefined) {
  return { amount: amountData(kind, Math.max(0, units)), text: sayLeft(kind, units, piece) };
}

function batchOf(tx: Reader, id: string | null): Batch | undefined {
  if (id === null) return undefined;
  const row = tx.get<{ data: string }>('SELECT data FROM batch WHERE id = ?', id);
  return row && (JSON.parse(row.data) as Batch);
}

/** Shows containers at a local time; names and batches are read once each. */
export function shower(tx: Reader, now: string): (row: StockRow) => Shown {
  const termsOf: (revision: string) => LabelTerms | undefined = termsReader(tx);
  const names = new Map<string, string>();
  const batches = new Map<string, Batch | undefined>();
  return (row) => {
    const name = names.get(row.medicine) ?? medicineName(tx, row.medicine);
    names.set(row.medicine, name);
    const key = row.batch ?? '';
    if (!batches.has(key)) batches.set(key, batchOf(tx, row.batch));
    const batch = batches.get(key);
    const piece = termsOf(row.revision)?.piece;
    return {
      container: row.id,
      label: row.label,
      medicine: row.medicine,
      revision: row.revision,
      name,
      batch: row.number,
      batchId: row.batch,
      expiry: batch ? printExpiry(batch.expiry) : printDay(lastUsableDay(row.unopened_until)),
      received: {
        amount: amountData(row.kind, row.received),
        text: printAmount(amountOf(row.kind, row.received), piece),
      },
      left: shownLeft(row.kind, row.left_units, piece),
      state: stateAt(row, now),
      useBy: printUseBy(row.unusable_from),
      unusableFrom: row.unusable_from,
      ...(row.opened === null ? {} : { opened: printLocal(row.opened) }),
      ...(row.since_local === null ? {} : { came: row.since_local }),
      ...(row.store === null ? {} : { store: row.store }),
      ...(batch?.supplier === undefined ? {} : { supplier: batch.supplier }),
      ...(piece === undefined ? {} : { piece }),
      ...(row.strength === null ? {} : { strength: row.strength }),
      ...(row.counted === null ? {} : { counted: printLocal(row.counted) }),
    };
  };
}

function cabinet(context: Context, asked: Asked<'cabinet'>): Reply<'cabinet'> {
  const tx = context.store.read;
  const show = shower(tx, nowLocal(context, tx));
  const key = searchKey(asked.search);
  const containers = stockRows(tx, asked.medicine)
    .sort(compareForUse)
    .map(show)
    .filter(
      (one) =>
        (asked.show === 'all' || inHand(one)) &&
        [one.name, one.batch, one.label].some((text) => searchKey(text).includes(key)),
    );
  return { containers };
}

/** Still on the shelf. Below none the book is wrong and the bottle may well be there: it stays in sight until counted. */
export function inHand(one: Shown): boolean {
  if (one.state === 'empty') return one.left.text.includes('count it');
  return one.state !== 'disposed' && one.state !== 'returned';
}

type Movement = {
  at: string;
  seq: number;
  i: number;
  local: string;
  cause: string;
  units: number | undefined;
  administration: string | null;
  treated: string | null;
  note: string | null;
  by: string;
};

/** What happened to a container that moved no amount: opened, quarantined, released, carried to another store. */
function unmoved(store: Store, container: string): Movement[] {
  return store.entriesOf(`container:${container}`).flatMap((entry): Movement[] => {
    if (entry.state === 'voided') return [];
    const base = {
      at: entry.happened.at,
      seq: entry.seq,
      i: 0,
      local: entry.happened.local,
      units: undefined,
      administration: null,
      treated: null,
      by: entry.by,
    };
    if (entry.kind === 'container-opened') return [{ ...base, cause: 'opened', note: null }];
    if (entry.kind !== 'stock-moved') return [];
    const data = entry.data as DataOf<'stock-moved'>;
    if (data.cause !== 'quarantined' && data.cause !== 'released' && data.cause !== 'carried') return [];
    return [
      {
        ...base,
        cause: data.cause,
        note: [data.store, data.why, data.how, data.where].filter((part) => part).join('; ') || null,
      },
    ];
  });
}

function container(context: Context, asked: Asked<'container'>): Reply<'container'> {
  const { store } = context;
  const tx = store.read;
  const row = stockRow(tx, asked.container);
  const piece = termsReader(tx)(row.revision)?.piece;
  const moved = tx.all<Movement>(
    `SELECT m.at, m.seq, m.i, m.local, m.cause, m.units, m.administration, a.subject AS treated, m.note, m.by
     FROM movement AS m LEFT JOIN administration AS a ON a.id = m.administration WHERE m.subject = ?`,
    `container:${row.id}`,
  );
  const life = [...moved, ...unmoved(store, row.id)].sort((a, b) =>
    a.at !== b.at ? (a.at < b.at ? -1 : 1) : a.seq - b.seq || a.i - b.i,
  );
  const subjects = [...new Set(life.flatMap((one) => one.treated ?? []))];
  const names = new Map(subjectsOf(tx, subjects).map((each) => [each.subject, each.shown] as const));
  const batch = batchOf(tx, row.batch);
  let left = 0;
  const movements = life.map((one) => {
    left += one.units ?? 0;
    return {
      local: printLocal(one.local),
      cause: one.cause,
      amount: one.units === undefined ? '' : printAmount(amountOf(row.kind, one.units), piece),
      left: sayLeft(row.kind, left, piece),
      by: personName(tx, one.by),
      ...(one.administration === null ? {} : { administration: one.administration }),
      ...(one.treated === null ? {} : { to: names.get(one.treated) ?? one.treated }),
      ...(one.note === null ? {} : { note: one.note }),
    };
  });
  return {
    container: shower(tx, nowLocal(context, tx))(row),
    movements,
    ...(batch?.supplier === undefined ? {} : { supplier: batch.supplier }),
    ...(batch?.proof === undefined ? {} : { proof: batch.proof.text }),
  };
}

/** The cabinet: what came in, how each container stands, and everything that happened to it besides doses. */
export const cabinetAnswers: Answers<keyof typeof cabinetCalls> = {
  cabinet,
  'shelf-ahead': shelfAhead,
  disposals: ({ store }) => ({
    disposals: disposalsOf(store).map(({ at: _at, medicine: _medicine, ...one }) => one),
  }),
  container,
  'receive-batch': receiveBatch,
  'open-container': openContainer,
  'make-up': makeUp,
  'move-stock': moveStock,
};
