import { Temporal } from 'temporal-polyfill';
import { quoted, sayField } from '../quantity/field.ts';
import { type Period, parsePeriod } from '../quantity/period.ts';
import { Refusal } from '../refusal.ts';
import { addDays, type Day, lastDayOfMonth, parseDay, printDay } from '../time/day.ts';
import { checkZone, parseLocal } from '../time/zone.ts';

/**
 * Until when a container may be used. All times are local to the holding ("2026-05-29" or "2026-05-29T10:00"):
 * a bottle stands in one place, and its label is read by the calendar on the wall.
 */

/** As printed on the pack, and the last day it may be used unopened. */
export type Expiry = { readonly printed: string; readonly lastDay: Day };

/**
 * Reads "2027-03" or "2027-03-14". A month without a day means its last day, usable through it (read: In Practice
 * 2019;41:157). Refuses (`bad-day`) days that do not exist and any other way of writing.
 */
export function parseExpiry(text: string, field: string): Expiry {
  const printed = text.trim();
  if (/^\d{4}-\d{2}$/.test(printed)) return { printed, lastDay: lastDayOfMonth(printed, field) };
  if (/^\d{4}-\d{2}-\d{2}$/.test(printed)) return { printed, lastDay: parseDay(printed, field) };
  throw new Refusal(
    'bad-day',
    `${sayField(field)}: write it as in 2027-03 or 2027-03-14, not ${quoted(text)}.`,
    { field },
  );
}

/** "Mar 2027" where only the month is printed, else "14 Mar 2027". */
export function printExpiry(expiry: { printed: string; lastDay: string }): string {
  const day = printDay(expiry.lastDay as Day);
  return expiry.printed.length === 7 ? day.slice(day.indexOf(' ') + 1) : day;
}

/** The first local day on which an unopened container may no longer be used: the day after its last. */
export function unusableAfter(lastDay: Day): Day {
  return addDays(lastDay, 1);
}

/** `none`: keeps to its expiry. `at-once`: single use. */
export type InUse = 'none' | 'at-once' | Period;

/** Reads "28 d", "10 h", "none" or "at once". Refuses (`bad-period`) the rest. */
export function parseInUse(text: string, field = 'inUse'): InUse {
  const word = text.trim().toLowerCase();
  if (word === 'none') return 'none';
  if (word === 'at once') return 'at-once';
  const period = parsePeriod(text, field);
  return period.value === 0 ? 'at-once' : period;
}

/**
 * The first local time at which an opened container may no longer be used: the earlier of what held unopened and
 * the opening plus the in-use life. It errs early (practice): days count from the day of opening whatever the
 * time (opened 1 May, 28 d → 29 May 00:00); hours count from 00:00 when only the day is known, else as elapsed
 * time, from the first of a time that the clocks repeat. `at once` allows the minute of opening, or its day when
 * only the day is known. A silent label (`inUse` absent) adds nothing to the expiry.
 */
export function unusableOnceOpened(ask: {
  opened: string;
  zone: string;
  inUse: string | undefined;
  unopenedUntil: string;
}): string {
  const { opened, zone, unopenedUntil } = ask;
  const inUse = ask.inUse === undefined ? 'none' : parseInUse(ask.inUse);
  if (inUse === 'none') return unopenedUntil;
  const { day, time } = parseLocal(opened, 'happened');
  const ends =
    inUse === 'at-once'
      ? time === undefined
        ? addDays(day, 1)
        : afterElapsed(`${day}T${time}`, zone, { minutes: 1 })
      : inUse.unit === 'd'
        ? addDays(day, inUse.value)
        : afterElapsed(`${day}T${time ?? '00:00'}`, zone, { hours: inUse.value });
  return startOf(ends) < startOf(unopenedUntil) ? ends : unopenedUntil;
}

/** The wall clock after so much elapsed time; where it shows a time that comes twice, when the first turn-back comes. */
function afterElapsed(local: string, zone: string, more: { hours?: number; minutes?: number }): string {
  const name = checkZone(zone, 'zone');
  const from = Temporal.PlainDateTime.from(local).toZonedDateTime(name, { disambiguation: 'earlier' });
  const to = from.add(more);
  const later = to.toPlainDateTime().toZonedDateTime(name, { disambiguation: 'later' });
  // The clocks are about to show this time again: by the wall clock it could not be told which one is meant.
  const back =
    later.epochMilliseconds === to.epochMilliseconds ? undefined : to.getTimeZoneTransition('next');
  return (back ?? to).toPlainDateTime().toString({ smallestUnit: 'minute' });
}

/** A day stands for its start, so that days and times sort among each other. */
function startOf(local: string): string {
  return local.length === 10 ? `${local}T00:00` : local;
}

/** Below zero, zero or above zero: which of two first unusable times comes first. */
export function compareUnusable(a: string, b: string): number {
  const [one, two] = [startOf(a), startOf(b)];
  return one < two ? -1 : one > two ? 1 : 0;
}

/**
 * Whether a container may still be used at a local time. A day alone is taken at its end: when the hour is not
 * known, the bottle is not given the benefit of it.
 */
export function usableAt(unusableFrom: string, local: string): boolean {
  const at = local.length === 10 ? `${local}T23:59` : local;
  return at < startOf(unusableFrom);
}

/** The last local day on which it may be used, in part or whole. */
export function lastUsableDay(unusableFrom: string): Day {
  const at = startOf(unusableFrom);
  const day = at.slice(0, 10) as Day;
  return at.endsWith('T00:00') ? addDays(day, -1) : day;
}

/** The last day it may be used, in words: "28 May 2026", or "29 May 2026, until 10:00". */
export function printUseBy(unusableFrom: string): string {
  const at = startOf(unusableFrom);
  const day = printDay(lastUsableDay(unusableFrom));
  return at.endsWith('T00:00') ? day : `${day}, until ${at.slice(11)}`;
}

/** How a container stands; the last three need no clock, and are kept as they were recorded. */
export type StockState =
  | 'sealed'
  | 'open'
  | 'past-in-use'
  | 'expired'
  | 'empty'
  | 'quarantined'
  | 'disposed'
  | 'returned';

/**
 * How a container stands at a local time. What was done with it comes first, then what is left, then its dates:
 * expired where the unopened date has passed too, past its in-use life where only that has.
 */
export function stateAt(
  row: {
    state: string;
    left_units: number;
    unusable_from: string;
    unopened_until: string;
    opened: string | null;
  },
  local: string,
): StockState {
  if (row.state === 'disposed' || row.state === 'returned' || row.state === 'quarantined') return row.state;
  if (row.left_units <= 0) return 'empty';
  if (!usableAt(row.unopened_until, local)) return 'expired';
  if (!usableAt(row.unusable_from, local)) return 'past-in-use';
  return row.opened === null ? 'sealed' : 'open';
}
