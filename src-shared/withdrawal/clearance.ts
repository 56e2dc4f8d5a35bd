import { ceilingOf, divide, type Fraction, fraction } from '../quantity/fraction.ts';
import { type Period, printPeriod } from '../quantity/period.ts';
import {
  addHours,
  dayOf,
  type Instant,
  instantOf,
  isoWithOffset,
  laterOf,
  millisecondsBetween,
  parseLocal,
  startOfDay,
} from '../time/zone.ts';
import type { Step } from '../working.ts';

/**
 * When a withdrawal period ends. Regulators do not agree on what a day is, and EU and UK law do not define it:
 * United States quality-assurance manuals count 24 hours from the dose (from memory), the Finnish regulator
 * counts whole calendar days after it (6 days → on the 7th day after the last dose). The default is the later.
 */
export const COUNTINGS = ['24-hour', 'whole-days', 'later'] as const;
export type Counting = (typeof COUNTINGS)[number];

export type Clearance = {
  clearAt: Instant;
  counting: Counting;
  working: Step[];
  /** The number of the first milking that may be kept, the dose being at milking 0. */
  firstMilkingKept?: number;
};

const HOUR_MS = 3_600_000n;

/**
 * The instant from which produce may be taken again.
 * `lastDose` is a local day or date-time; only a day counts from the end of that day. Hours are elapsed time in
 * every way of counting, and 24-hour days too, over clock changes. Zero clears at the dose itself.
 * `milkingHours` is the time between milkings: the milking at or after the end is kept, those before are not.
 * Refuses `bad-day`, `bad-time`, `bad-zone`.
 */
export function clearAt(ask: {
  lastDose: string;
  zone: string;
  period: Period;
  counting: Counting;
  milkingHours?: Fraction;
}): Clearance {
  const { zone, period, counting } = ask;
  const local = parseLocal(ask.lastDose, 'lastDose');
  const from = instantOf(ask.lastDose, zone, 'end', 'lastDose');
  const working: Step[] = [];
  if (local.time === undefined) {
    working.push({ code: 'end-of-day', values: { day: local.day, from: isoWithOffset(from, zone) } });
  }
  const clear = countFrom(from, ask.lastDose, { zone, period, counting }, working);
  const answer: Clearance = { clearAt: clear, counting, working };
  if (ask.milkingHours === undefined) return answer;
  const elapsed = fraction(BigInt(millisecondsBetween(from, clear)), HOUR_MS);
  const number = Number(ceilingOf(divide(elapsed, ask.milkingHours)));
  // The milking at the dose itself is already in the bucket: the first that can be kept is the next one.
  answer.firstMilkingKept = Math.max(1, number);
  working.push({
    code: 'milking',
    values: { number: String(answer.firstMilkingKept), discarded: String(answer.firstMilkingKept - 1) },
    source:
      'CVMP, second-hand: every milking before the hour is discarded, the one at or after it may be kept',
  });
  return answer;
}

function countFrom(
  from: Instant,
  lastDose: string,
  how: { zone: string; period: Period; counting: Counting },
  working: Step[],
): Instant {
  const { zone, period, counting } = how;
  const says = printPeriod(period);
  if (period.value === 0) {
    working.push({ code: 'zero', values: { clear: isoWithOffset(from, zone) } });
    return from;
  }
  const elapsedHours = period.unit === 'd' ? period.value * 24 : period.value;
  const elapsed = addHours(from, elapsedHours);
  if (period.unit === 'h') {
    working.push({
      code: 'hours',
      values: { from: isoWithOffset(from, zone), period: says, clear: isoWithOffset(elapsed, zone) },
    });
    return elapsed;
  }
  // The day of the dose is what the person wrote, also where the clock skips that time.
  const day = parseLocal(lastDose, 'lastDose').day;
  const whole = startOfDay(day, zone, period.value + 1);
  if (counting !== 'whole-days') {
    working.push({
      code: '24-hour',
      values: { from: isoWithOffset(from, zone), period: says, clear: isoWithOffset(elapsed, zone) },
      source: 'Quality-assurance manuals, United States (from memory)',
    });
  }
  if (counting !== '24-hour') {
    working.push({
      code: 'whole-days',
      values: { day, period: says, after: dayOf(whole, zone), clear: isoWithOffset(whole, zone) },
      source: 'Finnish regulator: 6 days → on the 7th day after the last dose',
    });
  }
  if (counting === '24-hour') return elapsed;
  if (counting === 'whole-days') return whole;
  const later = laterOf(elapsed, whole);
  working.push({ code: 'later', values: { clear: isoWithOffset(later, zone) } });
  return later;
}

/**
 * The later of two anchors: a period from the last dose and a period from lambing, as on labels that say "milk
 * from 36 h after lambing, or 35 d + 36 h after treatment if she lambs sooner".
 */
export function laterOfTwo(ask: {
  lastDose: string;
  lambed: string;
  fromDose: Period;
  fromLambing: Period;
  zone: string;
  counting: Counting;
}): Clearance {
  const { zone, counting } = ask;
  const dose = clearAt({ lastDose: ask.lastDose, zone, period: ask.fromDose, counting });
  const lambing = clearAt({ lastDose: ask.lambed, zone, period: ask.fromLambing, counting });
  const later = laterOf(dose.clearAt, lambing.clearAt);
  return {
    clearAt: later,
    counting,
    working: [
      { code: 'counted-from', values: { anchor: 'last dose' } },
      ...dose.working,
      { code: 'counted-from', values: { anchor: 'lambing' } },
      ...lambing.working,
      { code: 'later-of-two', values: { clear: isoWithOffset(later, zone) } },
    ],
  };
}
