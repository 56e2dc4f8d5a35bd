import { addDays, type Day } from '../../src-shared/time/day.ts';
import { dayOf, type Instant, startOfDay } from '../../src-shared/time/zone.ts';
import { limitUnits } from './degrees.ts';
import type { LoggerReading } from './logger.ts';

/** What a series of readings says, day by day, and where it says nothing. Units are 90,000ths of a degree Celsius. */

export type SeriesDay = { day: Day; least: number; most: number; count: number };
/** No reading between two instants that lie further apart than the logger's own interval. */
export type SeriesGap = { from: Instant; until: Instant; minutes: number };
/** Readings one after another that a label does not allow: from the last good one to the next good one. */
export type Excursion = {
  /** The last reading that was good, or nothing where the series begins badly. */
  from: Instant | undefined;
  /** The first reading that was good again, or the last there is. */
  until: Instant;
  /** The first and the last bad one, and how cold and warm it was between. */
  first: Instant;
  last: Instant;
  least: number;
  most: number;
};

const MINUTE_MS = 60_000;

/** Least and most of each local day that has a reading. */
export function daysOf(readings: readonly LoggerReading[], zone: string): SeriesDay[] {
  const days: SeriesDay[] = [];
  let end = '';
  for (const { at, units } of readings) {
    const now = days.at(-1);
    if (now === undefined || at >= end) {
      const day = dayOf(at, zone);
      end = startOfDay(addDays(day, 1), zone);
      days.push({ day, least: units, most: units, count: 1 });
      continue;
    }
    now.least = Math.min(now.least, units);
    now.most = Math.max(now.most, units);
    now.count += 1;
  }
  return days;
}

/** How often the logger read, in whole minutes: the step that occurs most. Nothing with fewer than three readings. */
export function intervalOf(readings: readonly LoggerReading[]): number | undefined {
  const steps = new Map<number, number>();
  for (const minutes of stepsOf(readings)) {
    if (minutes > 0) steps.set(minutes, (steps.get(minutes) ?? 0) + 1);
  }
  let best: number | undefined;
  for (const [minutes, times] of steps) {
    const most = best === undefined ? 0 : (steps.get(best) ?? 0);
    if (times > most || (times === most && minutes < (best ?? 0))) best = minutes;
  }
  return readings.length < 3 ? undefined : best;
}

function stepsOf(readings: readonly LoggerReading[]): number[] {
  return readings.slice(1).map((one, i) => minutesBetween(readings[i]?.at ?? one.at, one.at));
}

/**
 * Whole minutes, so that seconds the file leaves out make no step of their own. By the platform's own reading of an
 * instant: a year of a logger has a hundred thousand of them.
 */
function minutesBetween(from: Instant, until: Instant): number {
  return Math.round((Date.parse(until) - Date.parse(from)) / MINUTE_MS);
}

/** Where at least one reading is missing: more than one and a half intervals without one. */
export function gapsOf(readings: readonly LoggerReading[], interval: number | undefined): SeriesGap[] {
  if (interval === undefined) return [];
  return readings.slice(1).flatMap((one, i) => {
    const from = readings[i]?.at ?? one.at;
    const minutes = minutesBetween(from, one.at);
    return minutes * 2 > interval * 3 ? [{ from, until: one.at, minutes }] : [];
  });
}

/** Where the series was outside what a label allows; its limits in degrees Celsius, each may be absent. */
export function excursionsOf(
  readings: readonly LoggerReading[],
  limits: { leastC?: number | undefined; mostC?: number | undefined },
): Excursion[] {
  const least = limits.leastC === undefined ? Number.NEGATIVE_INFINITY : limitUnits(limits.leastC);
  const most = limits.mostC === undefined ? Number.POSITIVE_INFINITY : limitUnits(limits.mostC);
  const found: Excursion[] = [];
  let open: Excursion | undefined;
  let good: Instant | undefined;
  for (const { at, units } of readings) {
    if (units >= least && units <= most) {
      if (open !== undefined) open.until = at;
      open = undefined;
      good = at;
    } else if (open === undefined) {
      open = { from: good, until: at, first: at, last: at, least: units, most: units };
      found.push(open);
    } else {
      open.until = at;
      open.last = at;
      open.least = Math.min(open.least, units);
      open.most = Math.max(open.most, units);
    }
  }
  return found;
}
