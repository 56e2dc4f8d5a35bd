import type { Reply } from '../../../src-shared/calls/all.ts';
import { listed } from '../../parts/words.ts';
import { sayLocal } from './words.ts';

export type GroupRow = Reply<'groups'>['groups'][number];
export type GroupDates = GroupRow['dates'];

/** The dates of a group with what they are called, in the order of the year. */
export const groupDates: readonly { name: keyof GroupDates; label: string; hint?: string }[] = [
  { name: 'ramIn', label: 'Ram in' },
  { name: 'ramOut', label: 'Ram out' },
  { name: 'scanned', label: 'Scanned' },
  { name: 'lambingFrom', label: 'Lambing from' },
  { name: 'lambingTo', label: 'Lambing to' },
  { name: 'shorn', label: 'Shorn', hint: 'Pour-ons ask for it.' },
  { name: 'dueAwayFrom', label: 'Due away from', hint: 'Planning says whose hold would outlast it.' },
  { name: 'dueAwayTo', label: 'Due away to' },
];

/** The last day of each span with its first, so that both are said in one breath. */
const spans: Readonly<Record<string, keyof GroupDates>> = {
  lambingTo: 'lambingFrom',
  dueAwayTo: 'dueAwayFrom',
};

/** "ram in 1 Nov 2026, lambing from 28 Mar 2027 to 20 Apr 2027", or nothing. */
export function sayDates(dates: GroupDates): string {
  const said: string[] = [];
  for (const { name, label } of groupDates) {
    const day = dates[name];
    if (day === undefined) continue;
    const from = spans[name];
    const hasFrom = from !== undefined && dates[from] !== undefined;
    // The first day of a span was said just before.
    if (hasFrom) said.push(`${said.pop()} to ${sayLocal(day)}`);
    else said.push(`${label.toLowerCase()} ${sayLocal(day)}`);
  }
  return listed(said);
}
