import type { z } from 'zod';
import type { bookRow } from '../../../src-shared/calls/book.ts';
import { administered } from '../../../src-shared/entries/administered.ts';
import type { Entry } from '../../../src-shared/entries/kind.ts';
import { type HoldDecision, unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { printWeight } from '../../../src-shared/quantity/weight.ts';
import { printExpiry } from '../../../src-shared/stock/use-by.ts';
import type { Reader } from '../../store/store.ts';
import { batchesIn, pieceWords, printAt, revisionIn } from '../declare/lines.ts';
import type { Administered } from '../treat/core.ts';
import { holdingOf, personName } from './holding.ts';
import { holdsOn } from './holds.ts';
import { untilText } from './say-hold.ts';
import { subjectsOf } from './subjects.ts';
import { versionsOf } from './versions.ts';

export type BookRow = z.output<typeof bookRow>;

/** One version of an administration; `no` is the number of the entry that wrote it. */
export type BookVersion = {
  row: BookRow;
  data: Administered;
  no: number;
  written: string;
  writtenBy: string;
};

/** One administration in the book with every version of it: the struck ones first, in the order they were written. */
export type BookItem = {
  seq: number;
  at: string;
  rows: BookRow[];
  /** The same rows, each with its content and with who wrote it when. */
  versions: BookVersion[];
  /** What stands, for totals; nothing when it is struck out. */
  stands: Administered | undefined;
  /** What it said last: what stands, or what was struck out. */
  last: Administered | undefined;
};

type HoldFacts = Pick<HoldDecision, 'produce' | 'market' | 'clock' | 'state'> & {
  until: string | null;
  event: string | null;
  period: string | null;
  says: string;
  wakes: string | null;
};

type Found = {
  seq: number;
  at: string;
  local: string | null;
  data: string | null;
  holds: string | null;
  line: string;
  corrected: number;
};

/** Which part of the book: instants, the first included and the last not. */
export type BookRange = {
  from: string;
  to: string;
  holding?: string | undefined;
  medicine?: string | undefined;
  /** The last item before these, as `cursorOf` gave it. */
  after?: { at: string; seq: number } | undefined;
  limit: number;
};

/**
 * When a treatment that was struck out had happened: looked for with the one who had it, which is at once; only of one
 * that was first corrected to another is the whole list read.
 */
const STRUCK_AT = `coalesce(
  (SELECT at FROM subject_entry WHERE subject = journal.line ->> '$.data.subject' AND subject_entry.seq = journal.seq),
  (SELECT at FROM subject_entry WHERE subject_entry.seq = journal.seq LIMIT 1))`;

/** What is read of each administration on a page of (seq, id, at). */
const ITEM = `SELECT page.seq, page.at, a.local, a.data, journal.line,
       (SELECT json_group_array(json_object('produce', produce, 'market', market, 'clock', clock, 'state', state,
          'until', until, 'event', event, 'period', period,
          'says', hold.data ->> '$.says', 'wakes', hold.data ->> '$.wakes'))
        FROM hold WHERE hold.subject = a.subject AND hold.source = 'administration:' || a.id) AS holds,
       EXISTS (SELECT 1 FROM correction WHERE target = page.seq) AS corrected
     FROM page JOIN journal ON journal.seq = page.seq LEFT JOIN administration AS a ON a.id = page.id`;

/** One administration by the number of the entry that wrote it; nothing when that entry is no treatment. */
export function bookItem(tx: Reader, seq: number): BookItem | undefined {
  const [row] = tx.all<Found>(
    `WITH page AS (
       SELECT journal.seq, a.id, coalesce(a.at, '') AS at
       FROM journal LEFT JOIN administration AS a ON a.seq = journal.seq
       WHERE journal.seq = ? AND journal.line ->> '$.kind' = 'administered'
     ) ${ITEM}`,
    seq,
  );
  return row && itemOf(tx, row, sayer(tx));
}

/**
 * Administrations in the order they happened, from the tables for reading; a corrected one also from the journal,
 * with all its versions together at the time that counts now. Keyset paged: a page costs the same wherever it is.
 */
export function bookItems(tx: Reader, range: BookRange): BookItem[] {
  const { from, to, limit } = range;
  const after = range.after ?? { at: '', seq: 0 };
  const filter = [
    'at >= ? AND at < ? AND (at, seq) > (?, ?)',
    ...(range.holding === undefined ? [] : ['holding = ?']),
    ...(range.medicine === undefined ? [] : ['medicine = ?']),
  ].join(' AND ');
  const asked = [from, to, after.at, after.seq, range.holding, range.medicine].filter(
    (each) => each !== undefined,
  );
  const rows = tx.all<Found>(
    `WITH struck AS (
       SELECT journal.seq, NULL AS id, journal.line ->> '$.data.holding' AS holding,
         journal.line ->> '$.data.medicine' AS medicine,
         ${STRUCK_AT} AS at
       FROM correction JOIN journal ON journal.seq = correction.target
       WHERE correction.what = 'voided' AND journal.line ->> '$.kind' = 'administered'
     ), page AS (
       SELECT seq, id, at FROM administration WHERE ${filter}
       UNION ALL SELECT seq, id, at FROM struck WHERE ${filter}
       ORDER BY at, seq LIMIT ?
     )
     ${ITEM}
     ORDER BY page.at, page.seq`,
    ...asked,
    ...asked,
    limit,
  );
  const say = sayer(tx);
  return rows.map((row) => itemOf(tx, row, say));
}

function itemOf(tx: Reader, found: Found, say: ReturnType<typeof sayer>): BookItem {
  const entry = JSON.parse(found.line) as Entry;
  const versions: BookVersion[] = [];
  let last: Administered | undefined;
  let wrote = { no: entry.seq, written: entry.recorded, writtenBy: entry.by };
  if (found.corrected === 1) {
    for (const version of versionsOf(tx, administered, entry)) {
      const { no, written, writtenBy } = version;
      last = version.data;
      wrote = { no, written, writtenBy };
      // What stands is read below, with its holds as they are now.
      if (version.state === 'stands') continue;
      const row = say(entry, version.data, version.local, {
        holds: version.data.holds.map(factsOf),
        state: version.state,
        correction: version.correction,
      });
      versions.push({ row, data: version.data, ...wrote });
    }
  }
  const stands = found.data === null ? undefined : (JSON.parse(found.data) as Administered);
  if (stands) {
    const row = say(entry, stands, found.local ?? entry.happened.local, {
      holds: asSettled(tx, stands, JSON.parse(found.holds ?? '[]') as HoldFacts[]),
      state: 'stands',
      correction: undefined,
    });
    versions.push({ row, data: stands, ...wrote });
  }
  const rows = versions.map(({ row }) => row);
  return { seq: found.seq, at: found.at, rows, versions, stands, last: stands ?? last };
}

/** Holds that waited for an event, with the end they have by now for the one that was treated. */
function asSettled(tx: Reader, { administration, subject }: Administered, holds: HoldFacts[]): HoldFacts[] {
  if (holds.every((hold) => hold.event === null)) return holds;
  const rows = holdsOn(tx, [subject]).filter((row) => row.source === `administration:${administration}`);
  return holds.map((hold) => {
    const row = rows.find(
      ({ produce, market, clock }) =>
        produce === hold.produce && market === hold.market && clock === hold.clock,
    );
    if (row === undefined) return hold;
    return { ...hold, state: row.state, until: row.until, event: row.event };
  });
}

function factsOf(hold: HoldDecision): HoldFacts {
  return {
    ...hold,
    until: hold.until ?? null,
    event: hold.event ?? null,
    period: hold.period ?? null,
    wakes: hold.wakes ?? null,
  };
}

type Saying = {
  holds: readonly HoldFacts[];
  state: BookRow['state'];
  correction: BookRow['correction'];
};

/** Turns administrations into rows of text; what many rows share is looked up once. */
function sayer(tx: Reader) {
  const piece = pieceWords(tx);
  const once = <T>(look: (key: string) => T) => {
    const known = new Map<string, T>();
    return (key: string): T => {
      if (!known.has(key)) known.set(key, look(key));
      return known.get(key) as T;
    };
  };
  const person = once((id) => personName(tx, id));
  const holding = once((id) => holdingOf(tx, id));
  const shown = once((subject) => subjectsOf(tx, [subject])[0]?.shown ?? subject);
  const expiry = once((container) =>
    sayExpiry(
      tx.get<{ expiry: string }>(
        "SELECT batch.data -> '$.expiry' AS expiry FROM container JOIN batch ON batch.id = container.batch WHERE container.id = ?",
        container,
      ),
    ),
  );

  return (entry: Entry, data: Administered, local: string, { holds, state, correction }: Saying): BookRow => {
    const { zone: at, milk: milked } = holding(data.holding);
    const word = piece(revisionIn(data));
    const [meat, milk] = (['meat', 'milk'] as const).map((produce) => clockText(holds, produce, at));
    return {
      administration: data.administration,
      entry: { request: entry.request, n: entry.n },
      local,
      recorded: entry.recorded,
      subject: data.subject,
      shown: shown(data.subject),
      class: data.class,
      heads: data.heads,
      product: data.product,
      batch: batchesIn(data),
      expiry: expiriesIn(data, expiry),
      dose: printAmount(amountOf(data.dose.kind, unitsOf(data.dose)), word),
      ...(data.dosedTo === undefined ? {} : { dosedTo: sayDosedTo(data.dosedTo) }),
      quantity: printAmount(amountOf(data.total.kind, unitsOf(data.total)), word),
      route: data.route,
      reason: data.reason,
      givenBy: person(data.givenBy),
      source: sourceOf(data),
      period: meat?.period ?? '',
      until: meat?.until ?? '',
      ...(meat?.at === undefined ? {} : { untilAt: meat.at }),
      milkPeriod: milk?.period ?? '',
      // A farm that takes no milk is not told what would run in an animal that gives none.
      milkUntil: milked || !isAsleep(holds) ? (milk?.until ?? '') : 'not in milk',
      deviations: data.deviations.map((deviation) => deviation.text),
      state,
      ...(correction === undefined ? {} : { correction }),
    };
  };
}

function sayDosedTo({ weight, part, of }: NonNullable<Administered['dosedTo']>): string {
  return `dosed to ${printWeight(weight)}${of === 1 ? ', the heaviest of its group' : `, part ${part} of ${of}`}`;
}

function sourceOf(data: Administered): string {
  if (data.source.kind === 'ours') return '';
  const who = { vet: 'the vet', contractor: 'a contractor', 'earlier-keeper': 'an earlier keeper' }[
    data.source.kind
  ];
  return data.source.who === undefined ? who : `${who} (${data.source.who})`;
}

function expiriesIn(data: Administered, expiry: (container: string) => string): string {
  if (data.source.kind !== 'ours') return data.source.expiry ?? '';
  const all = data.source.draws.map((draw) => expiry(draw.container)).filter((text) => text !== '');
  return [...new Set(all)].join(', ');
}

/** Period and end of one produce in words; export beside home where the label has both. */
function clockText(
  holds: readonly HoldFacts[],
  produce: 'meat' | 'milk',
  zone: string,
): { period: string; until: string; at?: string } | undefined {
  const of = (market: string) =>
    holds.find((hold) => hold.produce === produce && hold.market === market && hold.clock === 'food');
  const home = of('domestic');
  if (!home) return undefined;
  const abroad = of('export');
  const also = abroad ? `; for export ${ends(abroad, zone)}` : '';
  const at = home.state === 'until' && home.until !== null ? { at: home.until } : {};
  return { period: periodText(home), until: `${ends(home, zone)}${also}`, ...at };
}

/** The period as the label or the vet states it. Zero is a statement, and not stated is none. */
function periodText(hold: HoldFacts): string {
  if (hold.period !== null) return /^0 [dh]$/.test(hold.period) ? 'zero' : hold.period;
  if (hold.says === 'not-for-this-produce') return 'label: not for animals giving it';
  return hold.says === 'for-life' ? 'label: for life' : 'not stated';
}

/** "Mar 2027" or "14 Mar 2027", as the pack prints it; nothing for what was made up on the farm. */
function sayExpiry(row: { expiry: string } | undefined): string {
  return row === undefined ? '' : printExpiry(JSON.parse(row.expiry) as { printed: string; lastDay: string });
}

/** Whether the milk clock of the home market sleeps: the animal is not in milk. */
function isAsleep(holds: readonly HoldFacts[]): boolean {
  return holds.some(
    (hold) =>
      hold.produce === 'milk' &&
      hold.market === 'domestic' &&
      hold.clock === 'food' &&
      hold.state === 'dormant',
  );
}

/** What ends it. A clock that sleeps because the animal is not in milk says what it would wake to. */
function ends(hold: HoldFacts, zone: string): string {
  if (hold.state !== 'dormant') return untilText(hold, zone);
  if (hold.until !== null) return `not in milk; else ${printAt(hold.until, zone)}`;
  const awake = { state: (hold.wakes ?? 'unknown') as HoldFacts['state'], until: null, event: hold.event };
  return `not in milk; else ${untilText(awake, zone)}`;
}
