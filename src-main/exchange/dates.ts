import { Refusal } from '../../src-shared/refusal.ts';
import { type Day, parseDay } from '../../src-shared/time/day.ts';
import { checkShown } from './cells.ts';
import { type Question, sayLines } from './questions.ts';

/** Dates as files write them. The order of day and month is known from the column, asked, and never guessed. */

export type DateOrder = 'dmy' | 'mdy' | 'ymd';

export const ORDER_WORDS: Record<DateOrder, string> = {
  dmy: 'day/month/year',
  mdy: 'month/day/year',
  ymd: 'year/month/day',
};

/** Names of months in languages whose farms exchange sheep, by their first letters without accents. */
const MONTH_STARTS: readonly (readonly string[])[] = [
  ['jan', 'gen', 'ene'],
  ['feb', 'fev', 'febr'],
  ['mar', 'mrt', 'maa'],
  ['apr', 'avr', 'abr'],
  ['may', 'mai', 'mei', 'mag'],
  ['jun', 'juin', 'giu'],
  ['jul', 'juil', 'lug'],
  ['aug', 'aou', 'ago'],
  ['sep', 'set'],
  ['oct', 'okt', 'ott', 'out'],
  ['nov'],
  ['dec', 'dez', 'dic'],
];

const TIME = /[T ]+(\d{1,2})[:.](\d{2})(?:[:.](\d{2})(?:[.,]\d+)?)?\s*([ap]m)?\s*(Z|[+-]\d{2}:?\d{2})?$/i;

type Parts = { days: Partial<Record<DateOrder, string>>; sure: boolean; time: string | undefined };

function bad(field: string, says: string, code = 'date-unreadable'): Refusal {
  return new Refusal(code, says, { field });
}

function dayText(year: string, month: string | number, day: string): string {
  return `${year}-${String(month).padStart(2, '0')}-${day.padStart(2, '0')}`;
}

const MONTH_DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** The same days as `parseDay` takes, without the cost of an error for each that does not exist. */
function exists(text: string): boolean {
  const year = Number(text.slice(0, 4));
  const month = Number(text.slice(5, 7));
  const day = Number(text.slice(8));
  if (!(year >= 1900 && year <= 2199 && day >= 1 && day <= (MONTH_DAYS[month - 1] ?? 0))) return false;
  return month !== 2 || day < 29 || (year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0));
}

function monthNumber(word: string): number | undefined {
  const folded = word.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/\.$/, '');
  const at = MONTH_STARTS.findIndex((starts) =>
    starts.some((start) => (folded.length < start.length ? false : folded.startsWith(start))),
  );
  return at < 0 ? undefined : at + 1;
}

/** No sheep lives from one century into the next but one: two digits of a year are of this century. */
function fullYear(year: string): string {
  return year.length === 2 ? `20${year}` : year;
}

/** "10:23" in the 24-hour clock. A zone is refused: which day it was on the farm is not said. */
export function readTime(text: string, field: string): string {
  const found = TIME.exec(` ${text.trim()}`);
  if (found === null) throw bad(field, `“${text}” is not a time such as 14:05.`, 'time-unreadable');
  const [, hourText = '', minute = '', , half, zone] = found;
  if (zone !== undefined) {
    throw bad(
      field,
      `The time “${text.replace(/^[T ]+/i, '')}” carries a zone; save the file with local times.`,
      'time-zone',
    );
  }
  let hour = Number(hourText);
  if (half !== undefined) {
    if (hour < 1 || hour > 12) throw bad(field, `There is no hour ${hourText} ${half}.`, 'time-unreadable');
    hour = (hour % 12) + (half.toLowerCase() === 'pm' ? 12 : 0);
  }
  if (hour > 23 || Number(minute) > 59) {
    throw bad(field, `There is no time ${hourText}:${minute}.`, 'time-unreadable');
  }
  return `${String(hour).padStart(2, '0')}:${minute}`;
}

function readNamedMonth(text: string, field: string): string | undefined {
  const dayFirst = /^(\d{1,2})[. /-]+(\p{L}{3,12})\.?[ ,/-]+(\d{4}|\d{2})$/u.exec(text);
  const monthFirst = /^(\p{L}{3,12})\.?[ -]+(\d{1,2})(?:,| )+(\d{4})$/u.exec(text);
  const [day, word, year] =
    dayFirst !== null
      ? [dayFirst[1], dayFirst[2], dayFirst[3]]
      : [monthFirst?.[2], monthFirst?.[1], monthFirst?.[3]];
  if (day === undefined || word === undefined || year === undefined) return undefined;
  const month = monthNumber(word);
  if (month === undefined)
    throw bad(field, `“${word}” is no month known here; write the date as 2026-03-04.`);
  return dayText(fullYear(year), month, day);
}

/** Every way a cell can be read as a day; throws when there is none. */
function readParts(cell: string, field: string): Parts {
  checkShown(cell, field);
  if (/^\d{5}(?:[.,]\d+)?$/.test(cell)) {
    throw bad(
      field,
      `“${cell}” is the spreadsheet's own count of days; format the column as a date and save again.`,
      'date-serial',
    );
  }
  const timed = TIME.exec(cell);
  const time = timed === null ? undefined : readTime(timed[0], field);
  const text = timed === null ? cell : cell.slice(0, timed.index).trim();
  const sure = (day: string): Parts => {
    if (!exists(day)) throw bad(field, `There is no day “${text}”; correct it.`, 'date-impossible');
    return { days: { dmy: day, mdy: day, ymd: day }, sure: true, time };
  };
  const yearFirst =
    /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})$/.exec(text) ?? /^((?:19|20)\d\d)()(\d\d)(\d\d)$/.exec(text);
  if (yearFirst !== null) return sure(dayText(yearFirst[1] ?? '', yearFirst[3] ?? '', yearFirst[4] ?? ''));
  const named = readNamedMonth(text, field);
  if (named !== undefined) return sure(named);
  const numbers = /^(\d{1,2})([-/. ])(\d{1,2})\2(\d{4}|\d{2})$/.exec(text);
  if (numbers === null) throw bad(field, `“${cell}” is not a date; write it as 2026-03-04.`);
  const [, a = '', , b = '', c = ''] = numbers;
  const days: Partial<Record<DateOrder, string>> = {};
  const dmy = dayText(fullYear(c), b, a);
  const mdy = dayText(fullYear(c), a, b);
  if (exists(dmy)) days.dmy = dmy;
  if (exists(mdy)) days.mdy = mdy;
  if (c.length === 2 && a.length === 2) {
    const ymd = dayText(fullYear(a), b, c);
    if (exists(ymd)) days.ymd = ymd;
  }
  if (Object.keys(days).length === 0) {
    throw bad(
      field,
      `There is no day “${text}” in any order of day and month; correct it.`,
      'date-impossible',
    );
  }
  return { days, sure: false, time };
}

/**
 * The order of day and month of one column: as answered; or the only one in which every date of the column
 * exists (25/04/2026 says it for all); or a question. Cells that are no date at all are left to `readDate`.
 */
export function dateOrderOf(
  cells: readonly { line: number; cell: string }[],
  field: string,
  answered: DateOrder | undefined,
): { order: DateOrder | undefined; evidence?: number; question?: Question } {
  if (answered !== undefined) return { order: answered };
  const orders: DateOrder[] = ['dmy', 'mdy', 'ymd'];
  let left = orders;
  const open: { line: number; cell: string; days: Parts['days'] }[] = [];
  for (const { line, cell } of cells) {
    let parts: Parts;
    try {
      parts = readParts(cell, field);
    } catch (thrown) {
      if (thrown instanceof Refusal) continue;
      throw thrown;
    }
    if (parts.sure) continue;
    open.push({ line, cell, days: parts.days });
    left = left.filter((order) => parts.days[order] !== undefined);
  }
  const [first] = open;
  if (first === undefined) return { order: undefined };
  const [only] = left;
  if (left.length === 1 && only !== undefined) {
    const telling = open.find((one) => Object.keys(one.days).length === 1) ?? first;
    return { order: only, evidence: telling.line };
  }
  if (only !== undefined && open.every((one) => left.every((o) => one.days[o] === one.days[only]))) {
    return { order: only };
  }
  const choices =
    left.length > 0 ? left : orders.filter((o) => open.some((one) => one.days[o] !== undefined));
  const example = open.find((one) => Object.keys(one.days).length > 1) ?? first;
  const message =
    left.length > 0
      ? `Is “${example.cell}” on line ${example.line} written ${choices.map((o) => ORDER_WORDS[o]).join(' or ')}?`
      : `Dates in this column are written in more than one order (${sayLines(open.slice(0, 5).map((one) => one.line))}); which one holds? The others will be refused.`;
  return { order: undefined, question: { code: 'date-order', field, message, choices } };
}

/**
 * The day, and the local time when one is written, in a cell. `order` comes from `dateOrderOf`. Refuses what is
 * no date, does not exist, is in another order, or lies after `today`.
 */
export function readDate(
  cell: string,
  field: string,
  order: DateOrder | undefined,
  today?: Day,
): { day: Day; time?: string } {
  const parts = readParts(cell, field);
  const text = order === undefined && !parts.sure ? undefined : parts.days[order ?? 'dmy'];
  if (text === undefined) {
    const says = order === undefined ? 'a known order' : ORDER_WORDS[order];
    throw bad(field, `“${cell}” is not a day in ${says}; correct it.`, 'date-order');
  }
  const day = parseDay(text, field);
  if (today !== undefined && day > today) {
    throw bad(field, `“${cell}” lies after today (${today}); correct it.`, 'date-in-future');
  }
  return parts.time === undefined ? { day } : { day, time: parts.time };
}
