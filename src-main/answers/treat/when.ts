import type { Happened } from '../../../src-shared/entries/kind.ts';
import { instantOf, localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Context } from '../context.ts';
import type { Holding } from '../reading/holding.ts';

/** A local time as it stands, in the holding's zone; now when none is said. */
export function whenIn(context: Context, holding: Holding | undefined, local?: string): Happened {
  const zone = holding?.zone ?? 'UTC';
  const now = context.now();
  if (local === undefined) return { local: localOf(parseInstant(now, 'clock'), zone), zone, at: now };
  return { local, zone, at: instantOf(local, zone, 'start') };
}
