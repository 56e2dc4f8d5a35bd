import type { DataOf } from '../../../src-shared/entries/all.ts';
import { type Day, daysBetween, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant, instantOf, localOf } from '../../../src-shared/time/zone.ts';
import {
  type Counted,
  countsAsCourse,
  coursesIn12Months,
  mostCourses,
  type OrganicRules,
} from '../../../src-shared/withdrawal/organic.ts';
import type { Reader } from '../../store/store.ts';
import { organicRulesOn } from './certificates.ts';
import { treatmentsOn } from './holds.ts';
import type { SubjectRow } from './subjects.ts';

export type OrganicStanding = {
  rules: OrganicRules;
  /** Courses that count in the 12 months before, and how many may (EU only). */
  counted?: number;
  most?: number;
  /** One more course that counts would end its organic status. */
  isLast: boolean;
  isLost: boolean;
  lostAt?: string;
  text: string;
};

/** The same local time a year earlier; of 29 February the 28th. */
function yearBefore(at: string, zone: string): string {
  const local = localOf(at as Instant, zone);
  const [year = '', rest = ''] = [local.slice(0, 4), local.slice(4)];
  const day = rest.startsWith('-02-29') ? `-02-28${rest.slice(6)}` : rest;
  return instantOf(`${Number(year) - 1}${day}`, zone, 'start');
}

/**
 * How a certified animal or lot stands at a local time, by what it was treated with, a lot's treatments included.
 * Nothing when no certificate with known rules covers it. A lamb or wether under a year, or of no known age, counts as
 * an animal that lives under a year (practice); the keeper of another one says its class.
 */
export function organicStanding(
  tx: Reader,
  row: Pick<SubjectRow, 'subject' | 'class' | 'born' | 'holding'>,
  local: string,
  zone: string,
): OrganicStanding | undefined {
  const day = local.slice(0, 10) as Day;
  const rules = organicRulesOn(tx, row.subject, row.holding, day);
  if (rules === undefined) return undefined;
  const at = instantOf(local, zone, 'end');
  const treatments = countedOn(tx, row.subject).filter((one) => one.at <= at);
  if (rules === 'us-organic') {
    const antibiotic = treatments.find((one) => one.purpose === 'antibiotic');
    return {
      rules,
      isLast: antibiotic === undefined,
      isLost: antibiotic !== undefined,
      ...(antibiotic === undefined ? {} : { lostAt: antibiotic.at }),
      text:
        antibiotic === undefined
          ? 'Organic (United States): any antibiotic ends it.'
          : `No longer organic (United States): an antibiotic was given on ${sayDay(antibiotic.at, zone)}.`,
    };
  }
  const most = mostCourses(isUnderAYear(row, day));
  const { counted, lostAt } = coursesIn12Months(treatments, at, most, (end) => yearBefore(end, zone));
  const isLost = lostAt !== undefined;
  return {
    rules,
    counted,
    most,
    isLast: !isLost && counted >= most,
    isLost,
    ...(lostAt === undefined ? {} : { lostAt }),
    text: isLost
      ? `No longer organic: more than ${most === 1 ? 'one course' : `${most} courses`} in 12 months by ${sayDay(lostAt, zone)}.`
      : `${counted} of ${most} ${most === 1 ? 'course' : 'courses'} in 12 months${counted >= most ? ': one more ends its organic status' : ''}.`,
  };
}

/** Meant to live under a year, as far as the book tells: a lamb or wether that is not a year old yet. */
function isUnderAYear({ class: cls, born }: Pick<SubjectRow, 'class' | 'born'>, day: Day): boolean {
  if (cls !== 'lamb' && cls !== 'wether') return false;
  return born === null || daysBetween(born as Day, day) < 365;
}

const sayDay = (at: string, zone: string) => printDay(dayOf(at as Instant, zone));

/** Every treatment of a subject, and whether it counts as a course. */
function countedOn(tx: Reader, subject: string): (Counted & { purpose: string })[] {
  const excepted = new Set(
    tx.all<{ id: string }>("SELECT id FROM record WHERE what = 'organic-excepted'").map(({ id }) => id),
  );
  return treatmentsOn(tx, [subject]).map(({ id, at, data }) => {
    const given = JSON.parse(data) as DataOf<'administered'>;
    const purpose = purposeOf(tx, given.medicine);
    return {
      administration: id,
      course: given.course?.course,
      at,
      purpose,
      counts: countsAsCourse(purpose) && !excepted.has(id),
    };
  });
}

function purposeOf(tx: Reader, medicine: string): string {
  return (
    tx.get<{ purpose: string }>('SELECT purpose FROM medicine WHERE id = ?', medicine)?.purpose ?? 'other'
  );
}

/**
 * What to say before a course that would end organic status, or nothing: for the plan and for the race. A dose that goes
 * on with an open course is no new one.
 */
export function organicWarning(
  tx: Reader,
  row: Pick<SubjectRow, 'subject' | 'shown' | 'class' | 'born' | 'holding'>,
  purpose: string,
  local: string,
  zone: string,
  goesOn = false,
): { code: string; text: string } | undefined {
  const standing = organicStanding(tx, row, local, zone);
  if (standing === undefined || standing.isLost || !standing.isLast) return undefined;
  const { rules, most = 1 } = standing;
  if (rules === 'us-organic') {
    if (purpose !== 'antibiotic') return undefined;
    return {
      code: 'organic-lost',
      text: `${row.shown}: an antibiotic ends its organic status. Treat it all the same when it is ill.`,
    };
  }
  if (goesOn || !countsAsCourse(purpose)) return undefined;
  return {
    code: 'organic-lost',
    text: `${row.shown}: this course would be more than the ${most === 1 ? 'one' : most} in 12 months, and ends its organic status. Treat it all the same when it is ill.`,
  };
}
