import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { printExpiry, stateAt } from '../../../src-shared/stock/use-by.ts';
import type { Context } from '../context.ts';
import { pieceWords, revisionIn } from '../declare/lines.ts';
import { nowLocal, sayLeft } from '../medicine/answers.ts';
import { optional } from '../optional.ts';
import { medicineName, printLocal, termsReader } from '../reading/labels.ts';
import type { StockRow } from '../reading/stock.ts';
import { subjectsOf } from '../reading/subjects.ts';
import { quantityText } from '../treat/core.ts';
import { type BatchAsked, batchAsked, containersOf, givenFromElsewhere } from './batch.ts';
import { whereNow } from './where-now.ts';

type Recall = Reply<'recall'>;
type Held = { row: StockRow; isMadeUp: boolean };
/** One dose of the batch, or a session that may have given one. */
type Dose = {
  administration?: string;
  subject: string;
  heads: number;
  at: string;
  local: string;
  amount: string;
  from: string;
  session: string | null;
};

/**
 * Answers `recall`: everything the book knows of one batch. It follows what was made up from it, heads that moved to
 * other lots since, and doses of the same number out of other people's bottles.
 */
export function recall(context: Context, asked: Asked<'recall'>): Recall {
  const { store } = context;
  const tx = store.read;
  const batch = batchAsked(tx, asked);
  const held = containersOf(store, batch);
  const piece = pieceOf(context, held);
  const now = nowLocal(context, tx);
  const doses = [...dosesFrom(context, held, piece), ...dosesElsewhere(context, batch)];
  const got = whoGot(context, [...doses, ...possibly(context, doses)]);
  const first = batch.deliveries[0];
  const reply = {
    number: batch.number,
    medicine: batch.medicine,
    name: medicineName(tx, batch.medicine),
    ...optional('batch', first?.id),
    deliveries: batch.deliveries.map(({ id, received, data }) => ({
      batch: id,
      received: printLocal(received),
      expiry: printExpiry(data.expiry),
      ...optional('supplier', data.supplier),
      ...optional('proof', data.proof?.text),
      containers: data.containers.length,
    })),
    balance: balanceOf(context, held, piece),
    containers: held.map(({ row, isMadeUp }) => ({
      container: row.id,
      label: row.label,
      left: {
        amount: amountData(row.kind, Math.max(0, row.left_units)),
        text: sayLeft(row.kind, row.left_units, piece(row)),
      },
      state: stateAt(row, now),
      ...optional('store', row.store ?? undefined),
      isMadeUp,
    })),
    got,
  };
  return { ...reply, says: sayRecall(reply) };
}

type PieceOf = (row: StockRow) => string | undefined;

function pieceOf({ store }: Context, held: readonly Held[]): PieceOf {
  const terms = termsReader(store.read);
  const known = new Map(held.map(({ row }) => [row.revision, terms(row.revision)?.piece]));
  return (row) => known.get(row.revision);
}

const CAUSES: readonly { cause: string; word: string }[] = [
  { cause: 'received', word: 'Came in' },
  { cause: 'drawn', word: 'Given' },
  { cause: 'used-to-make', word: 'Made up with water' },
  { cause: 'lost', word: 'Lost' },
  { cause: 'disposed', word: 'Disposed of' },
  { cause: 'returned', word: 'Returned' },
  { cause: 'counted', word: 'Put right by counting' },
];

/** Sums of the movements of what was delivered, by cause; what was made up from it stands under its own containers. */
function balanceOf({ store }: Context, held: readonly Held[], piece: PieceOf): Recall['balance'] {
  const own = held.filter(({ isMadeUp }) => !isMadeUp).map(({ row }) => row);
  return [...Map.groupBy(own, (row) => row.kind).entries()].flatMap(([kind, rows]) => {
    const sums = new Map(
      store.read
        .all<{ cause: string; units: number }>(
          `SELECT cause, sum(units) AS units FROM movement WHERE subject IN (SELECT value FROM json_each(?))
           GROUP BY cause`,
          JSON.stringify(rows.map((row) => `container:${row.id}`)),
        )
        .map(({ cause, units }) => [cause, units]),
    );
    const word = rows[0] && piece(rows[0]);
    const left = rows.reduce((sum, row) => sum + row.left_units, 0);
    return [
      ...CAUSES.flatMap(({ cause, word: says }) => {
        const units = sums.get(cause);
        if (units === undefined || (units === 0 && cause !== 'received')) return [];
        const size = printAmount(amountOf(kind, Math.abs(units)), word);
        const sign = cause !== 'counted' ? '' : units > 0 ? '+' : '−';
        return [{ cause: says, text: `${sign}${size}` }];
      }),
      { cause: 'Left', text: sayLeft(kind, left, word) },
    ];
  });
}

/** Doses out of our own containers of this batch, with what of it went into each. */
function dosesFrom({ store }: Context, held: readonly Held[], piece: PieceOf): Dose[] {
  const byId = new Map(held.map(({ row }) => [`container:${row.id}`, row]));
  const rows = store.read.all<Omit<Dose, 'amount' | 'from'> & { container: string; units: number }>(
    `SELECT a.id AS administration, a.subject, a.heads, a.at, a.local, a.session, m.subject AS container, sum(m.units) AS units
     FROM movement AS m JOIN administration AS a ON a.id = m.administration
     WHERE m.cause = 'drawn' AND m.subject IN (SELECT value FROM json_each(?))
     GROUP BY a.id, m.subject ORDER BY a.at, a.seq`,
    JSON.stringify([...byId.keys()]),
  );
  return rows.flatMap(({ container, units, ...dose }) => {
    const row = byId.get(container);
    if (row === undefined) return [];
    return [{ ...dose, amount: printAmount(amountOf(row.kind, -units), piece(row)), from: row.label }];
  });
}

const WHOSE: Readonly<Record<string, string>> = {
  vet: 'the vet’s bottle',
  contractor: 'a contractor’s bottle',
  'earlier-keeper': 'an earlier keeper’s bottle',
};

/** Doses of this number out of other people's bottles. */
function dosesElsewhere({ store }: Context, batch: BatchAsked): Dose[] {
  const key = searchKey(batch.number);
  const piece = pieceWords(store.read);
  return givenFromElsewhere(store.read, batch.medicine)
    .filter(({ number }) => searchKey(number) === key)
    .flatMap(({ id, from }) => {
      const row = store.read.get<Omit<Dose, 'amount' | 'from'> & { data: string }>(
        'SELECT id AS administration, subject, heads, at, local, session, data FROM administration WHERE id = ?',
        id,
      );
      if (row === undefined) return [];
      const { data: text, ...dose } = row;
      const data = JSON.parse(text) as DataOf<'administered'>;
      return [{ ...dose, amount: quantityText(data, piece(revisionIn(data))), from: WHOSE[from] ?? from }];
    });
}

/** Who went through a session that used the batch without a record: whoever may have been treated counts as treated. */
function possibly({ store }: Context, doses: readonly Dose[]): Dose[] {
  const sessions = new Set(doses.flatMap(({ session }) => session ?? []));
  if (sessions.size === 0) return [];
  const of = new Set(
    store.read
      .all<{ key: string }>(
        `SELECT DISTINCT subject || ' ' || line AS key FROM session_done
         WHERE administration IN (SELECT value FROM json_each(?))`,
        JSON.stringify(doses.flatMap(({ administration }) => administration ?? [])),
      )
      .map(({ key }) => key),
  );
  const subjects = store.read.all<{ subject: string }>(
    "SELECT DISTINCT subject FROM hold WHERE cause = 'possibly-treated' AND state <> 'none'",
  );
  return subjects.flatMap(({ subject }) =>
    store.entriesOf(subject).flatMap((entry): Dose[] => {
      if (entry.kind !== 'held' || entry.state === 'voided') return [];
      const { cause, session, hold, lines } = entry.data as DataOf<'held'>;
      if (cause !== 'possibly-treated' || session === undefined || !sessions.has(session)) return [];
      // With another medicine of that work; an older book does not say with which.
      if (lines !== undefined && !lines.some((line) => of.has(`session:${session} ${line}`))) return [];
      const stands = store.read.get(
        "SELECT 1 FROM hold WHERE subject = ? AND source = ? AND state <> 'none' LIMIT 1",
        subject,
        `hold:${hold}`,
      );
      if (stands === undefined) return [];
      const { at, local } = entry.happened;
      return [{ subject, heads: 0, at, local, amount: '', from: 'may have been treated', session: null }];
    }),
  );
}

function whoGot(context: Context, doses: readonly Dose[]): Recall['got'] {
  const bySubject = Map.groupBy(
    doses.toSorted((a, b) => (a.at < b.at ? -1 : Number(a.at > b.at))),
    ({ subject }) => subject,
  );
  const since = new Map([...bySubject].map(([subject, all]) => [subject, all[0]?.at ?? '']));
  const places = whereNow(context, since);
  const rows = new Map(
    subjectsOf(context.store.read, [...bySubject.keys()]).map((row) => [row.subject, row]),
  );
  return [...bySubject].map(([subject, all]) => {
    const row = rows.get(subject);
    return {
      subject,
      shown: row?.shown ?? subject,
      class: row?.class ?? '',
      heads: Math.max(...all.map(({ heads }) => heads)) || (row?.heads ?? 0),
      isPossible: all.every(({ administration }) => administration === undefined),
      given: all.map(({ administration, local, amount, from }) => ({
        ...optional('administration', administration),
        local: printLocal(local),
        amount,
        from,
      })),
      now: places.get(subject) ?? [],
    };
  });
}

function sayRecall({ got, containers }: Pick<Recall, 'got' | 'containers'>): string[] {
  const isLeft = (one: Recall['containers'][number]) =>
    one.state !== 'disposed' && one.state !== 'returned' && one.state !== 'empty';
  const left = containers.filter(isLeft).length;
  const heads = got.reduce((sum, one) => sum + one.heads, 0);
  const gone = got.filter(({ now }) => now.length > 0 && now.every(({ isHere }) => !isHere)).length;
  const parted = got.filter(
    ({ now }) => now.some(({ isHere }) => isHere) && now.some(({ says }) => says.includes(' on ')),
  ).length;
  return [
    left === 0
      ? 'Nothing of it is left here.'
      : `${left} ${left === 1 ? 'container' : 'containers'} of it ${left === 1 ? 'is' : 'are'} still here.`,
    heads === 0 ? 'No treatment with it is in the book.' : `${heads} head got it or may have got it.`,
    ...(gone === 0
      ? []
      : [`${gone} of these ${gone === 1 ? 'animals or lots has' : 'animals and lots have'} left.`]),
    ...(parted === 0 ? [] : [`From ${parted} more some heads have left.`]),
  ];
}
