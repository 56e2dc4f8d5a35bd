import { addDays, type Day } from '../time/day.ts';
import { type Instant, millisecondsBetween } from '../time/zone.ts';
import { type BookLine, recordActOf } from './columns.ts';
import { type ItemContext, type ItemId, itemOf } from './items.ts';
import type { Profile, ProfileId } from './profiles.ts';

/** A thing that a profile asks for and a line does not say. */
export type Gap = {
  item: ItemId | 'late';
  /** Everything that asks for it. */
  profiles: ProfileId[];
  missing: string;
};

const HOUR_MS = 3_600_000;
/** An entry written later than this after it happened is printed as late, whatever the law says. */
export const LATE_HOURS = 48;

/** Whole hours between the time by which a thing had happened for certain and when it was written; never below 0. */
export function hoursLate(happenedBy: Instant, written: Instant): number {
  return Math.max(0, Math.floor(millisecondsBetween(happenedBy, written) / HOUR_MS));
}

/** "3 days after it happened" for an entry written late; nothing for one written in time. */
export function sayLate(hours: number): string {
  if (hours <= LATE_HOURS) return '';
  return `written ${Math.floor(hours / 24)} days after it happened`;
}

/**
 * What is missing in one line that stands, by every profile of its holding. A line that is corrected or struck out has
 * no gaps: nothing rests on it.
 * @param hours how late it was written, as `hoursLate` says
 */
export function gapsOf(
  line: BookLine,
  profiles: readonly Profile[],
  context: ItemContext,
  hours: number,
): Gap[] {
  const act = recordActOf(line);
  if (act === undefined || line.state !== 'stands') return [];
  const found = new Map<Gap['item'], Gap>();
  const add = (id: Gap['item'], profile: ProfileId, missing: string) => {
    const gap = found.get(id);
    if (gap) gap.profiles.push(profile);
    else found.set(id, { item: id, profiles: [profile], missing });
  };
  for (const profile of profiles) {
    for (const id of profile.items) {
      const item = itemOf(id);
      if (item.act !== act || item.when?.(line, context) === false) continue;
      if (item.columns.some((column) => line[column].trim() === '')) add(id, profile.id, item.missing);
    }
    const within = profile.withinHours;
    if (act === 'administration' && within !== undefined && hours > within) {
      add('late', profile.id, `it was written down more than ${within} hours after it happened`);
    }
  }
  return [...found.values()];
}

/** The name a gap goes by: the entry it is in, and the item. */
export function gapKey(entry: string, item: Gap['item'] | 'possibly-treated'): string {
  return `${entry} ${item}`;
}

const LEAST_YEARS = 5;

/**
 * Until when what happened on a day is kept at least: the longest that any profile asks, never under five years, and
 * always to the end of the calendar year. Foldbook itself never deletes.
 */
export function keptUntil(day: Day, profiles: readonly Profile[]): Day {
  const years = Math.max(LEAST_YEARS, ...profiles.map((profile) => profile.keptYears));
  return addDays(`${Number(day.slice(0, 4)) + years + 1}-01-01` as Day, -1);
}
