import type { Reply } from '../../../src-shared/calls/all.ts';
import type { vaccineCalls } from '../../../src-shared/calls/vaccine.ts';
import { COVER_STATES, type CoverState } from '../../../src-shared/dose/coverage.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { Answers, Context } from '../context.ts';
import { onlyHolding } from '../reading/holding.ts';
import { medicineOf } from '../reading/labels.ts';
import { membersOf, type SubjectRow, shownOf, subjectOfName } from '../reading/subjects.ts';
import { dueSoon } from './due.ts';
import { groupDatesOf } from './groups.ts';
import { presentRows, type Standing, standingsOf, type Vaccine, vaccinesOf } from './standing.ts';

type Coverage = Reply<'coverage'>;

/** The zone in which days are counted, and today there. */
function todayOf(context: Context): { zone: string; today: Day } {
  const zone = onlyHolding(context.store.read)?.zone ?? 'UTC';
  return { zone, today: dayOf(parseInstant(context.now(), 'clock'), zone) };
}

/** How far animals are covered by the farm's vaccines, and what is due. */
export const vaccineAnswers: Answers<keyof typeof vaccineCalls> = {
  coverage(context, asked) {
    const tx = context.store.read;
    const { zone, today } = todayOf(context);
    // A day that came in was checked by its schema.
    const on = (asked.on as Day | undefined) ?? today;
    if (asked.medicine !== undefined) medicineOf(tx, asked.medicine);
    const dates = asked.group === undefined ? undefined : groupDatesOf(tx, asked.group);
    const rows = rowsAsked(tx, asked.subject, asked.group);
    const wanted = asked.states === undefined ? undefined : new Set<CoverState>(asked.states);
    const vaccines: Coverage['vaccines'] = [];
    const shown: Coverage['rows'] = [];
    for (const vaccine of vaccinesOf(tx, asked.medicine)) {
      const standings = standingsOf(tx, vaccine, rows, on, zone);
      vaccines.push({
        medicine: vaccine.medicine,
        name: vaccine.name,
        heads: headsByState(standings),
        onDates: onDates(tx, vaccine, rows, dates, on, zone),
      });
      for (const one of standings) if (wanted?.has(one.cover.state) ?? true) shown.push(shownStanding(one));
    }
    return { on, vaccines, rows: shown };
  },
  'vaccines-due'(context) {
    const { zone, today } = todayOf(context);
    const tx = context.store.read;
    const rows = presentRows(tx);
    const standings = vaccinesOf(tx).flatMap((vaccine) => standingsOf(tx, vaccine, rows, today, zone));
    return { on: today, due: dueSoon(tx, standings, today) };
  },
};

function rowsAsked(tx: Reader, subject: string | undefined, group: string | undefined): SubjectRow[] {
  if (subject === undefined) return group === undefined ? presentRows(tx) : membersOf(tx, group);
  const row = subjectOfName(tx, subject);
  return group === undefined || membersOf(tx, group).some((one) => one.subject === subject) ? [row] : [];
}

function headsByState(standings: readonly Standing[]): Record<CoverState, number> {
  const heads = Object.fromEntries(COVER_STATES.map((state) => [state, 0])) as Record<CoverState, number>;
  for (const { cover, row } of standings) heads[cover.state] += row.heads;
  return heads;
}

/** How many are still covered when the group's dates come, by the doses given up to `on`. */
function onDates(
  tx: Reader,
  vaccine: Vaccine,
  rows: readonly SubjectRow[],
  dates: ReturnType<typeof groupDatesOf> | undefined,
  on: Day,
  zone: string,
): Coverage['vaccines'][number]['onDates'] {
  if (dates === undefined) return [];
  return DATES.flatMap(({ name, what, before }) => {
    const date = dates[name];
    if (date === undefined || date <= on) return [];
    const day = addDays(date, -before);
    const standings = standingsOf(tx, vaccine, rows, day, zone);
    const covered = standings.filter(({ cover }) => cover.state === 'covered');
    const sum = (list: readonly Standing[]) => list.reduce((all, { row }) => all + row.heads, 0);
    return [{ what, on: day, covered: sum(covered), of: sum(standings) }];
  });
}

const DATES = [
  { name: 'ramIn', what: 'when the ram goes in', before: 0 },
  { name: 'lambingFrom', what: 'the day before lambing', before: 1 },
  { name: 'lambingTo', what: 'when lambing ends', before: 0 },
  { name: 'dueAwayFrom', what: 'when they are due away', before: 0 },
] as const;

function shownStanding({ row, vaccine, cover, isMixed, last, text }: Standing): Coverage['rows'][number] {
  const { until, since, next } = cover;
  return {
    ...shownOf(row),
    medicine: vaccine.medicine,
    name: vaccine.name,
    state: cover.state,
    mixed: isMixed,
    text,
    ...(until === undefined ? {} : { until }),
    ...(since === undefined ? {} : { since }),
    ...(last === undefined ? {} : { last }),
    ...(next === undefined
      ? {}
      : {
          next: {
            doseLine: next.doseLine,
            n: next.n,
            of: next.of,
            due: next.due,
            ...(next.earliest === undefined ? {} : { earliest: next.earliest }),
            ...(next.latest === undefined ? {} : { latest: next.latest }),
          },
        }),
  };
}
