import type { Reader } from '../../store/store.ts';

type Event = { subject: string; at: string; seq: number; local: string; kind: string; data: string };

const EVENTS = `SELECT e.subject, e.at, e.seq, j.line ->> '$.happened.local' AS local, j.line ->> '$.kind' AS kind,
    j.line -> '$.data' AS data
  FROM subject_entry AS e JOIN journal AS j ON j.seq = e.seq
  WHERE e.correction = 0 AND j.line ->> '$.kind' IN ('lot-set', 'lot-moved', 'departed')
    -- The last correction decides whether it stands.
    AND (SELECT what FROM correction WHERE target = e.seq ORDER BY correction.seq DESC LIMIT 1) IS NOT 'voided'`;

/** One thing that changed the head count of a lot, and the count after it. */
export type LotChange = {
  at: string;
  seq: number;
  heads: number;
  /** Heads that it had more than before, and the lot that gave them; absent: they were counted or bought in. */
  more: number;
  giver?: string;
};

/** The changes of the head count of one lot ("lot:ID"), in the order in which they happened. */
export function changesOfLot(tx: Reader, lot: string): LotChange[] {
  let heads = 0;
  return tx.all<Event>(`${EVENTS} AND e.subject = ? ORDER BY e.at, e.seq`, lot).map((event) => {
    const before = heads;
    heads = after(heads, event, lot);
    const { from } = JSON.parse(event.data) as { from?: string };
    const isGiven = event.kind === 'lot-moved' && heads > before;
    return {
      at: event.at,
      seq: event.seq,
      heads,
      more: Math.max(0, heads - before),
      ...(isGiven ? { giver: `lot:${from}` } : {}),
    };
  });
}

/** How many heads a lot ("lot:ID") had at an instant: none before it is in the book. */
export function headsAt(tx: Reader, lot: string, at: string): number {
  return changesOfLot(tx, lot).findLast((change) => change.at <= at)?.heads ?? 0;
}

/** The head count after an event. */
function after(heads: number, event: Event, lot: string): number {
  const { heads: of = 1, from } = JSON.parse(event.data) as { heads?: number; from?: string };
  if (event.kind === 'lot-set') return of;
  if (event.kind === 'lot-moved' && `lot:${from}` !== lot) return heads + of;
  return Math.max(0, heads - of);
}

export type LotHeads = {
  /** How many heads a lot ("lot:ID") had just before an instant, or just before an entry of that instant. */
  before(lot: string, at: string, seq?: number): number;
  /** Heads that left out of lots: which lot, when (local), how many, and how. */
  left: readonly { lot: string; local: string; heads: number; how: string }[];
};

/** Heads of the lots by their counts and by what came in and went out; what was struck out counts for nothing. */
export function lotHeads(tx: Reader): LotHeads {
  const byLot = new Map<string, Event[]>();
  for (const event of tx.all<Event>(`${EVENTS} AND e.subject LIKE 'lot:%' ORDER BY e.at, e.seq`)) {
    const list = byLot.get(event.subject);
    if (list) list.push(event);
    else byLot.set(event.subject, [event]);
  }
  return {
    before(lot, at, seq = 0) {
      let heads = 0;
      for (const event of byLot.get(lot) ?? []) {
        if (event.at > at || (event.at === at && event.seq >= seq)) break;
        heads = after(heads, event, lot);
      }
      return heads;
    },
    left: [...byLot].flatMap(([lot, events]) =>
      events
        .filter(({ kind }) => kind === 'departed')
        .map(({ local, data }) => {
          const { heads = 1, how } = JSON.parse(data) as { heads?: number; how: string };
          return { lot, local, heads, how };
        }),
    ),
  };
}
