import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Cover } from '../../../src-shared/dose/coverage.ts';
import { sayWhenLate } from '../../../src-shared/dose/coverage-words.ts';
import { addDays, compareDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { type GroupOf, groupBySubject } from './groups.ts';
import type { Standing } from './standing.ts';

type Due = Reply<'vaccines-due'>['due'][number];

/** So many days ahead a dose of a course is said: four weeks, the span in which work is planned. */
const COURSE_AHEAD = 28;
/** So many days ahead the end of a protection is said. */
const BOOSTER_AHEAD = 42;
/** A protection that ends before the lambing of its group is said this long before that lambing. */
const LAMBING_AHEAD = 84;

/** One animal or lot that something is due for. */
type One = {
  kind: Due['kind'];
  standing: Standing;
  group: GroupOf | undefined;
  doseLine: string | undefined;
  /** "dose 2 of 2", "the booster". */
  what: string;
  /** The day that counts: due, late since, covered to, lapsed since. */
  day: Day;
  earliest?: Day | undefined;
  latest?: Day | undefined;
  whenLate?: string | undefined;
  lambing?: Day | undefined;
  /** Why the book cannot be sure. */
  unsure: boolean;
};

/** What is due for whom, one line for each vaccine, dose and group; late ones first, then by day. */
export function dueSoon(tx: Reader, standings: readonly Standing[], today: Day): Due[] {
  const groups = groupBySubject(tx);
  const sizes = new Map<string, number>();
  for (const { group } of groups.values()) sizes.set(group, (sizes.get(group) ?? 0) + 1);
  const lines = new Map<string, One[]>();
  for (const standing of standings) {
    const one = dueFor(standing, groups.get(standing.row.subject), today);
    if (one === undefined) continue;
    const { kind, what, group, unsure } = one;
    const key = [standing.vaccine.medicine, kind, what, group?.group ?? '', unsure ? 'unsure' : ''].join('/');
    const line = lines.get(key);
    if (line) line.push(one);
    else lines.set(key, [one]);
  }
  return [...lines]
    .map(([key, ones]) => ({ key, ones, first: earliestOf(ones.map(({ day }) => day)) }))
    .toSorted(
      (a, b) =>
        ORDER.indexOf(a.ones[0]?.kind ?? 'lapsed') - ORDER.indexOf(b.ones[0]?.kind ?? 'lapsed') ||
        (a.first < b.first ? -1 : 1),
    )
    .flatMap(({ key, ones }) => {
      const [first] = ones;
      return first === undefined ? [] : [shownDue(key, first, ones, sizes)];
    });
}

const ORDER: readonly Due['kind'][] = ['late', 'dose', 'booster', 'lapsed'];

function dueFor(standing: Standing, group: GroupOf | undefined, today: Day): One | undefined {
  const { cover } = standing;
  const at = { standing, group, unsure: false };
  const { next } = cover;
  if (cover.state === 'late' && next && cover.since) {
    const { whenLate } = cover;
    return {
      ...at,
      kind: 'late',
      doseLine: next.doseLine,
      what: `dose ${next.n} of ${next.of}`,
      day: cover.since,
      whenLate,
    };
  }
  if (next && (cover.state === 'part' || cover.state === 'covered')) {
    const { earliest, due, latest } = next;
    if ((earliest ?? due) > addDays(today, COURSE_AHEAD)) return undefined;
    return {
      ...at,
      kind: 'dose',
      doseLine: next.doseLine,
      what: `dose ${next.n} of ${next.of}`,
      day: due,
      earliest,
      latest,
    };
  }
  return boosterFor(cover, at, today);
}

/** The booster of a protection that ends, or has ended. */
function boosterFor(
  cover: Cover,
  at: Pick<One, 'standing' | 'group' | 'unsure'>,
  today: Day,
): One | undefined {
  const until = cover.state === 'unknown' ? cover.mayEnd : cover.until;
  if (until === undefined || cover.part !== undefined) return undefined;
  const unsure = cover.state === 'unknown';
  const doseLine = cover.follows?.id;
  const what = cover.follows?.title === undefined ? 'the next dose' : `“${cover.follows.title}”`;
  if (until < today) {
    return { ...at, unsure, kind: 'lapsed', doseLine, what, day: addDays(until, 1) };
  }
  const lambing = at.group?.dates.lambingFrom;
  const isBeforeLambing =
    lambing !== undefined && lambing > today && until < lambing && lambing <= addDays(today, LAMBING_AHEAD);
  if (until > addDays(today, BOOSTER_AHEAD) && !isBeforeLambing) return undefined;
  return {
    ...at,
    unsure,
    kind: 'booster',
    doseLine,
    what,
    day: until,
    ...(isBeforeLambing ? { lambing } : {}),
  };
}

function shownDue(key: string, first: One, ones: readonly One[], sizes: ReadonlyMap<string, number>): Due {
  const { standing, group, kind, doseLine } = first;
  const heads = ones.reduce((sum, one) => sum + one.standing.row.heads, 0);
  const subjects = ones.map(({ standing: { row } }) => ({ subject: row.subject, shown: row.shown }));
  const small = smallOf(first, ones);
  const mayFrom = ones.flatMap((one) => one.earliest ?? []);
  const who =
    ones.length === 1
      ? standing.row.shown
      : `${heads.toLocaleString('en-GB')} ${group === undefined ? 'head' : `of ${group.name}`}`;
  return {
    key,
    kind,
    medicine: standing.vaccine.medicine,
    name: standing.vaccine.name,
    ...(doseLine === undefined ? {} : { doseLine }),
    ...(mayFrom.length === 0 ? {} : { mayFrom: earliestOf(mayFrom) }),
    ...(group === undefined
      ? {}
      : {
          group: {
            group: group.group,
            name: group.name,
            whole: sizes.get(group.group) === ones.length,
          },
        }),
    heads,
    subjects,
    text: `${who}: ${saysWhat(first, ones)}`,
    ...(small === '' ? {} : { small }),
  };
}

function saysWhat({ kind, what, standing, unsure }: One, ones: readonly One[]): string {
  const { name } = standing.vaccine;
  const days = spanOf(ones.map(({ day }) => day));
  switch (kind) {
    case 'late':
      return `${what} of ${name} is late since ${days}.`;
    case 'dose':
      return `${what} of ${name} is due ${days}.`;
    case 'booster':
      return `${name} ${unsure ? 'may cover' : 'covers'} to ${days}; then ${what}.`;
    case 'lapsed':
      return `${name} ${unsure ? 'covers no longer' : 'has lapsed'} since ${days}.`;
  }
}

function smallOf(first: One, ones: readonly One[]): string {
  const earliest = ones.flatMap((one) => one.earliest ?? []);
  const latest = ones.flatMap((one) => one.latest ?? []);
  const { lambing } = first;
  return [
    ...(earliest.length === 0 ? [] : [`All of them may have it from ${printDay(latestOf(earliest))}.`]),
    ...(latest.length === 0 ? [] : [`By the label not after ${printDay(earliestOf(latest))}.`]),
    ...(first.kind === 'late' ? [sayWhenLate(first.whenLate)] : []),
    ...(lambing === undefined ? [] : [`That is before lambing, which begins ${printDay(lambing)}.`]),
    ...(first.unsure ? ['The book has a booster, and no first course before it.'] : []),
  ].join(' ');
}

/** "3 Dec 2026", "3 Dec 2026 to 10 Dec 2026". */
function spanOf(days: readonly Day[]): string {
  const [first, last] = [earliestOf(days), latestOf(days)];
  return first === last ? printDay(first) : `${printDay(first)} to ${printDay(last)}`;
}

function earliestOf(days: readonly Day[]): Day {
  return extreme(days, -1);
}

function latestOf(days: readonly Day[]): Day {
  return extreme(days, 1);
}

/** The first (-1) or the last (1) of at least one day. */
function extreme(days: readonly Day[], side: 1 | -1): Day {
  return days.reduce((found, day) => (Math.sign(compareDays(day, found)) === side ? day : found));
}
