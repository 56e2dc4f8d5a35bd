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

/** "ram in 1 Nov 2026, lambing from 28 Mar 2027", or nothing. */
export function sayDates(dates: GroupDates): string {
  const said = groupDates.flatMap(({ name, label }) => {
    const day = dates[name];
    return day === undefined ? [] : [`${label.toLowerCase()} ${sayLocal(day)}`];
  });
  return listed(said);
}
