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
