import type { Entry, RowOp } from './kind.ts';
import type { HoldDecision } from './parts.ts';

export type HoldCause =
  | 'treatment'
  | 'possibly-treated'
  | 'bought-in'
  | 'broken-needle'
  | 'at-foot'
  | 'other';

/** The rows a set of decisions puts on a subject. `source` names what they come from, so that it can be decided anew. */
export function holdRows(
  source: string,
  cause: HoldCause,
  holds: readonly HoldDecision[],
  entry: Entry<unknown>,
  /** Of one possibly treated: the session, its lines and what those medicines are called, as JSON. */
  possible: string | null = null,
): RowOp[] {
  return holds.map((hold) => ({
    op: 'put',
    table: 'hold',
    row: {
      source,
      cause,
      produce: hold.produce,
      market: hold.market,
      clock: hold.clock,
      state: hold.state,
      until: hold.until ?? null,
      event: hold.event ?? null,
      period: hold.period ?? null,
      from_at: entry.happened.at,
      // A corrected treatment was decided by its correction: what was decided anew before that is overruled.
      seq: entry.decidedSeq ?? entry.seq,
      data: JSON.stringify(hold),
      possible,
    },
  }));
}
