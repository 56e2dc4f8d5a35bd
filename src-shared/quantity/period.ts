import { Refusal } from '../refusal.ts';
import { quoted, sayField } from './field.ts';

/**
 * A length of time as labels give it: whole days or whole hours. The two are not the same: days count by the
 * rule in use, hours always as elapsed time.
 */
export type Period = { readonly value: number; readonly unit: 'd' | 'h' };

/** The longest period taken: far beyond any label, so that a slip of the keyboard is noticed. */
export const MOST_DAYS = 3660;

const ONE = /^(\d{1,6})\s*(d|day|days|h|hr|hrs|hour|hours|w|week|weeks)$/i;

/**
 * Reads "28 d", "28 days", "72 h", "0 d", "6 weeks" (42 d), and a sum such as "35 d + 36 h", which counts as
 * elapsed hours because part of it is in hours. Refuses (`bad-period`) parts of a day, months, a bare number and
 * anything over 3,660 days.
 */
export function parsePeriod(text: string, field: string): Period {
  const refuse = (says: string) => new Refusal('bad-period', `${sayField(field)}: ${says}`, { field });
  if (text.length > 60) throw refuse('that text is too long to be a period.');
  const parts = text.split('+').map((part) => parseOne(part.trim(), refuse));
  const inHours = parts.some((part) => part.unit === 'h');
  let hours = 0;
  for (const part of parts) hours += part.unit === 'd' ? part.value * 24 : part.value;
  if (hours > MOST_DAYS * 24) throw refuse(`${quoted(text)} is longer than any label; check it.`);
  return inHours ? { value: hours, unit: 'h' } : { value: hours / 24, unit: 'd' };
}

function parseOne(text: string, refuse: (says: string) => Refusal): Period {
  const match = ONE.exec(text);
  if (match === null) {
    if (text === '') throw refuse('a period is missing; write it as in 28 d or 72 h.');
    if (/^\d+$/.test(text)) throw refuse(`write d for days or h for hours after ${quoted(text)}.`);
    if (/month|year/i.test(text))
      throw refuse('months and years differ in length; write the days, as in 28 d.');
    if (/^\d+[.,]\d+/.test(text)) throw refuse(`write whole days or whole hours, not ${quoted(text)}.`);
    if (/^[-−–]/.test(text)) throw refuse(`${quoted(text)} is below zero, and that cannot be.`);
    throw refuse(`${quoted(text)} is no period; write it as in 28 d or 72 h.`);
  }
  const value = Number(match[1]);
  const unit = (match[2] ?? '').charAt(0).toLowerCase();
  if (unit === 'w') return { value: value * 7, unit: 'd' };
  return { value, unit: unit === 'd' ? 'd' : 'h' };
}

/** Its length in elapsed hours, a day being 24: for comparing lengths, not for counting on a calendar. */
export function hoursIn(period: Period): number {
  return period.unit === 'd' ? period.value * 24 : period.value;
}

/** "28 d", "72 h". */
export function printPeriod(period: Period): string {
  return `${period.value} ${period.unit}`;
}

/** For people: "28 days", "1 hour". */
export function periodInWords(period: Period): string {
  const name = period.unit === 'd' ? 'day' : 'hour';
  return `${period.value} ${name}${period.value === 1 ? '' : 's'}`;
}
