const numberAndUnit = /(?<=\d) (?=(?:[mµ]?[gL]|kg|lb|%|IU|[dh])(?![\w]))/g;
const dayAndMonth =
  /\b(\d{1,2}) (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) (\d{4})(?:, (\d{2}:\d{2}))?/g;
const tagNumber = /\b([A-Z]{2}) (\d{1,2}) (\d{6}) (\d{5})\b/g;

/** A text to be shown in which a number keeps its unit, and a date or a tag stays in one piece. For display alone. */
export function together(text: string): string {
  return text
    .replace(numberAndUnit, '\u00a0')
    .replace(dayAndMonth, (whole) => whole.replaceAll(' ', '\u00a0'))
    .replace(tagNumber, (whole) => whole.replaceAll(' ', '\u00a0'));
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

/** "a, b and c". */
export function listed(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}
