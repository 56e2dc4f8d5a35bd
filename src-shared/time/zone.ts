import { Temporal } from 'temporal-polyfill';
import { quoted, sayField } from '../quantity/field.ts';
import { Refusal } from '../refusal.ts';
import { addDays, type Day, parseDay, printDay } from './day.ts';

/** A point in time: UTC, ISO 8601 with milliseconds ("2027-02-28T08:00:00.000Z"). Such texts sort as time does. */
export type Instant = string & { readonly is: 'instant' };

/** What a person wrote: a day, or a day with hours and minutes. */
export type Local = { readonly day: Day; readonly time?: string };

const LOCAL = /^(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}):(\d{2}))?$/;
const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/;

const known = new Map<string, string>();

/**
 * The zone under its proper name ("Europe/London"). Refuses (`bad-zone`) what is no IANA zone, and bare offsets:
 * an offset does not know when the clocks change.
 */
export function checkZone(zone: string, field: string): string {
  const found = known.get(zone);
  if (found !== undefined) return found;
  const refuse = () =>
    new Refusal('bad-zone', `${quoted(zone)} is no time zone; write it as in Europe/London.`, {
      field,
    });
  if (!/^[A-Za-z][A-Za-z0-9_+/-]{1,60}$/.test(zone)) throw refuse();
  let named: string;
  try {
    named = new Temporal.ZonedDateTime(0n, zone).timeZoneId;
  } catch (thrown) {
    if (thrown instanceof RangeError) throw refuse();
    throw thrown;
  }
  known.set(zone, named);
  return named;
}

/** Reads "2026-03-01" or "2026-03-01T08:00". Refuses (`bad-day`, `bad-time`). */
export function parseLocal(text: string, field: string): Local {
  const trimmed = text.trim();
  const match = LOCAL.exec(trimmed);
  if (match === null) {
    parseDay(trimmed.slice(0, 10), field);
    throw new Refusal(
      'bad-time',
      `${sayField(field)}: write the time after the date as in 2027-02-28T08:00, not ${quoted(text)}.`,
      { field },
    );
  }
  const day = parseDay(match[1] ?? '', field);
  if (match[2] === undefined) return { day };
  if (Number(match[2]) > 23 || Number(match[3]) > 59) {
    throw new Refusal('bad-time', `${sayField(field)}: there is no time ${match[2]}:${match[3]}.`, { field });
  }
  return { day, time: `${match[2]}:${match[3]}` };
}

/**
 * A flock treated together asks the same few conversions thousands of times, and each walks the zone's rules.
 * Bounded, so that a long import cannot fill the memory.
 */
const MOST_REMEMBERED = 4000;

function remembering<T extends string>(
  make: (key: string, zone: string) => T,
): (key: string, zone: string) => T {
  const answers = new Map<string, T>();
  return (key, of) => {
    const name = `${key} ${of}`;
    const found = answers.get(name);
    if (found !== undefined) return found;
    if (answers.size >= MOST_REMEMBERED) answers.clear();
    const made = make(key, of);
    answers.set(name, made);
    return made;
  };
}

function toInstant(instant: Temporal.Instant): Instant {
  return instant.toString({ fractionalSecondDigits: 3 }) as Instant;
}

/**
 * The instant a local day or date-time stands for. A day stands for its first instant (`start`; 01:00 where the
 * clocks skip midnight) or the first instant of the next day (`end`). A time that the clocks skip or repeat is
 * the later of the two it could be: holds end late, never early. Refuses (`bad-day`, `bad-time`, `bad-zone`).
 */
export function instantOf(local: string, zone: string, which: 'start' | 'end', field = 'date'): Instant {
  const at = parseLocal(local, field);
  const name = checkZone(zone, 'zone');
  if (at.time !== undefined) {
    return timeInZone(`${at.day}T${at.time}`, name);
  }
  return startOfDay(at.day, name, which === 'end' ? 1 : 0);
}

/**
 * The two instants a local date-time can stand for: the same one, or an hour apart where the clocks repeat it or skip
 * it. `exists` is false for one that is skipped. Refuses (`bad-day`, `bad-time`, `bad-zone`).
 */
export function bothInstantsOf(
  local: string,
  zone: string,
  field = 'date',
): { first: Instant; second: Instant; exists: boolean } {
  const { day, time = '00:00' } = parseLocal(local, field);
  const plain = Temporal.PlainDateTime.from(`${day}T${time}`);
  const name = checkZone(zone, 'zone');
  const at = (disambiguation: 'earlier' | 'later') => plain.toZonedDateTime(name, { disambiguation });
  const later = at('later');
  return {
    first: toInstant(at('earlier').toInstant()),
    second: toInstant(later.toInstant()),
    exists: later.toPlainDateTime().equals(plain),
  };
}

const timeInZone = remembering((local, zone) =>
  toInstant(
    Temporal.PlainDateTime.from(local).toZonedDateTime(zone, { disambiguation: 'later' }).toInstant(),
  ),
);

const dayInZone = remembering((day, zone) =>
  toInstant(Temporal.PlainDate.from(day).toZonedDateTime(zone).toInstant()),
);

/** The first instant of the local day so many days after `day`. */
export function startOfDay(day: Day, zone: string, daysLater = 0): Instant {
  return dayInZone(daysLater === 0 ? day : addDays(day, daysLater), checkZone(zone, 'zone'));
}

/** The same text as an instant. Refuses (`bad-time`) any other form, so that texts can be compared as they are. */
export function parseInstant(text: string, field: string): Instant {
  const refuse = () =>
    new Refusal('bad-time', `${sayField(field)}: ${quoted(text)} is no instant in UTC.`, { field });
  if (!INSTANT.test(text)) throw refuse();
  try {
    return toInstant(Temporal.Instant.from(text));
  } catch (thrown) {
    if (thrown instanceof RangeError) throw refuse();
    throw thrown;
  }
}

/** The instant so many elapsed hours later, whatever the clocks do meanwhile; whole hours. */
export function addHours(instant: Instant, hours: number): Instant {
  return hoursLater(instant, String(hours));
}

const hoursLater = remembering((instant, hours) =>
  toInstant(Temporal.Instant.from(instant).add({ hours: Number(hours) })),
);

/** Whole milliseconds from one instant to another. */
export function millisecondsBetween(from: Instant, to: Instant): number {
  return Temporal.Instant.from(to).epochMilliseconds - Temporal.Instant.from(from).epochMilliseconds;
}

/** The later of two instants. */
export function laterOf(a: Instant, b: Instant): Instant {
  return a > b ? a : b;
}

function inZone(instant: Instant, zone: string): Temporal.ZonedDateTime {
  return Temporal.Instant.from(instant).toZonedDateTimeISO(checkZone(zone, 'zone'));
}

/** The local day an instant falls on. */
export function dayOf(instant: Instant, zone: string): Day {
  return inZone(instant, zone).toPlainDate().toString() as Day;
}

/** "2026-03-01T08:00" on the wall clock of the zone. */
export function localOf(instant: Instant, zone: string): string {
  return inZone(instant, zone).toPlainDateTime().toString({ smallestUnit: 'minute' });
}

const offsetInZone = remembering((instant, zone) =>
  inZone(instant as Instant, zone).toString({ timeZoneName: 'never', smallestUnit: 'second' }),
);

/** "2026-03-01T08:00:00+00:00": the wall clock with its offset, without the zone's name. */
export function isoWithOffset(instant: Instant, zone: string): string {
  return offsetInZone(instant, zone);
}

/** For people and paper: "28 Feb 2027, 08:00". */
export function printInstant(instant: Instant, zone: string): string {
  const at = inZone(instant, zone);
  const minutes = `${String(at.hour).padStart(2, '0')}:${String(at.minute).padStart(2, '0')}`;
  return `${printDay(at.toPlainDate().toString() as Day)}, ${minutes}`;
}
