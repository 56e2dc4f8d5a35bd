import { holdsOn, PRESENT } from '../../src-main/answers/reading/holds.ts';
import type { Reader, Store } from '../../src-main/store/store.ts';
import { bars } from '../../src-shared/withdrawal/verdict.ts';
import type { Line } from './facts.ts';
import type { Model } from './model.ts';

/** What the book answers, read once: balances, who is there, and every hold that bears on whom. */
export type BookAnswers = {
  balances: Map<string, bigint>;
  /** Sum of the movements of each container. */
  sums: Map<string, bigint>;
  /** The same by what moved it, of containers that came in: "container cause". */
  byCause: Map<string, bigint>;
  /** The store each container stands in; empty where none is written. */
  stores: Map<string, string>;
  present: Map<string, number>;
  holds: Map<string, ReturnType<typeof holdsOn>>;
};

export function linesOf(store: Store): Line[] {
  return store.read
    .all<{ line: string }>('SELECT line FROM journal ORDER BY seq')
    .map(({ line }) => JSON.parse(line) as Line);
}

export function answersOf(read: Reader): BookAnswers {
  const numbers = (sql: string) =>
    new Map(read.all<{ id: string; n: number }>(sql).map(({ id, n }) => [id, BigInt(n)] as const));
  const present = new Map<string, number>(read.all<{ s: string }>(PRESENT).map(({ s }) => [s, 1] as const));
  for (const { s, n } of read.all<{ s: string; n: number }>(
    "SELECT 'lot:' || id AS s, heads AS n FROM lot WHERE heads > 0",
  )) {
    present.set(s, n);
  }
  const holds = new Map([...present.keys()].map((subject) => [subject, [] as ReturnType<typeof holdsOn>]));
  for (const row of holdsOn(read, 'present')) holds.get(row.subject)?.push(row);
  return {
    balances: numbers('SELECT id, left_units AS n FROM container'),
    sums: numbers('SELECT substr(subject, 11) AS id, sum(units) AS n FROM movement GROUP BY subject'),
    byCause: numbers(
      `SELECT c.id || ' ' || m.cause AS id, sum(m.units) AS n FROM movement AS m JOIN container AS c ON c.subject = m.subject
       GROUP BY m.subject, m.cause`,
    ),
    stores: new Map(
      read
        .all<{ id: string; store: string | null }>('SELECT id, store FROM container')
        .map(({ id, store }) => [id, store ?? '']),
    ),
    present,
    holds,
  };
}

const iso = (at: number) => (Number.isFinite(at) ? new Date(at).toISOString() : 'never');

/** Somebody may carry one thing twice, of its own and of its dam: the longer counts. "never" sorts after every instant. */
function longer(said: Map<string, string>, key: string, text: string): void {
  const before = said.get(key);
  if (before === undefined || text > before) said.set(key, text);
}

function heldAs(rows: ReturnType<typeof holdsOn>): Map<string, string> {
  const said = new Map<string, string>();
  for (const row of rows) {
    if (row.state === 'none') continue;
    const byTime = (row.state === 'until' || row.state === 'dormant') && row.until !== null;
    longer(
      said,
      `${row.source} on ${row.on_subject} ${row.produce} ${row.market} ${row.clock}`,
      `${row.from_at} to ${byTime ? row.until : 'never'}`,
    );
  }
  return said;
}

function mapsDiffer<T>(
  what: string,
  book: ReadonlyMap<string, T>,
  model: ReadonlyMap<string, T>,
): string | undefined {
  for (const key of new Set([...book.keys(), ...model.keys()])) {
    const [here, there] = [book.get(key), model.get(key)];
    if (here !== there) return `${what} ${key}: the book says ${String(here)}, the model ${String(there)}`;
  }
  return undefined;
}

/** The first thing on which book and model do not agree, in words; nothing when they agree on everything. */
export function difference(book: BookAnswers, model: Model): string | undefined {
  const found =
    mapsDiffer('left in', book.balances, model.balances) ??
    mapsDiffer('moved in', book.byCause, model.byCause) ??
    mapsDiffer('stands in', book.stores, model.stores) ??
    mapsDiffer('heads of', book.present, model.present);
  if (found !== undefined) return found;
  for (const [subject, rows] of book.holds) {
    const mine = model.bars.get(subject) ?? [];
    const said = new Map<string, string>();
    for (const bar of mine) {
      longer(
        said,
        `${bar.source} on ${bar.put} ${bar.produce} ${bar.market} ${bar.clock}`,
        `${iso(bar.from)} to ${iso(bar.clear)}`,
      );
    }
    const other =
      mapsDiffer(`${subject} held by`, heldAs(rows), said) ?? verdictsDiffer(subject, rows, model);
    if (other !== undefined) return other;
  }
  return undefined;
}

/** Asks both about every produce a millisecond before, at and after each instant at which anything begins or ends. */
function verdictsDiffer(subject: string, rows: ReturnType<typeof holdsOn>, model: Model): string | undefined {
  const instants = new Set<number>();
  for (const bar of model.bars.get(subject) ?? []) instants.add(bar.from).add(bar.clear);
  for (const row of rows)
    instants.add(Date.parse(row.from_at)).add(row.until === null ? Number.NaN : Date.parse(row.until));
  for (const instant of instants) {
    if (!Number.isFinite(instant)) continue;
    for (const at of [instant - 1, instant, instant + 1]) {
      for (const produce of ['meat', 'milk', 'wool-harvest', 'wool-handling']) {
        const book = !rows.some((row) => bars(row, produce, iso(at)));
        if (book === model.mayTake(subject, produce, at)) continue;
        return `${subject}, ${produce} at ${iso(at)}: the book says ${book ? 'may be taken' : 'held'}, the model the opposite`;
      }
    }
  }
  return undefined;
}
