import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { type Instant, localOf, startOfDay } from '../../../src-shared/time/zone.ts';
import type { HoldRow } from '../reading/holds.ts';

/** So far back a label that is silent on export is named (practice): the longest periods there end within it. */
const LOOKED_BACK_DAYS = 365;

/**
 * The medicines, by name, that a subject had in the 12 months before an instant and whose label says nothing of export
 * for this produce. What is silent is not zero: the period for people here is counted for it, and it is said, because
 * the market they go to may ask for a longer one.
 */
export function silentOnExport(
  holds: readonly HoldRow[],
  produce: string,
  { at, begun, zone }: { at: string; begun: string; zone: string },
): string[] {
  const since = startOfDay(
    addDays(localOf(at as Instant, zone).slice(0, 10) as Day, -LOOKED_BACK_DAYS),
    zone,
  );
  const own = holds.filter((hold) => hold.produce === produce && hold.clock === 'food');
  const spoken = new Set(own.filter(({ market }) => market === 'export').map(({ source }) => source));
  const silent = own.flatMap(({ market, source, product, from_at }) =>
    market === 'domestic' && product !== null && !spoken.has(source) && from_at <= begun && from_at >= since
      ? [product]
      : [],
  );
  return [...new Set(silent)].toSorted((a, b) => a.localeCompare(b));
}
