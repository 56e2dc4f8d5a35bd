import { type Day, printDay } from '../../../src-shared/time/day.ts';

const dayAndTime = /^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2})?/;

/** A local day, or day and time, never to be misread between countries: "1 Mar 2026", "1 Mar 2026, 08:05". */
export function localInWords(local: string): string {
  if (!dayAndTime.test(local)) return local;
  const day = printDay(local.slice(0, 10) as Day);
  return local.length > 10 ? `${day}, ${local.slice(11, 16)}` : day;
}

/** An instant (UTC, ISO 8601) as the clock of a zone showed it: "1 Mar 2026, 08:05". */
export function instantInWords(instant: string, zone: string): string {
  return localInWords(localAt(instant, zone));
}

/** The same as a local day and time: "2026-03-01T08:05". */
export function localAt(instant: string, zone: string): string {
  const parts = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).formatToParts(new Date(instant));
  const of = (type: string) => parts.find((part) => part.type === type)?.value ?? '';
  return `${of('year')}-${of('month')}-${of('day')}T${of('hour')}:${of('minute')}`;
}

/** A day and a time of two fields as one local text; the day alone when no time is given. */
export function joinLocal(day: string, time: string): string {
  return time === '' ? day : `${day}T${time}`;
}
