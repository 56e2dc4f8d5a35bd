import { type Day, printDay } from '../../src-shared/time/day.ts';
import {
  bothInstantsOf,
  type Instant,
  isoWithOffset,
  millisecondsBetween,
  startOfDay,
} from '../../src-shared/time/zone.ts';
import type { Question } from './questions.ts';

/** How the clock of a logger ran: with the farm's, as it was when the logger was started, or in UTC. */
export type LoggerClock = 'farm' | 'kept' | 'utc';

/** "2026-05-01T10:15"; `offset` in minutes where the cell itself says it. */
export type Timed = { line: number; local: string; offset: number | undefined };
export type Placed = { line: number; at: Instant };

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;

const instant = (ms: number): Instant => new Date(ms).toISOString() as Instant;
const naive = (local: string): number => Date.parse(`${local}:00.000Z`);

/** Minutes that the clocks of a zone are ahead of UTC at an instant. */
function offsetAt(at: Instant, zone: string): number {
  const local = isoWithOffset(at, zone).slice(0, 16);
  // To the minute on both sides: no zone in use differs by less.
  return (naive(local) - naive(at.slice(0, 16))) / MINUTE_MS;
}

/** The two instants a local time can stand for; a day on which the clocks do not change is worked out once. */
function placesOf(zone: string) {
  const plain = new Map<string, number | undefined>();
  return (local: string): { first: number; second: number; exists: boolean } => {
    const day = local.slice(0, 10) as Day;
    if (!plain.has(day)) {
      const start = startOfDay(day, zone);
      const isPlain = millisecondsBetween(start, startOfDay(day, zone, 1)) === DAY_MS;
      plain.set(day, isPlain ? Date.parse(start) : undefined);
    }
    const start = plain.get(day);
    if (start !== undefined) {
      const at = start + naive(local) - naive(`${day}T00:00`);
      return { first: at, second: at, exists: true };
    }
    const both = bothInstantsOf(local, zone);
    return { first: Date.parse(both.first), second: Date.parse(both.second), exists: both.exists };
  };
}

/** True where most steps go back in time: loggers that put the newest line first. */
function isBackwards(times: readonly Timed[]): boolean {
  let back = 0;
  for (let i = 1; i < times.length; i += 1) {
    const step = (times[i]?.local ?? '').localeCompare(times[i - 1]?.local ?? '');
    back += step < 0 ? 1 : step > 0 ? -1 : 0;
  }
  return back > 0;
}

/**
 * Places the times of a logger, given in local time, on the line of time. Where the farm's clocks changed meanwhile and
 * the file does not show that the logger's did, it is asked: an hour more or less decides who was given what.
 * @returns the times in their order, oldest first; nothing placed while the question is open
 */
export function placeTimes(
  times: readonly Timed[],
  zone: string,
  clock: LoggerClock | undefined,
): { placed: Placed[]; question?: Question } {
  const inOrder = isBackwards(times) ? [...times].reverse() : times;
  const places = placesOf(zone);
  if (clock === undefined) {
    const doubt = doubtOf(inOrder, places);
    if (doubt !== undefined) {
      const day = printDay(doubt.local.slice(0, 10) as Day);
      const message = `The clocks changed on ${day}, and “${doubt.local.slice(11)}” on line ${doubt.line} does not show whether the logger’s clock did. How did its clock run?`;
      return {
        placed: [],
        question: { code: 'clock', field: 'at', message, choices: ['farm', 'kept', 'utc'] },
      };
    }
  }
  const first = inOrder[0];
  const keptOffset = first === undefined ? 0 : offsetAt(instant(places(first.local).first), zone);
  let last = Number.NEGATIVE_INFINITY;
  const placed = inOrder.map(({ line, local, offset }) => {
    const fixed = offset ?? (clock === 'utc' ? 0 : clock === 'kept' ? keptOffset : undefined);
    if (fixed !== undefined) return { line, at: instant(naive(local) - fixed * MINUTE_MS) };
    // Of an hour that comes twice: the first, until the file goes back.
    const { first: early, second: late } = places(local);
    const at = early >= last ? early : late;
    last = at;
    return { line, at: instant(at) };
  });
  return { placed: placed.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.line - b.line)) };
}

/** A time that speaks against the logger's clock having changed with the farm's, or does not show that it did. */
function doubtOf(inOrder: readonly Timed[], places: ReturnType<typeof placesOf>): Timed | undefined {
  const own = inOrder.filter(({ offset }) => offset === undefined);
  const skipped = own.find(({ local }) => !places(local).exists);
  if (skipped !== undefined) return skipped;
  const repeated = own.filter(({ local }) => places(local).first !== places(local).second);
  const goesBack = repeated.some(({ local }, i) => i > 0 && local < (repeated[i - 1]?.local ?? ''));
  return goesBack ? undefined : repeated[0];
}
