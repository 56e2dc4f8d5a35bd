import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { Reader } from '../../store/store.ts';
import { type HoldRow, KIN } from './kin.ts';

/** The events that a hold of a label waits for. */
export const AWAITED: readonly string[] = ['lambing', 'removal', 'end-of-release'];

type Settled = {
  subject: string;
  source: string;
  produce: string;
  market: string;
  clock: string;
  since: string;
  seq: number;
  data: string;
  /** When the event happened. */
  at: string;
  local: string;
};
type Edge = { subject: string; parent: string; at: string };
const FOREVER = '9999-12-31T23:59:59.999Z';

/**
 * What a waiting decision asks for, whatever has come of it: two decisions of the same treatment are the same when
 * this is. A decision changed since it was settled waits again, until it is settled anew.
 */
export function asksFor(hold: HoldDecision): string {
  const { period, periodFromDose, anchor, also, atLeast, counting } = hold;
  return JSON.stringify([period, periodFromDose, anchor, also, atLeast, counting]);
}

/**
 * Holds that wait for an event, with the end they got where it has come. A subject is as its heads are: the event must
 * have happened, after the treatment, to the animal or lot in which each of them was at that moment. Heads that had
 * left before, or came in afterwards, are still waiting, and so is a lot that has some of them. At the very moment
 * of a move or a treatment nobody knows what came first, and it waits as well.
 */
export function withEvents(tx: Reader, rows: HoldRow[]): HoldRow[] {
  const waiting = rows.filter(isWaitingRow);
  if (waiting.length === 0) return rows;
  const settled = settledFor(tx, [...new Set(waiting.map((row) => row.source))]);
  if (settled.size === 0) return rows;
  const edges = edgesOf(tx, [...new Set(waiting.map((row) => row.subject))]);
  const isWaiting = new Set(waiting);
  return rows.map((row) => {
    if (!isWaiting.has(row)) return row;
    const found = endFor(row, settled, edges);
    if (found === undefined) return row;
    const hold = JSON.parse(found.data) as HoldDecision;
    return { ...row, state: hold.state, until: hold.until ?? null, event: null, data: found.data };
  });
}

/**
 * Milk that slept wakes with what is left of its clock in an animal or lot that gives milk by now: the hold is the same,
 * and is no longer said as one of an animal out of milk.
 */
export function awoken(tx: Reader, rows: HoldRow[]): HoldRow[] {
  const sleeping = [...new Set(rows.filter((row) => row.state === 'dormant').map((row) => row.subject))];
  if (sleeping.length === 0) return rows;
  const inMilk = new Set(
    tx
      .all<{ subject: string }>(
        `SELECT subject FROM animal WHERE milking = 1 AND subject IN (SELECT value FROM json_each(?))
         UNION ALL SELECT subject FROM lot WHERE milking = 1 AND subject IN (SELECT value FROM json_each(?))`,
        JSON.stringify(sleeping),
        JSON.stringify(sleeping),
      )
      .map(({ subject }) => subject),
  );
  if (inMilk.size === 0) return rows;
  return rows.map((row) => {
    if (row.state !== 'dormant' || !inMilk.has(row.subject)) return row;
    return { ...row, state: (JSON.parse(row.data) as HoldDecision).wakes ?? 'unknown' };
  });
}

/** Waits for an event of the label. What got its answer meanwhile waits for nothing, whatever it once waited for. */
export function isWaitingRow({ event, state }: Pick<HoldRow, 'event' | 'state'>): boolean {
  return event !== null && AWAITED.includes(event) && (state === 'event' || state === 'dormant');
}

const keyOf = (row: Pick<Settled, 'source' | 'produce' | 'market' | 'clock'>, subject: string) =>
  `${subject} ${row.source} ${row.produce} ${row.market} ${row.clock}`;

/** Settled ends of these sources whose event stands, by whom and what they are of, the earliest event first. */
function settledFor(tx: Reader, sources: readonly string[]): Map<string, Settled[]> {
  const found = new Map<string, Settled[]>();
  const rows = tx.all<Settled>(
    `SELECT s.subject, s.source, s.produce, s.market, s.clock, s.since, s.seq, s.data, e.at, e.local
     FROM settled AS s JOIN event AS e ON e.subject = s.subject AND e.id = s.event
     WHERE s.source IN (SELECT value FROM json_each(?)) ORDER BY e.at, s.seq`,
    JSON.stringify(sources),
  );
  for (const row of rows) {
    const key = keyOf(row, row.subject);
    const list = found.get(key);
    if (list) list.push(row);
    else found.set(key, [row]);
  }
  return found;
}

/** Where the heads of each of these, and of the lots they came from, came from and when. */
function edgesOf(tx: Reader, subjects: readonly string[]): Map<string, Edge[]> {
  const found = new Map<string, Edge[]>();
  const rows = tx.all<Edge>(
    `WITH RECURSIVE wanted(s) AS (SELECT value FROM json_each(?)), ${KIN}
     SELECT DISTINCT lineage.subject, lineage.parent, lineage.at
     FROM kin_once AS kin JOIN lineage ON lineage.subject = kin.ancestor`,
    JSON.stringify(subjects),
  );
  for (const edge of rows) found.set(edge.subject, [...(found.get(edge.subject) ?? []), edge]);
  return found;
}

/** The latest end over all ways the heads may have come; nothing while one of these ways is still waiting. */
function endFor(
  row: HoldRow,
  settled: ReadonlyMap<string, readonly Settled[]>,
  edges: ReadonlyMap<string, readonly Edge[]>,
): Settled | undefined {
  const asked = asksFor(JSON.parse(row.data) as HoldDecision);
  const speaks = (one: Settled) =>
    one.since === row.from_at &&
    one.seq > (row.seq ?? Number.POSITIVE_INFINITY) &&
    one.at > row.from_at &&
    asksFor(JSON.parse(one.data) as HoldDecision) === asked;
  const ends = new Map<string, readonly Settled[]>();
  const endsAt = (subject: string) => {
    const known = ends.get(subject);
    if (known) return known;
    const made = (settled.get(keyOf(row, subject)) ?? []).filter(speaks);
    ends.set(subject, made);
    return made;
  };
  type Way = { subject: string; cut: string; end: Settled | undefined };
  const seen = new Set<string>();
  const ways: Way[] = [{ subject: row.subject, cut: FOREVER, end: undefined }];
  let latest: Settled | undefined;
  for (let way = ways.pop(); way !== undefined; way = ways.pop()) {
    const { subject, cut, end } = way;
    const name = `${subject} ${cut} ${end?.subject} ${end?.seq}`;
    if (seen.has(name)) continue;
    seen.add(name);
    // The first event that reached these heads is the one it counts from, so an earlier one takes its place.
    const first = (after: string) => endsAt(subject).find((one) => one.at > after && one.at < cut) ?? end;
    if (subject === row.on_subject && row.from_at <= cut) {
      const here = first(row.from_at);
      if (here === undefined) return undefined;
      if (latest === undefined || untilOf(here) > untilOf(latest)) latest = here;
    }
    for (const edge of edges.get(subject) ?? []) {
      if (edge.at > cut) continue;
      ways.push({ subject: edge.parent, cut: edge.at, end: first(edge.at) });
    }
  }
  return latest;
}

const untilOf = (one: Settled) => (JSON.parse(one.data) as HoldDecision).until ?? FOREVER;
