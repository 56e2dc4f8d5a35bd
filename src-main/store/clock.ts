/** The computer's clock, handed in so that tests and the demo decide what time it is. */
export type Clock = {
  /** UTC, ISO 8601 with milliseconds. */
  now(): string;
};

export type ClockState =
  | { state: 'believed' }
  | { state: 'doubted'; why: 'before-last-entry' | 'long-after-last-entry' };

/** A clock this far past the last entry is as likely to be wrong as the farm to have been idle. */
export const CLOCK_GAP_DAYS = 14;
const DAY_MS = 86_400_000;

/**
 * Whether a time may be believed, measured against the last time that was (nothing in an empty book, where
 * any clock is believed). Exactly 14 days later is still believed.
 * @param now UTC, ISO 8601 with milliseconds
 */
export function clockBelief(reference: string | undefined, now: string): ClockState {
  if (reference === undefined) return { state: 'believed' };
  if (now < reference) return { state: 'doubted', why: 'before-last-entry' };
  if (Date.parse(now) - Date.parse(reference) > CLOCK_GAP_DAYS * DAY_MS) {
    return { state: 'doubted', why: 'long-after-last-entry' };
  }
  return { state: 'believed' };
}

/** Whether the computer's clock is believed at this time, by what the book says. */
export function clockState(store: { clockReference(): string | undefined }, now: string): ClockState {
  return clockBelief(store.clockReference(), now);
}

/** The civil day of an instant in a zone, "2026-03-01". @throws RangeError for a zone that does not exist */
export function dayIn(zone: string, instant: string): string {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone: zone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).formatToParts(new Date(instant));
  const of = (type: string) => parts.find((part) => part.type === type)?.value ?? '';
  return `${of('year')}-${of('month')}-${of('day')}`;
}
