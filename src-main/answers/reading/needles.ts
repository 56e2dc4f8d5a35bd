import type { DataOf } from '../../../src-shared/entries/all.ts';
import { NEEDLE_ROUTES } from '../../../src-shared/label/terms.ts';
import { PLACES } from '../../../src-shared/needle/places.ts';
import { type Instant, localOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type HoldRow, holdsOn } from './holds.ts';

/** What the book knows of needles: handed out, counted, missing, and who may carry one. */

export type NeedleLost = DataOf<'needle-lost'>;
type Counted = DataOf<'sharps-counted'>;
export type LossRow = { data: NeedleLost; at: string; seq: number };

/** Reports of broken or missing needles, newest first. */
export function lossesIn(tx: Reader, session?: string): LossRow[] {
  return tx
    .all<{ data: string; at: string; seq: number }>(
      `SELECT data, at, seq FROM record WHERE what = 'needle-loss' ${session === undefined ? '' : 'AND name = ?'}
       ORDER BY seq DESC`,
      ...(session === undefined ? [] : [session]),
    )
    .map((row) => ({ ...row, data: JSON.parse(row.data) as NeedleLost }));
}

/** Who is held by a report still, each where the hold was put. */
export function heldByLoss(tx: Reader, loss: string): string[] {
  return tx
    .all<{ subject: string }>(
      "SELECT DISTINCT subject FROM hold WHERE source = ? AND state <> 'none' ORDER BY subject",
      `hold:${loss}`,
    )
    .map((row) => row.subject);
}

export type Sharps = {
  /** Handed out in all; nothing when nobody counted them out. */
  out: number | undefined;
  /** Missing needles that are reported and not found. */
  reported: number;
  /** The last time all of them were there, or the start of the work. */
  since: { at: string; local: string };
};

/** Needles of a session as they stand. `until`: counts later than this instant are not reckoned with. */
export function sharpsOf(
  tx: Reader,
  session: { id: string; at: string; opened: string; plan: { sharpsOut?: number | undefined } },
  zone: string,
  until?: string,
): Sharps {
  const counts = tx
    .all<{ data: string; at: string }>(
      "SELECT data, at FROM record WHERE subject = ? AND what = 'sharps-count' ORDER BY at, seq",
      `session:${session.id}`,
    )
    .map(({ data, at }) => ({ at, ...(JSON.parse(data) as Counted) }));
  const more = counts.reduce((sum, one) => sum + one.more, 0);
  const full = counts.findLast(
    ({ counted, at }) =>
      counted !== undefined && counted.there >= counted.out && (until === undefined || at <= until),
  );
  const { sharpsOut } = session.plan;
  return {
    out: sharpsOut === undefined && counts.length === 0 ? undefined : (sharpsOut ?? 0) + more,
    reported: stillMissing(tx, session.id),
    since:
      full === undefined || full.at < session.at
        ? { at: session.at, local: session.opened }
        : { at: full.at, local: localOf(full.at as Instant, zone) },
  };
}

/** Needles reported missing that nobody has found: their report, or the one that says more of it, still holds somebody. */
function stillMissing(tx: Reader, session: string): number {
  const losses = lossesIn(tx, session).map(({ data }) => data);
  const holds = (loss: string): boolean =>
    heldByLoss(tx, loss).length > 0 || losses.some(({ of, loss: later }) => of === loss && holds(later));
  return losses
    .filter(({ of, loss, found }) => of === undefined && found === 'not-found' && holds(loss))
    .reduce((sum, { needles }) => sum + needles, 0);
}

/**
 * Whoever was given something by needle in a session from an instant on, and up to another. A treatment of which only
 * the day is known may have been at any time of it.
 */
export function injectedIn(
  tx: Reader,
  session: string,
  since: { at: string; local: string },
  until: string,
): string[] {
  const rows = tx.all<{ treated: string; at: string; local: string }>(
    `SELECT done.treated, a.at, a.local FROM session_done AS done JOIN administration AS a ON a.id = done.administration
     WHERE done.subject = ? AND a.route IN (SELECT value FROM json_each(?)) ORDER BY a.at, a.seq`,
    `session:${session}`,
    JSON.stringify(NEEDLE_ROUTES),
  );
  const within = rows.filter((row) => isWithin(row, since, until));
  return [...new Set(within.map((row) => row.treated))];
}

/** Whether something that happened then can have been between the two. */
export function isWithin(
  when: { at: string; local: string },
  since: { at: string; local: string },
  until: string,
): boolean {
  if (when.at > until) return false;
  return when.at >= since.at || (when.local.length === 10 && when.local >= since.local.slice(0, 10));
}

/** The holds for a needle that bear on each of these now, inherited ones included; nothing for who has none. */
export function needleHoldsOn(tx: Reader, subjects: readonly string[] | 'present'): Map<string, HoldRow[]> {
  const found = new Map<string, HoldRow[]>();
  // Mostly there is none on the whole farm, and then nobody's lots need be looked up.
  if (!tx.get("SELECT 1 FROM hold WHERE cause = 'broken-needle' AND state <> 'none' LIMIT 1")) return found;
  for (const row of holdsOn(tx, subjects)) {
    if (row.cause !== 'broken-needle' || row.state === 'none') continue;
    found.set(row.subject, [...(found.get(row.subject) ?? []), row]);
  }
  return found;
}

/** Where it is in words: "muscular middle of the neck, left side". */
export function sayPlace(site: NeedleLost['site'], side: NeedleLost['side']): string {
  if (site === undefined) return side === undefined ? 'place not known' : `place not known, ${side} side`;
  const names = PLACES.filter((place) => place.site === site).map(({ name }) => name.toLowerCase());
  // One word for places that serve both under the skin and into muscle.
  const word = names.length > 1 ? site.replace('-', ' ') : (names[0] ?? site);
  return side === undefined ? `${word}, side not known` : `${word}, ${side} side`;
}

/** What a list says beside somebody who may carry a needle. */
export const NEEDLE_MARK = 'may carry a broken needle';
