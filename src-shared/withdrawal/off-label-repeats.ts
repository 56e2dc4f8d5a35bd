import type { DoseLine } from '../label/terms.ts';
import { hoursIn, type Period, parsePeriod, periodInWords } from '../quantity/period.ts';
import { type Day, daysBetween, printDay } from '../time/day.ts';

/** A dose before: local day or date-time, and its instant (UTC, ISO). */
export type Earlier = { local: string; at: string };

type Deviation = { code: string; text: string };

const HOUR_MS = 3_600_000;

/**
 * How a dose departs from the repeats that its line of the label prints: too soon after the one before
 * (`repeated-early`), or one more than the label's number (`more-doses`). A line that prints no repeats is not judged:
 * it does not forbid them either. Of a vaccine only too soon, under a code of its own (`vaccine-early`): each dose has
 * its own period, and a booster of another year is no dose of the course.
 * @param before earlier doses by the same line, newest first
 */
export function repeatDeviations(
  { repeats }: Pick<DoseLine, 'repeats'>,
  isVaccine: boolean,
  now: Earlier,
  before: readonly Earlier[],
): Deviation[] {
  const last = before[0];
  if (repeats === undefined || last === undefined) return [];
  const found: Deviation[] = [];
  const named = repeats.earliest ?? repeats.due;
  const least = parsePeriod(named, 'repeats');
  if (isSooner(last, now, least)) {
    const says = repeats.earliest === undefined ? 'each' : 'not sooner than';
    found.push({
      code: isVaccine ? 'vaccine-early' : 'repeated-early',
      text: `given again ${sayGap(last, now)} the dose of ${printDay(dayOf(last))}; the label says ${says} ${periodInWords(least)} after the one before`,
    });
  }
  if (isVaccine) return found;
  const n = 1 + inARow(now, before, parsePeriod(repeats.latest ?? repeats.due, 'repeats'));
  if (n > repeats.doses) {
    found.push({ code: 'more-doses', text: `dose ${n} in a row; the label says ${repeats.doses}` });
  }
  return found;
}

const dayOf = ({ local }: Earlier) => local.slice(0, 10) as Day;
const msBetween = (a: Earlier, b: Earlier) => Date.parse(b.at) - Date.parse(a.at);
const isTimed = ({ local }: Earlier) => local.length > 10;

/** Days are counted on the calendar, hours as elapsed time where both times are known. */
function isSooner(last: Earlier, now: Earlier, least: Period): boolean {
  if (least.unit === 'd') return daysBetween(dayOf(last), dayOf(now)) < least.value;
  if (!isTimed(last) || !isTimed(now)) return false;
  // Hours are not kept to the minute: a tenth less than what the label says is still its interval (practice).
  return msBetween(last, now) * 10 < least.value * HOUR_MS * 9;
}

function sayGap(last: Earlier, now: Earlier): string {
  const days = daysBetween(dayOf(last), dayOf(now));
  if (days > 1 || !isTimed(last) || !isTimed(now))
    return days === 0 ? 'on the same day as' : `${periodInWords({ value: days, unit: 'd' })} after`;
  const gap = msBetween(last, now);
  const hours = (gap - (gap % HOUR_MS)) / HOUR_MS;
  return hours === 0 ? 'less than an hour after' : `${periodInWords({ value: hours, unit: 'h' })} after`;
}

/** Doses before this one without a gap longer than twice the label's latest: those of the same course. */
function inARow(now: Earlier, before: readonly Earlier[], latest: Period): number {
  let next = now;
  let n = 0;
  for (const each of before) {
    if (msBetween(each, next) > 2 * hoursIn(latest) * HOUR_MS) break;
    n += 1;
    next = each;
  }
  return n;
}
