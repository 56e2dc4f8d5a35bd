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
import { organicRulesOf } from './certificates.ts';
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

type Row = Pick<SubjectRow, 'subject' | 'class' | 'born' | 'holding'>;

/**
 * How certified animals and lots stand at a local time, by what they were treated with, their lots' treatments
 * included. Who is covered by no certificate with known rules is not in the answer. A lamb or wether under a year, or
 * of no known age, counts as an animal that lives under a year (practice); the keeper of another one says its class.
 */
export function organicStandings(
  tx: Reader,
  rows: readonly Row[],
  local: string,
  zone: string,
): Map<string, OrganicStanding> {
  const rules = organicRulesOf(tx, rows, local.slice(0, 10));
  const found = new Map<string, OrganicStanding>();
  if (rules.size === 0) return found;
  const at = instantOf(local, zone, 'end');
  const given = countedOn(tx, [...rules.keys()], at);
  for (const row of rows) {
    const own = rules.get(row.subject);
    if (own === undefined) continue;
    const treatments = given.get(row.subject) ?? [];
    found.set(
      row.subject,
      own === 'us-organic'
        ? standingInUs(treatments, zone)
        : standingInEu(row, treatments, { local, at, zone }),
    );
  }
  return found;
}

function standingInUs(treatments: readonly Given[], zone: string): OrganicStanding {
  const antibiotic = treatments.find((one) => one.purpose === 'antibiotic');
  const base = { rules: 'us-organic' as const };
  if (antibiotic === undefined)
    return {
      ...base,
      isLast: true,
      isLost: false,
      text: 'Organic (United States). Every antibiotic ends it.',
    };
  const text = `No longer organic (United States): an antibiotic was given on ${sayDay(antibiotic.at, zone)}.`;
  return { ...base, isLast: false, isLost: true, lostAt: antibiotic.at, text };
}

function standingInEu(
  row: Row,
  treatments: readonly Given[],
  { local, at, zone }: { local: string; at: string; zone: string },
): OrganicStanding {
  const most = mostCourses(isUnderAYear(row, local.slice(0, 10) as Day));
  const { counted, lostAt } = coursesIn12Months(treatments, at, most, (end) => yearBefore(end, zone));
  const base = { rules: 'eu-organic' as const, counted, most };
  const courses = most === 1 ? 'one course' : `${most} courses`;
  if (lostAt !== undefined) {
    const text = `No longer organic: more than ${courses} in 12 months by ${sayDay(lostAt, zone)}.`;
    return { ...base, isLast: false, isLost: true, lostAt, text };
  }
  const isLast = counted >= most;
  const text = `${counted} of ${most} ${most === 1 ? 'course' : 'courses'} in 12 months${isLast ? ': one more ends its organic status' : ''}.`;
  return { ...base, isLast, isLost: false, text };
}

/** Meant to live under a year, as far as the book tells: a lamb or wether that is not a year old yet. */
function isUnderAYear({ class: cls, born }: Pick<SubjectRow, 'class' | 'born'>, day: Day): boolean {
  if (cls !== 'lamb' && cls !== 'wether') return false;
  return born === null || daysBetween(born as Day, day) < 365;
}

const sayDay = (at: string, zone: string) => printDay(dayOf(at as Instant, zone));

type Given = Counted & { purpose: string };

/** Every treatment of each of these up to an instant, and whether it counts as a course. */
function countedOn(tx: Reader, subjects: readonly string[], at: string): Map<string, Given[]> {
  const excepted = new Set(
    tx.all<{ id: string }>("SELECT id FROM record WHERE what = 'organic-excepted'").map(({ id }) => id),
  );
  const purposes = new Map(
    tx
      .all<{ id: string; purpose: string }>('SELECT id, purpose FROM medicine')
      .map(({ id, purpose }) => [id, purpose] as const),
  );
  const found = new Map<string, Given[]>();
  for (const row of treatmentsOn(tx, subjects)) {
    if (row.at > at) continue;
    const given = JSON.parse(row.data) as DataOf<'administered'>;
    const purpose = purposes.get(given.medicine) ?? 'other';
    const list = found.get(row.subject) ?? [];
    found.set(row.subject, list);
    list.push({
      administration: row.id,
      course: given.course?.course,
      at: row.at,
      purpose,
      counts: countsAsCourse(purpose) && !excepted.has(row.id),
    });
  }
  return found;
}

/**
 * Whom one more course by a medicine for this purpose would cost the organic status: for the plan and for the race.
 * Nothing for nobody. A dose that goes on with an open course is no new course.
 */
export function organicWarning(
  tx: Reader,
  rows: readonly (Row & Pick<SubjectRow, 'shown'>)[],
  of: { purpose: string; local: string; zone: string; goesOn?: (subject: string) => boolean },
): { code: string; text: string } | undefined {
  const { purpose, local, zone, goesOn } = of;
  if (!countsAsCourse(purpose)) return undefined;
  const standing = organicStandings(tx, rows, local, zone);
  const losing = rows.filter((row) => {
    const one = standing.get(row.subject);
    if (one === undefined || !one.isLast || goesOn?.(row.subject) === true) return false;
    return one.rules === 'eu-organic' || purpose === 'antibiotic';
  });
  if (losing.length === 0) return undefined;
  const named = losing.slice(0, MOST_NAMED).map((row) => row.shown);
  const more = losing.length - named.length;
  const who = `${named.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
  return {
    code: 'organic-lost',
    text: `${who}: one more course ends organic status. Whoever is ill is treated all the same, and then no longer counts as organic.`,
  };
}

/** So many are named in a warning. */
const MOST_NAMED = 10;
