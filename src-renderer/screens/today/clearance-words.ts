import type { Reply } from '../../../src-shared/calls/all.ts';
import { addDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import { count } from '../../parts/words.ts';

export type HeldRow = Reply<'clear-list'>['held'][number];
type Clearing = Pick<HeldRow, 'shown' | 'clear'>;

/** So many are named on Today; the list names all. */
export const named = 5;

/** Heads of all rows together. */
export function heads(rows: readonly { heads: number }[]): number {
  return rows.reduce((sum, row) => sum + row.heads, 0);
}

/** Who is held by when it clears: in the course of today, within the seven days after it, and who not by waiting. */
export function clearingSoon<T extends Pick<HeldRow, 'clear' | 'heads'>>(held: readonly T[], today: string) {
  // Two offsets may stand beside each other; as instants they compare whatever it is.
  const byTime = held
    .filter((row) => row.clear !== undefined)
    .toSorted((a, b) => Date.parse(a.clear ?? '') - Date.parse(b.clear ?? ''));
  const dayOf = (row: T) => (row.clear ?? '').slice(0, 10);
  const until = addDays(today as Day, 7);
  return {
    /** The first to clear, at whatever time. */
    next: byTime[0],
    today: byTime.filter((row) => dayOf(row) === today),
    week: byTime.filter((row) => dayOf(row) > today && dayOf(row) <= until),
    /** Heads that no waiting clears. */
    notByTime: heads(held) - heads(byTime),
  };
}

function listed(rows: readonly Clearing[], say: (row: Clearing) => string): string {
  const more = rows.length - named;
  return `${rows.slice(0, named).map(say).join('; ')}${more > 0 ? `; and ${more.toLocaleString('en-GB')} more` : ''}.`;
}

/** "UK 9 999999 00001 on 21 Mar 2026; …", in the order given. */
export function namesAndDays(rows: readonly Clearing[]): string {
  return listed(rows, (row) => `${row.shown} on ${printDay((row.clear ?? '').slice(0, 10) as Day)}`);
}

/** "Store lambs at 14:00; …", in the order given. */
export function namesAndTimes(rows: readonly Clearing[]): string {
  return listed(rows, (row) => `${row.shown} at ${(row.clear ?? '').slice(11, 16)}`);
}

/** "120 head: Marlexan 2.5 % drench; 3 head: came in with no statement": what holds how many, most first. */
export function causesOf(held: readonly Pick<HeldRow, 'heads' | 'holds'>[]): string {
  const causes = new Map<string, number>();
  for (const row of held) {
    const own = new Set(
      row.holds.map((hold) => hold.product ?? /\((.+)\)$/.exec(hold.text)?.[1] ?? hold.text),
    );
    for (const cause of own) causes.set(cause, (causes.get(cause) ?? 0) + row.heads);
  }
  const sorted = [...causes].toSorted((a, b) => b[1] - a[1]);
  const said = sorted.slice(0, named).map(([cause, n]) => `${count(n, 'head', 'head')}: ${cause}`);
  const more = sorted.length - named;
  return `${said.join('; ')}${more > 0 ? `; and ${count(more, 'other reason', 'other reasons')}` : ''}.`;
}
