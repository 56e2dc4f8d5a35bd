export { listed } from '../../src-shared/list-words.ts';

/** A number with its unit, a day with or without its time, a tag, the number of a container: each stays on one line. */
const oneLine =
  /(\d[\d.,]* (?:[mµ]?[gL]|kg|lb|%|IU|[dh])(?![\w])|\b\d{1,2} (?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) \d{4}(?:, \d{2}:\d{2})?|\b[A-Z]{2} \d{1,2} \d{6} \d{5}\b|\b(?=[A-Z\d-]*\d)[A-Z][A-Z\d]{0,9}(?:-[A-Z\d]{1,8}){1,3}\b)/;

/** A text in parts: every second one is to stay on one line. The letters are the same, so that it is copied as it was. */
export function lineParts(text: string): readonly string[] {
  return text.split(oneLine);
}

/** A day in full words, never to be misread between countries: "Tuesday 28 February 2027". */
export function dayInWords(day: string): string {
  const [year, month, date] = day.split('-').map(Number);
  const at = new Date(Date.UTC(year ?? 0, (month ?? 1) - 1, date ?? 1));
  const part = (options: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', ...options }).format(at);
  return `${part({ weekday: 'long' })} ${part({ day: 'numeric' })} ${part({ month: 'long' })} ${part({ year: 'numeric' })}`;
}

/** A whole number with the right form of its noun: "1 head", "2,400 entries". */
export function count(n: number, one: string, many: string): string {
  return `${n.toLocaleString('en-GB')} ${n === 1 ? one : many}`;
}
