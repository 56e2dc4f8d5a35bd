import { parsePeriod } from '../quantity/period.ts';
import { addDays, type Day, daysBetween, printDay } from '../time/day.ts';
import { type GroupDates, type Judgement, NO, type NotIfGiven } from './not-if-facts.ts';
import type { NotIf } from './terms.ts';

/**
 * The rows about stage of pregnancy, lambing and shearing, judged from the dates of the animal's groups. Nobody saw
 * the day a ewe took the ram: every stage that is possible counts.
 */

/** Days from mating to lambing: about 147, and from 142 to 152 nearly always (practice). */
export const GESTATION = { least: 142, usual: 147, most: 152 } as const;

/** Whole days of a label's period; part of a day counts as one. */
export function daysOf(text: string | undefined): number {
  const period = parsePeriod(text ?? '', 'notIf');
  return period.unit === 'd' ? period.value : Math.ceil(period.value / 24);
}

const NEVER_IN_LAMB = new Set(['ram', 'ram-lamb', 'wether']);
const MALE = new Set(['male', 'castrated']);

function neverInLamb(given: NotIfGiven): boolean {
  return NEVER_IN_LAMB.has(given.class) || (given.sex !== undefined && MALE.has(given.sex));
}

/** From the first to the last day of pregnancy that is possible; nothing when the dates say nothing about this day. */
function stages(dates: GroupDates, day: Day): { least: number; most: number; from: string } | undefined {
  const { ramIn, ramOut, lambingFrom, lambingTo } = dates;
  if (ramIn !== undefined || ramOut !== undefined) {
    const since = ramIn === undefined ? GESTATION.most : daysBetween(ramIn, day);
    const out = ramOut !== undefined && ramOut <= day ? ramOut : undefined;
    const least = out === undefined ? 0 : daysBetween(out, day);
    const from =
      ramIn === undefined
        ? `ram out ${printDay(ramOut ?? day)}`
        : out === undefined
          ? `ram in since ${printDay(ramIn)}`
          : `ram in ${printDay(ramIn)} to ${printDay(out)}`;
    return possible(least, since, from);
  }
  if (lambingFrom === undefined && lambingTo === undefined) return undefined;
  const first = lambingFrom ?? lambingTo ?? day;
  // Without a last day of lambing any later mating is possible.
  const least = lambingTo === undefined ? 0 : daysBetween(addDays(lambingTo, -GESTATION.least), day);
  return possible(
    Math.max(0, least),
    daysBetween(addDays(first, -GESTATION.most), day),
    sayLambing(lambingFrom, lambingTo),
  );
}

function possible(least: number, most: number, from: string) {
  // The ram is not in yet, or every ewe of this mating has lambed: what she is now, these dates do not say.
  if (most < 0 || least > GESTATION.most) return undefined;
  return { least, most: Math.min(most, GESTATION.most), from };
}

function sayLambing(from: Day | undefined, to: Day | undefined): string {
  if (from === undefined) return to === undefined ? '' : `lambing until ${printDay(to)}`;
  return to === undefined ? `lambing from ${printDay(from)}` : `lambing ${printDay(from)} to ${printDay(to)}`;
}

/** Why the dates of the groups do not say it. */
function notSaid(groups: readonly GroupDates[]): string {
  const spoken = groups.some(
    ({ ramIn, ramOut, lambingFrom, lambingTo }) =>
      (ramIn ?? ramOut ?? lambingFrom ?? lambingTo) !== undefined,
  );
  return spoken
    ? 'the ram and lambing dates in the book are of another time'
    : 'the book has no ram or lambing dates for it';
}

/** In lamb between two days: barred when any stage that is possible lies between them. */
export function pregnant(row: NotIf, given: NotIfGiven): Judgement {
  if (neverInLamb(given)) return NO;
  const known = given.groups.flatMap((group) => stages(group, given.day) ?? []);
  const [from, to] = [daysOf(row.from), daysOf(row.to)];
  const barring = known.find(({ least, most }) => most >= from && least <= to);
  if (barring) {
    const { least, most } = barring;
    const day = least === most ? `day ${least}` : `day ${least} to ${most}`;
    return { applies: 'yes', why: `${barring.from}, so ${day}` };
  }
  return known.length > 0 ? NO : { applies: 'check', why: notSaid(given.groups) };
}

/** The first and the last day on which she may lamb; without a last day it is open. */
function lambing(dates: GroupDates): { first: Day; last?: Day; says: string } | undefined {
  const { ramIn, ramOut, lambingFrom, lambingTo } = dates;
  const byRam = ramOut === undefined ? undefined : addDays(ramOut, GESTATION.most);
  const last = lambingTo ?? byRam;
  const first =
    lambingFrom ??
    (ramIn === undefined ? undefined : addDays(ramIn, GESTATION.least)) ??
    (lambingTo === undefined ? undefined : addDays(lambingTo, -GESTATION.most)) ??
    (ramOut === undefined ? undefined : addDays(ramOut, -GESTATION.most));
  if (first === undefined) return undefined;
  const says =
    lambingFrom !== undefined || lambingTo !== undefined
      ? sayLambing(lambingFrom, last)
      : `${ramIn === undefined ? 'ram out' : 'ram in'} ${printDay(ramIn ?? ramOut ?? first)}, so lambing from about ${printDay(
          addDays(ramIn ?? ramOut ?? first, GESTATION.usual),
        )} (practice: ${GESTATION.least} to ${GESTATION.most} days)`;
  return { first, says, ...(last === undefined ? {} : { last }) };
}

/** Within so many days before lambing. */
export function beforeLambing(row: NotIf, given: NotIfGiven): Judgement {
  if (neverInLamb(given)) return NO;
  const within = daysOf(row.value);
  let isKnown = false;
  for (const group of given.groups) {
    const due = lambing(group);
    if (due === undefined) continue;
    if (due.last === undefined || due.last >= given.day) {
      if (addDays(due.first, -within) <= given.day) return { applies: 'yes', why: due.says };
      isKnown = true;
    } else if (addDays(given.day, within) < addDays(due.first, GESTATION.least)) {
      // She has lambed, and cannot lamb again so soon.
      isKnown = true;
    }
  }
  return isKnown ? NO : { applies: 'check', why: notSaid(given.groups) };
}

/** Shorn not longer ago than so many days; the last of them counts as well. */
export function shornWithin(row: NotIf, given: NotIfGiven): Judgement {
  const shorn = given.groups
    .flatMap(({ shorn: on }) => (on === undefined || on > given.day ? [] : [on]))
    .sort();
  const last = shorn.at(-1);
  if (last === undefined) return { applies: 'check', why: 'the book has no day of shearing for it' };
  const ago = daysBetween(last, given.day);
  return ago <= daysOf(row.value)
    ? { applies: 'yes', why: `shorn ${printDay(last)}, ${ago === 1 ? '1 day' : `${ago} days`} before` }
    : NO;
}
