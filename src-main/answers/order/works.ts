import type { DataOf } from '../../../src-shared/entries/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { baseOf } from '../../../src-shared/quantity/amount.ts';
import type { DoseCount } from '../../../src-shared/stock/fillings.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { recordsOf } from '../reading/holding.ts';
import { termsReader } from '../reading/labels.ts';
import { membersOf, type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import { openCourses } from '../treat/courses.ts';
import { doneIn, sessionOf } from '../treat/session.ts';
import { presentRows, standingsOf, vaccinesOf } from '../vaccine/standing.ts';
import { type Foreseen, fixedDose } from './foreseen-work.ts';
import { dosesOf } from './head-dose.ts';

/** Work to come that needs a medicine, before what is lost with it. */
export type Work = {
  key: string;
  source: 'session' | 'course' | 'foreseen' | 'vaccine';
  medicine: string;
  what: string;
  on: Day;
  heads: number;
  /** Doses that are known, in the unit the medicine is kept in. */
  doses: readonly DoseCount[];
  /** Heads whose dose is not known, and why, in words. */
  unknown?: { heads: number; why: string } | undefined;
  route: string;
  equipment?: string | undefined;
  syringe?: { capacity: string } | undefined;
  session?: string | undefined;
  work?: string | undefined;
};

export type Ahead = { today: Day; until: Day; zone: string };

/** Given so many days before the day that was foreseen, it is that work (practice). */
const SAME_WORK_DAYS = 7;

/**
 * All work to come by medicine. Nobody is counted twice for one medicine: whoever waits in an open session is left out
 * of a course's next dose and of foreseen work, and whoever is in any of these is left out of the vaccines that are due.
 */
export function worksAhead(tx: Reader, ahead: Ahead): Map<string, Work[]> {
  const termsOf = newestTerms(tx);
  const waiting = new Map<string, Set<string>>();
  const claimed = new Map<string, Set<string>>();
  const claim = (map: Map<string, Set<string>>, medicine: string, subject: string) =>
    map.set(medicine, (map.get(medicine) ?? new Set()).add(subject));
  const isIn = (map: Map<string, Set<string>>, medicine: string, subject: string) =>
    map.get(medicine)?.has(subject) === true;

  const works: Work[] = [];
  for (const { work, subjects } of sessionWorks(tx, termsOf, ahead)) {
    works.push(work);
    for (const subject of subjects) {
      claim(waiting, work.medicine, subject);
      claim(claimed, work.medicine, subject);
    }
  }
  for (const { work, subject, isNext } of courseWorks(tx, termsOf, ahead)) {
    claim(claimed, work.medicine, subject);
    if (!(isNext && isIn(waiting, work.medicine, subject))) works.push(work);
  }
  for (const one of recordsOf<Foreseen>(tx, 'work')) {
    if (one.state !== 'foreseen') continue;
    const terms = termsOf(one.medicine);
    if (terms === undefined) continue;
    const members = one.group === undefined ? [] : membersOf(tx, one.group);
    const had = givenSince(tx, one.medicine, addDays(one.on as Day, -SAME_WORK_DAYS));
    const done = members.filter(({ subject }) => isIn(waiting, one.medicine, subject) || had.has(subject));
    for (const { subject } of members) claim(claimed, one.medicine, subject);
    const work = foreseenWork(one, terms, members, done);
    if (work.heads > 0) works.push(work);
  }
  works.push(...vaccineWorks(tx, ahead, (medicine, subject) => isIn(claimed, medicine, subject)));
  return Map.groupBy(
    works.toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.key < b.key ? -1 : 1)),
    ({ medicine }) => medicine,
  );
}

type TermsOf = (medicine: string) => LabelTerms | undefined;

function newestTerms(tx: Reader): TermsOf {
  const read = termsReader(tx);
  const newest = new Map(
    tx
      .all<{ id: string; revision: string }>('SELECT id, revision FROM medicine')
      .map(({ id, revision }) => [id, revision]),
  );
  return (medicine) => {
    const revision = newest.get(medicine);
    return revision === undefined ? undefined : read(revision);
  };
}

const routeOf = (terms: LabelTerms, doseLine: string | undefined) =>
  (terms.doseLines.find(({ id }) => id === doseLine) ?? terms.doseLines[0])?.route ?? 'other';

/** What is still to be given in sessions that are open; one that was opened before today is counted today. */
function sessionWorks(tx: Reader, termsOf: TermsOf, { today }: Ahead): { work: Work; subjects: string[] }[] {
  const open = tx.all<{ id: string }>(`SELECT id FROM session WHERE state = 'open' ORDER BY at, seq`);
  return open.flatMap(({ id }) => {
    const session = sessionOf(tx, id);
    const done = doneIn(tx, id);
    const present = new Map(
      subjectsOf(
        tx,
        session.plan.subjects.map(({ subject }) => subject),
      ).map((row) => [row.subject, row.present === 1]),
    );
    return session.plan.lines.flatMap((line, i) => {
      const terms = termsOf(line.medicine);
      if (line.source !== 'ours' || terms === undefined) return [];
      const left = session.plan.subjects.filter(
        (item) =>
          present.get(item.subject) === true &&
          done.get(item.subject)?.lines.has(line.line) !== true &&
          (item.doses[i] != null || item.toWeigh?.includes(i) === true),
      );
      if (left.length === 0) return [];
      const sum = (some: typeof left) => some.reduce((all, { heads }) => all + heads, 0);
      const known = left.filter(({ doses }) => doses[i]?.kind === terms.kind);
      const weigh = sum(left.filter(({ doses }) => doses[i] == null));
      const madeUp = sum(left) - sum(known) - weigh;
      const work: Work = {
        key: `session ${id} ${line.line}`,
        source: 'session',
        medicine: line.medicine,
        what: session.name,
        on: session.opened.slice(0, 10) > today ? (session.opened.slice(0, 10) as Day) : today,
        heads: sum(left),
        doses: known.flatMap(({ doses, heads }) => {
          const dose = doses[i];
          return dose == null ? [] : [{ units: unitsOf(dose), heads }];
        }),
        unknown:
          madeUp > 0
            ? { heads: madeUp, why: 'get what is made up here: what goes into that is not known yet' }
            : weigh > 0
              ? { heads: weigh, why: 'are weighed at the race: their dose is not known yet' }
              : undefined,
        route: routeOf(terms, line.doseLine),
        equipment: line.equipment,
        syringe: line.syringe,
        session: id,
      };
      return [{ work, subjects: left.map(({ subject }) => subject) }];
    });
  });
}

/** The doses still to come of every open course, each on its day; one that is late is counted today. */
function courseWorks(
  tx: Reader,
  termsOf: TermsOf,
  { today, until }: Ahead,
): { work: Work; subject: string; isNext: boolean }[] {
  return openCourses(tx).flatMap((course) => {
    const terms = termsOf(course.medicine);
    const [row] = subjectsOf(tx, [course.subject]);
    if (terms === undefined || row === undefined || row.present !== 1) return [];
    const last = lastDose(tx, course.course);
    const asLast =
      last?.dose.kind === terms.kind ? [{ units: unitsOf(last.dose), heads: row.heads }] : undefined;
    return course.planned.slice(course.given.length).flatMap((planned, n) => {
      const day = planned.slice(0, 10) as Day;
      if (day > until) return [];
      const on = day < today ? today : day;
      const found = asLast === undefined ? dosesOf(terms, course.doseLine, [row], on) : { doses: asLast };
      const work: Work = {
        key: `course ${course.course} ${n}`,
        source: 'course',
        medicine: course.medicine,
        what: `${row.shown}: dose ${course.given.length + n + 1} of ${course.planned.length} of its course`,
        on,
        heads: row.heads,
        ...found,
        route: routeOf(terms, course.doseLine),
      };
      return [{ work, subject: course.subject, isNext: n === 0 }];
    });
  });
}

function lastDose(tx: Reader, course: string): DataOf<'administered'> | undefined {
  const row = tx.get<{ data: string }>(
    `SELECT a.data FROM course_dose AS d JOIN administration AS a ON a.id = d.administration
     WHERE d.subject = ? ORDER BY d.local DESC, d.n DESC LIMIT 1`,
    `course:${course}`,
  );
  return row && (JSON.parse(row.data) as DataOf<'administered'>);
}

function givenSince(tx: Reader, medicine: string, since: Day): Set<string> {
  return new Set(
    tx
      .all<{ subject: string }>(
        'SELECT DISTINCT subject FROM administration WHERE medicine = ? AND local >= ?',
        medicine,
        since,
      )
      .map(({ subject }) => subject),
  );
}

function foreseenWork(
  one: Foreseen,
  terms: LabelTerms,
  members: readonly SubjectRow[],
  done: readonly SubjectRow[],
): Work {
  const sum = (rows: readonly SubjectRow[]) => rows.reduce((all, { heads }) => all + heads, 0);
  const left = members.filter((row) => !done.includes(row));
  const heads = one.heads === undefined ? sum(left) : Math.max(0, one.heads - sum(done));
  const each = one.dose ? unitsOf(one.dose) : undefined;
  const fixed = each === undefined ? fixedDose(terms, one.doseLine) : undefined;
  const every = each ?? (fixed && baseOf(fixed));
  const byWeight =
    every === undefined
      ? dosesOf(terms, one.doseLine, left, one.on as Day)
      : { doses: [{ units: every, heads }] };
  // More heads than the group has, or fewer: the label cannot dose those nobody has named.
  const others = every === undefined ? heads - sum(left) : 0;
  return {
    key: `work ${one.work}`,
    source: 'foreseen',
    medicine: one.medicine,
    what: one.name,
    on: one.on as Day,
    heads,
    ...byWeight,
    ...(others > 0
      ? { unknown: { heads: others, why: 'are not in the group: without a weight the label gives no dose' } }
      : {}),
    route: routeOf(terms, one.doseLine),
    work: one.work,
  };
}

/** Vaccine doses and boosters as they fall due. What has lapsed is nobody's plan, and is not counted. */
function vaccineWorks(
  tx: Reader,
  { today, until, zone }: Ahead,
  isClaimed: (medicine: string, subject: string) => boolean,
): Work[] {
  const vaccines = vaccinesOf(tx);
  if (vaccines.length === 0) return [];
  const rows = presentRows(tx);
  return vaccines.flatMap((vaccine) => {
    const dueAt = standingsOf(tx, vaccine, rows, today, zone).flatMap(({ row, cover }) => {
      if (isClaimed(vaccine.medicine, row.subject)) return [];
      const { next } = cover;
      const day = next?.due ?? (cover.state === 'covered' ? cover.until : undefined);
      if (day === undefined || day > until || (next === undefined && day < today)) return [];
      const doseLine = next?.doseLine ?? cover.follows?.id;
      const what = next === undefined ? 'booster' : `dose ${next.n} of ${next.of}`;
      return [{ row, doseLine, what, on: day < today ? today : day }];
    });
    const sets = Map.groupBy(dueAt, ({ on, what, doseLine }) => `${on} ${what} ${doseLine ?? ''}`);
    return [...sets].flatMap(([key, all]): Work[] => {
      const [first] = all;
      if (first === undefined) return [];
      return [
        {
          key: `vaccine ${vaccine.medicine} ${key}`,
          source: 'vaccine',
          medicine: vaccine.medicine,
          what: `${first.what} of ${vaccine.name}`,
          on: first.on,
          heads: all.reduce((sum, { row }) => sum + row.heads, 0),
          ...dosesOf(
            vaccine.terms,
            first.doseLine,
            all.map(({ row }) => row),
            first.on,
          ),
          route: routeOf(vaccine.terms, first.doseLine),
        },
      ];
    });
  });
}
