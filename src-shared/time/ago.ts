import { type Day, daysBetween } from './day.ts';

/** How long before `today` a local day or time lies, in whole days: "today", "yesterday", "12 days ago". */
export function sayAgo(local: string, today: Day): string {
  // The first ten signs of a local time are its day.
  const days = daysBetween(local.slice(0, 10) as Day, today);
  if (days <= 0) return 'today';
  return days === 1 ? 'yesterday' : `${days} days ago`;
}
