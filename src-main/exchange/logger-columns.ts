import { unitNamed } from './degrees.ts';
import { bareName } from './guess.ts';
import { lookOf } from './looks.ts';

/** What the columns of a logger's file hold. `at` is the day, with or without the time of day beside it. */
export type LoggerColumn = 'at' | 'time' | 'degrees';
export type LoggerColumns = Partial<Record<LoggerColumn, number>>;

const AT =
  /^(?:date ?time|date and time|timestamp|time ?stamp|date|day|datum|fecha|data|date heure|datum uhrzeit|datum zeit|logged|recorded)\b/;
const TIME = /^(?:time|time of day|clock|zeit|uhrzeit|heure|hora|tijd|tid|ora)\b/;
const DEGREES = /\b(?:temp|temperature|temperatur|temperatura|celsius|fahrenheit|degrees?|grad)\b/;

/**
 * The columns of a logger's file, by their names and what stands in them. Where two columns could hold the
 * temperature none is taken: which probe hung in the store only the farm knows.
 * @param sample some 50 rows
 */
export function guessLoggerColumns(
  header: readonly string[],
  sample: readonly (readonly string[])[],
): LoggerColumns {
  const names = header.map(bareName);
  const at = names.findIndex((name) => AT.test(name));
  const isDay = (i: number) => {
    const filled = sample.map((cells) => cells[i] ?? '').filter((cell) => cell.trim() !== '');
    return filled.length > 0 && filled.every((cell) => lookOf(cell) === 'day');
  };
  const days = header.flatMap((_, i) => (isDay(i) ? [i] : []));
  const found: LoggerColumns = {};
  // A column called "Time" that holds days with their time is the day.
  const day = at >= 0 && isDay(at) ? at : (days[0] ?? (at >= 0 ? at : undefined));
  if (day !== undefined) found.at = day;
  const time = names.findIndex((name, i) => i !== day && TIME.test(name));
  if (time >= 0) found.time = time;
  const taken = new Set([day, time]);
  const warm = header.flatMap((head, i) =>
    !taken.has(i) && (DEGREES.test(names[i] ?? '') || unitNamed(head) !== undefined) ? [i] : [],
  );
  const [only] = warm;
  if (warm.length === 1 && only !== undefined) found.degrees = only;
  return found;
}
