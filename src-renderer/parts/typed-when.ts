/**
 * Days and times as people write them on a farm, day first, turned into what the desk reads: "20 Nov 2026",
 * "20/11/26", "20.11.2026" and "2026-11-20" are one day. A browser's own boxes follow the computer, so that
 * 3/10 means two things in two offices; here it means 3 October and is said back in full words.
 * What cannot be read stays as it was typed: the field and the desk say so, and nothing is lost.
 */

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const ISO = /^(\d{4})-(\d{1,2})-(\d{1,2})$/;
const NUMBERS = /^(\d{1,2})[./\- ](\d{1,2})[./\- ](\d{2}|\d{4})$/;
const NAMED = /^(?:[a-z]+,? )?(\d{1,2})(?:st|nd|rd|th)?[ .-]*([a-z]{3,9})[ .,-]*(\d{2}|\d{4})$/;
const TIME = /^(\d{1,2})(?:[:.h]?(\d{2}))?\s*(am|pm)?$/;

/** The day as "2026-11-20", or nothing where the text is no day that exists. Two digits of a year are 20…. */
export function typedDay(text: string): string | undefined {
  const plain = text.trim().toLowerCase().replaceAll(/\s+/g, ' ');
  const iso = ISO.exec(plain);
  if (iso) return dayOf(iso[1], iso[2], iso[3]);
  const numbers = NUMBERS.exec(plain);
  if (numbers) return dayOf(numbers[3], numbers[2], numbers[1]);
  const named = NAMED.exec(plain);
  const word = named?.[2] ?? '';
  const month = MONTHS.findIndex((name) => word.startsWith(name) && isMonth(word, name));
  return named && month >= 0 ? dayOf(named[3], String(month + 1), named[1]) : undefined;
}

const LONG = 'january february march april may june july august september october november december sept';

function isMonth(word: string, short: string): boolean {
  return word === short || LONG.split(' ').includes(word);
}

function dayOf(year = '', month = '', day = ''): string | undefined {
  const full = year.length === 2 ? `20${year}` : year;
  const at = new Date(Date.UTC(Number(full), Number(month) - 1, Number(day)));
  const iso = `${full}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  // A day that does not exist, such as 31 June, comes out of the calendar as another one.
  return Number.isNaN(at.getTime()) || at.toISOString().slice(0, 10) !== iso ? undefined : iso;
}

/** The time as "14:05", or nothing where the text is none: "14:05", "14.05", "1405", "2:05 pm", "9 am". */
export function typedTime(text: string): string | undefined {
  const match = TIME.exec(text.trim().toLowerCase());
  if (!match) return undefined;
  const [, hours = '', minutes, half] = match;
  // "9" alone may be a slip of a longer time; "9 am" is none.
  if (minutes === undefined && half === undefined) return undefined;
  const shown = Number(hours);
  if (half !== undefined && (shown < 1 || shown > 12)) return undefined;
  const hour = half === undefined ? shown : (shown % 12) + (half === 'pm' ? 12 : 0);
  if (hour > 23 || Number(minutes ?? 0) > 59) return undefined;
  return `${String(hour).padStart(2, '0')}:${(minutes ?? '00').padStart(2, '0')}`;
}

/** Day and time as "2026-11-20T14:05", from the day, a gap and the time; nothing where one of them is missing. */
export function typedWhen(text: string): string | undefined {
  const match = /^(.+?)(?:[ ,tT]+(?:at )?)(\d{1,2}(?:[:.h]\d{2}| ?[ap]m)(?: ?[ap]m)?|\d{4})$/i.exec(
    text.trim(),
  );
  if (!match) return undefined;
  const day = typedDay((match[1] ?? '').replace(/,$/, ''));
  const time = typedTime(match[2] ?? '');
  return day === undefined || time === undefined ? undefined : `${day}T${time}`;
}

/** How a day stands in its box while nobody types there: "20 Nov 2026". Anything else stays as it is. */
export function shownDay(iso: string): string {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso);
  if (!match || typedDay(iso) === undefined) return iso;
  const month = MONTHS[Number(match[2]) - 1] ?? '';
  return `${Number(match[3])} ${month.charAt(0).toUpperCase()}${month.slice(1)} ${match[1]}`;
}

/** The same for a day with its time: "20 Nov 2026 14:05". */
export function shownWhen(iso: string): string {
  const [day = '', time] = iso.split('T');
  return time === undefined || typedWhen(iso) === undefined ? iso : `${shownDay(day)} ${time}`;
}
