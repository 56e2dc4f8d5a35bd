import { Temporal } from 'temporal-polyfill';
import { quoted, sayField } from '../quantity/field.ts';
import { Refusal } from '../refusal.ts';

/**
 * A calendar day, as "2027-02-28". It has no zone and no clock: it is what a person writes in a book, and it is
 * never the same type as an instant.
 */
export type Day = string & { readonly is: 'day' };

const SHAPE = /^(\d{4})-(\d{2})-(\d{2})$/;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const LONG_MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];
/** Days outside these years are slips of the keyboard. */
const FIRST_YEAR = 1900;
const LAST_YEAR = 2199;

function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/**
 * Reads "2027-02-28". Refuses (`bad-day`) any other way of writing a date, days that do not exist, and years
 * outside 1900 to 2199.
 */
export function parseDay(text: string, field: string): Day {
  const refuse = (says: string) => new Refusal('bad-day', `${sayField(field)}: ${says}`, { field });
  const trimmed = text.trim();
  const match = SHAPE.exec(trimmed);
  if (match === null)
    throw refuse(`write the date as year-month-day, as in 2027-02-28, not ${quoted(text)}.`);
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (year < FIRST_YEAR || year > LAST_YEAR) throw refuse(`the year ${match[1]} is too far off; check it.`);
  if (month < 1 || month > 12)
    throw refuse(`there is no month ${match[2]}; write the date as year-month-day.`);
  const most = daysInMonth(year, month);
  if (day < 1 || day > most) {
    throw refuse(`${LONG_MONTHS[month - 1]} ${year} has ${most} days, so there is no ${day} in it.`);
  }
  return trimmed as Day;
}

/** Steps of up to so many days are gone month by month: an outlook goes thousands of them. */
const NEAR_DAYS = 400;

/** The day so many days later, or earlier when below zero. Throws RangeError for what is no day: a mistake in a program. */
export function addDays(day: Day, days: number): Day {
  const match = Math.abs(days) <= NEAR_DAYS && Number.isInteger(days) ? SHAPE.exec(day) : null;
  let [year, month, on] = [Number(match?.[1]), Number(match?.[2]), Number(match?.[3])];
  if (match === null || month < 1 || month > 12 || on < 1 || on > daysInMonth(year, month)) {
    return Temporal.PlainDate.from(day).add({ days }).toString() as Day;
  }
  on += days;
  while (on > daysInMonth(year, month)) {
    on -= daysInMonth(year, month);
    month = month === 12 ? 1 : month + 1;
    year += Number(month === 1);
  }
  while (on < 1) {
    month = month === 1 ? 12 : month - 1;
    year -= Number(month === 12);
    on += daysInMonth(year, month);
  }
  const two = (n: number) => String(n).padStart(2, '0');
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(on)}` as Day;
}

/** Below zero, zero or above zero. */
export function compareDays(a: Day, b: Day): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Days from one to the other; below zero when `to` is before `from`. */
export function daysBetween(from: Day, to: Day): number {
  return Temporal.PlainDate.from(from).until(Temporal.PlainDate.from(to), { largestUnit: 'day' }).days;
}

/** The last day of "2027-03": what a printed month without a day means on a pack. Refuses (`bad-day`). */
export function lastDayOfMonth(month: string, field = 'month'): Day {
  const match = /^(\d{4})-(\d{2})$/.exec(month.trim());
  if (match === null) {
    throw new Refusal('bad-day', `${sayField(field)}: write the month as in 2027-03, not ${quoted(month)}.`, {
      field,
    });
  }
  const first = parseDay(`${match[1]}-${match[2]}-01`, field);
  return `${first.slice(0, 8)}${String(daysInMonth(Number(match[1]), Number(match[2]))).padStart(2, '0')}` as Day;
}

/** For people and paper, never to be misread between countries: "28 Feb 2027". */
export function printDay(day: Day): string {
  return `${Number(day.slice(8, 10))} ${MONTHS[Number(day.slice(5, 7)) - 1]} ${day.slice(0, 4)}`;
}
