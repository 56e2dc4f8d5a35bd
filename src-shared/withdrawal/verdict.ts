/**
 * Whether a hold bars a produce at an instant. This is the one place that says so: the clear list, the
 * declaration and the screens all ask here.
 */
export type HoldState = {
  produce: string;
  market: string;
  clock: string;
  state: 'none' | 'until' | 'event' | 'dormant' | 'life' | 'unknown';
  until: string | null;
  from_at: string;
};

/** Where the produce goes: to people here, to an export market, or as organic produce. */
export const DESTINATIONS = ['domestic', 'export', 'organic'] as const;
export type Destination = (typeof DESTINATIONS)[number];

/** Whether a hold is about this produce on its way to a destination. What may not be eaten here may go nowhere. */
export function speaksOf(
  hold: Pick<HoldState, 'produce' | 'market' | 'clock'>,
  produce: string,
  destination: Destination = 'domestic',
): boolean {
  if (hold.produce !== produce) return false;
  if (hold.clock === 'organic') return destination === 'organic';
  return hold.market === 'domestic' || destination === 'export';
}

/**
 * True when this hold bars the produce at that instant (UTC, ISO with milliseconds). A hold that has not begun
 * bars nothing yet; one without an end that time can reach bars for good. Dormant milk bars like running milk:
 * the animal may come into milk while it lasts. `begunBy` is for a moment of which only the day is known: what begins
 * later on that day bars already, because it may have begun before.
 */
export function bars(
  hold: HoldState,
  produce: string,
  at: string,
  begunBy = at,
  destination: Destination = 'domestic',
): boolean {
  if (!speaksOf(hold, produce, destination)) return false;
  if (hold.state === 'none' || hold.from_at > begunBy) return false;
  if (hold.state === 'until' || hold.state === 'dormant') {
    // A period of no days that ended where it began never held anything.
    return hold.until === null || (at < hold.until && hold.from_at < hold.until);
  }
  return true;
}

/** The latest instant at which all of these clear, or nothing when time alone never clears them. */
export function clearsAt(holds: readonly HoldState[]): string | undefined {
  let latest = '';
  for (const hold of holds) {
    if (hold.state === 'none') continue;
    if (hold.until === null || (hold.state !== 'until' && hold.state !== 'dormant')) return undefined;
    if (hold.until > latest) latest = hold.until;
  }
  return latest === '' ? undefined : latest;
}
