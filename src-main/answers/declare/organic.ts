import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { type Instant, localOf, startOfDay } from '../../../src-shared/time/zone.ts';
import type { Destination } from '../../../src-shared/withdrawal/verdict.ts';
import type { Reader } from '../../store/store.ts';
import type { HoldRow } from '../reading/holds.ts';
import { organicStandings } from '../reading/organic.ts';
import type { SubjectRow } from '../reading/subjects.ts';
import { barring, type SaidHold } from './lines.ts';

/** So far back a treatment without an organic clock still counts: as far as the courses are counted (practice). */
const LOOKED_BACK_DAYS = 365;

type Way = { produce: string; destination: Destination; at: string; begun: string; zone: string };

/**
 * What bars each subject on its way to a destination. What is to go as organic needs more than clocks that have run
 * out: a certificate with known rules, a status that is not lost, and an organic period for every treatment. Where no
 * rule is set there is no organic date.
 */
export function barsOn(
  tx: Reader,
  rows: readonly SubjectRow[],
  holds: ReadonlyMap<string, readonly HoldRow[]>,
  { produce, destination, at, begun, zone }: Way,
): (row: SubjectRow) => SaidHold[] {
  const byClock = (row: SubjectRow): SaidHold[] =>
    barring(holds.get(row.subject) ?? [], produce, at, begun, destination);
  if (destination !== 'organic') return byClock;
  const standings = organicStandings(tx, rows, localOf(begun as Instant, zone), zone);
  const since = startOfDay(
    addDays(localOf(at as Instant, zone).slice(0, 10) as Day, -LOOKED_BACK_DAYS),
    zone,
  );
  return (row) => {
    const standing = standings.get(row.subject);
    const barred = (says: string): SaidHold => ({
      subject: row.subject,
      on_subject: row.subject,
      source: 'organic-status',
      cause: 'other',
      produce,
      market: 'domestic',
      clock: 'organic',
      state: 'unknown',
      until: null,
      event: null,
      period: null,
      from_at: at,
      data: NO_DECISION,
      product: null,
      says,
    });
    if (standing === undefined)
      return [...byClock(row), barred('No organic certificate with known rules covers it')];
    return [
      ...byClock(row),
      ...(standing.isLost ? [barred(standing.text)] : []),
      ...withoutClock(holds.get(row.subject) ?? []),
    ];
  };

  /** Treatments that hold this produce for people and were given no organic period. */
  function withoutClock(own: readonly HoldRow[]): SaidHold[] {
    const ruled = new Set(own.filter(({ clock }) => clock === 'organic').map(({ source }) => source));
    return own
      .filter(
        (hold) =>
          hold.produce === produce &&
          hold.clock === 'food' &&
          hold.market === 'domestic' &&
          hold.cause !== 'broken-needle' &&
          hold.from_at <= begun &&
          (hold.until === null || hold.until >= since) &&
          !ruled.has(hold.source),
      )
      .map((hold) => ({
        ...hold,
        clock: 'organic',
        state: 'unknown' as const,
        until: null,
        period: null,
        says: `No organic period was worked out for ${hold.product ?? 'what holds it'}`,
      }));
  }
}

/** A decision without anything in it, for what no treatment decided. */
const NO_DECISION = JSON.stringify({ working: [] });
