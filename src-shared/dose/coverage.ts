import type { DoseLine } from '../label/terms.ts';
import { parsePeriod } from '../quantity/period.ts';
import { type Day, addDays as dayLater } from '../time/day.ts';

/**
 * How far a vaccine's label says an animal is protected, from the doses it got. It is the label's word and no more:
 * what the label does not say is not known, and nobody is called covered by it.
 */

/** One dose of the vaccine, by the label in its own box. */
export type VaccineDose = {
  /** The day on the holding's clock. */
  on: Day;
  line: DoseLine;
  /** Every dose line of that label. */
  lines: readonly DoseLine[];
  /** The course it was recorded in, where it was. */
  course?: string | undefined;
  /** In what it was not given as the label says, in words. */
  otherwise?: string | undefined;
};

/** A dose that comes next: which of how many, and between which days. */
export type NextDose = {
  doseLine: string;
  title?: string | undefined;
  n: number;
  of: number;
  earliest?: Day | undefined;
  due: Day;
  latest?: Day | undefined;
};

/** A course of which not all doses were given. */
export type OpenPart = { line: DoseLine; n: number; of: number; first: Day; last: Day; next: NextDose };

export const COVER_STATES = ['not-started', 'part', 'late', 'covered', 'lapsed', 'unknown'] as const;
export type CoverState = (typeof COVER_STATES)[number];

export type Cover = {
  state: CoverState;
  /** Covered to this day and with it. */
  until?: Day | undefined;
  /** Since when it is late or lapsed. */
  since?: Day | undefined;
  next?: NextDose | undefined;
  /** What follows once the last one is complete: the label's booster. */
  follows?: DoseLine | undefined;
  part?: OpenPart | undefined;
  /** Not known only because the book has no first course: to this day the booster protects where there was one. */
  mayEnd?: Day | undefined;
  /** Late: what the label says, in its words; absent when it does not say. */
  whenLate?: string | undefined;
  /** Why it is not known, or what was passed over: by code, with the days and words it hangs on. */
  notes: CoverNote[];
};

export type CoverNote =
  | { code: 'not-stated'; on: Day; line: DoseLine }
  | { code: 'no-first-course'; on: Day; line: DoseLine; until?: Day | undefined }
  | { code: 'after-the-end'; on: Day; line: DoseLine; ended: Day }
  | { code: 'otherwise'; on: Day; text: string }
  | { code: 'too-early'; on: Day; earliest: Day }
  | { code: 'too-late'; on: Day; latest: Day; whenLate?: string | undefined };

/** What the walk over the doses has found so far. */
type Walk = {
  open: (Omit<OpenPart, 'next'> & { course?: string | undefined; lines: readonly DoseLine[] }) | undefined;
  /** Notes of the course that is under way: they go with it, or with what it completes. */
  doubts: CoverNote[];
  /** The last line that was completed, with what it gives. */
  done:
    | {
        on: Day;
        line: DoseLine;
        lines: readonly DoseLine[];
        /** To this day and with it, where it can be said. */
        until: Day | undefined;
        notes: CoverNote[];
      }
    | undefined;
  /** The farthest day that was ever truly covered. */
  coveredTo: Day | undefined;
};

/** A flock vaccinated together asks the same few days again and again; bounded, as what they are kept in is. */
const MOST_KEPT = 2000;
const kept = new Map<string, Day>();

function addDays(day: Day, days: number): Day {
  const key = `${day} ${days}`;
  const found = kept.get(key);
  if (found !== undefined) return found;
  if (kept.size >= MOST_KEPT) kept.clear();
  const made = dayLater(day, days);
  kept.set(key, made);
  return made;
}

/** Whole days of a period on a label: for "not before" and "due" rounded up, for "not after" and "protects" down. */
export function daysOfPeriod(text: string, round: 'up' | 'down'): number {
  const { value, unit } = parsePeriod(text, 'period');
  if (unit === 'd') return value;
  const over = value % 24;
  return (value - over) / 24 + (round === 'up' && over > 0 ? 1 : 0);
}

/** When the dose after `last` may, should and must be given by the line's own repeats. */
function nextAfter(line: DoseLine, n: number, last: Day): NextDose | undefined {
  const { repeats } = line;
  if (repeats === undefined || n > repeats.doses) return undefined;
  return {
    doseLine: line.id,
    ...(line.title === undefined ? {} : { title: line.title }),
    n,
    of: repeats.doses,
    ...(repeats.earliest === undefined
      ? {}
      : { earliest: addDays(last, daysOfPeriod(repeats.earliest, 'up')) }),
    due: addDays(last, daysOfPeriod(repeats.due, 'up')),
    ...(repeats.latest === undefined ? {} : { latest: addDays(last, daysOfPeriod(repeats.latest, 'down')) }),
  };
}

/** The line that leads to this one: it is a booster when there is one. */
export function firstCourseOf(line: DoseLine, lines: readonly DoseLine[]): DoseLine | undefined {
  return lines.find((each) => each.followedBy === line.id && each.id !== line.id);
}

/** Doses up to and with the day, in the order in which they happened. */
function walk(doses: readonly VaccineDose[], asOf: Day): Walk {
  const seen: Walk = { open: undefined, doubts: [], done: undefined, coveredTo: undefined };
  for (const dose of doses) if (dose.on <= asOf) take(seen, dose);
  return seen;
}

function take(seen: Walk, dose: VaccineDose): void {
  const { line, on } = dose;
  const of = line.repeats?.doses ?? 1;
  const { open } = seen;
  // Another course by name begins anew; without a name the same line goes on.
  const isOther = dose.course !== undefined && open?.course !== undefined && dose.course !== open.course;
  if (open === undefined || open.line.id !== line.id || isOther) seen.doubts = [];
  const goesOn = open !== undefined && open.line.id === line.id && !isOther;
  const span = goesOn ? nextAfter(open.line, open.n + 1, open.last) : undefined;
  if (dose.otherwise !== undefined) seen.doubts.push({ code: 'otherwise', on, text: dose.otherwise });
  // Out of its time it is no second dose that the label knows: it counts as a first one, with a doubt.
  const isEarly = span?.earliest !== undefined && on < span.earliest;
  const isLate = span?.latest !== undefined && on > span.latest;
  if (isEarly && span?.earliest) seen.doubts.push({ code: 'too-early', on, earliest: span.earliest });
  if (isLate && span?.latest && open) {
    const { whenLate } = open.line.repeats ?? {};
    seen.doubts.push({
      code: 'too-late',
      on,
      latest: span.latest,
      ...(whenLate === undefined ? {} : { whenLate }),
    });
  }
  const counts = goesOn && span !== undefined && !isEarly && !isLate;
  const n = counts ? open.n + 1 : 1;
  if (n < of) {
    seen.open = {
      line,
      lines: dose.lines,
      n,
      of,
      first: counts ? open.first : on,
      last: on,
      course: dose.course ?? (counts ? open.course : undefined),
    };
    return;
  }
  complete(seen, dose);
}

/** The last dose of its line: what it protects for counts from here. */
function complete(seen: Walk, dose: VaccineDose): void {
  const { line, lines, on } = dose;
  // Doses in their proper time one after another complete a course, whatever came before them.
  const notes = seen.doubts.filter(({ code }) => code === 'otherwise');
  const before = seen.done;
  const until = line.protects === undefined ? undefined : addDays(on, daysOfPeriod(line.protects, 'down'));
  if (firstCourseOf(line, lines) !== undefined) {
    const carried = before?.notes.filter(({ code }) => STAYS.has(code) && code !== 'no-first-course') ?? [];
    if (before === undefined || before.notes.some(({ code }) => code === 'no-first-course')) {
      notes.push({ code: 'no-first-course', on, line, ...(until === undefined ? {} : { until }) });
    } else if (carried.length > 0) notes.unshift(...carried);
    else if (before.until !== undefined && on > before.until) {
      notes.push({ code: 'after-the-end', on, line, ended: before.until });
    }
  }
  if (until === undefined) notes.push({ code: 'not-stated', on, line });
  const isSure = notes.length === 0;
  if (isSure && until !== undefined && (seen.coveredTo === undefined || until > seen.coveredTo))
    seen.coveredTo = until;
  seen.done = { on, line, lines, until: isSure ? until : undefined, notes };
  seen.open = undefined;
  seen.doubts = [];
}

/** Notes on a completed line that a booster does not mend. That a label does not say how long is no such note. */
const STAYS: ReadonlySet<string> = new Set(['no-first-course', 'after-the-end', 'otherwise']);

/**
 * How far it is protected on a day, by the doses it got and the label in the box of each. A course's next dose follows
 * from the dose before it, protection from the dose that completes. A day named on the label counts in: "not after
 * 42 d" from 1 March is up to and with 12 April; covered for 365 days from 1 March 2026 is up to and with 1 March 2027.
 * @param doses of this one vaccine only, struck-out ones left away, in the order in which they happened
 */
export function coverOn(doses: readonly VaccineDose[], asOf: Day): Cover {
  const { open, doubts, done, coveredTo } = walk(doses, asOf);
  const isCovered = coveredTo !== undefined && coveredTo >= asOf;
  const follows =
    done?.line.followedBy === undefined ? bySelf(done) : lineNamed(done.lines, done.line.followedBy);
  const next = open && nextAfter(open.line, open.n + 1, open.last);
  const part =
    open && next
      ? { line: open.line, n: open.n, of: open.of, first: open.first, last: open.last, next }
      : undefined;
  if (isCovered) {
    return {
      state: 'covered',
      until: coveredTo,
      ...(part ? { part, next: part.next } : {}),
      ...(follows && !part ? { follows } : {}),
      notes: [...doubts, ...(done?.notes ?? [])],
    };
  }
  if (part) {
    if (doubts.length > 0) return { state: 'unknown', part, notes: doubts };
    const { latest } = part.next;
    if (latest === undefined || asOf <= latest) return { state: 'part', part, next: part.next, notes: [] };
    const { whenLate } = part.line.repeats ?? {};
    return {
      state: 'late',
      since: addDays(latest, 1),
      part,
      next: part.next,
      ...(whenLate === undefined ? {} : { whenLate }),
      notes: [],
    };
  }
  if (done === undefined) return { state: 'not-started', notes: [] };
  const more = follows ? { follows } : {};
  if (done.notes.length > 0) {
    const [only, second] = done.notes;
    const mayEnd = second === undefined && only?.code === 'no-first-course' ? only.until : undefined;
    return { state: 'unknown', ...more, ...(mayEnd === undefined ? {} : { mayEnd }), notes: done.notes };
  }
  // Without a note the last one had an end that can be said, and it has passed.
  const ended = coveredTo ?? done.on;
  return { state: 'lapsed', until: ended, since: addDays(ended, 1), ...more, notes: [] };
}

/** A booster is followed by itself, where its label names nothing else. */
function bySelf(done: Walk['done']): DoseLine | undefined {
  if (done === undefined) return undefined;
  return firstCourseOf(done.line, done.lines) === undefined ? undefined : done.line;
}

function lineNamed(lines: readonly DoseLine[], id: string): DoseLine | undefined {
  return lines.find((each) => each.id === id);
}

/** Which dose a planned one would be. */
export type PlannedDose = {
  n: number;
  of: number;
  /** The first day it may be given, when the planned day is before it. */
  mayFrom?: Day | undefined;
  /** The last day it should have been given, when the planned day is after it. */
  latest?: Day | undefined;
  whenLate?: string | undefined;
  /** It is a booster; `firstCourse` says whether the book has the course that it follows. */
  booster?: { firstCourse: 'complete' | 'part' | 'none'; coveredTo?: Day | undefined } | undefined;
  /** When the dose before was given. */
  before?: Day | undefined;
};

/** Which dose one by this line would be on that day, and whether it would come in its time. */
export function plannedDose(
  doses: readonly VaccineDose[],
  line: DoseLine,
  lines: readonly DoseLine[],
  day: Day,
): PlannedDose {
  const { open, done, coveredTo } = walk(doses, day);
  const of = line.repeats?.doses ?? 1;
  if (open?.line.id === line.id) {
    const span = nextAfter(open.line, open.n + 1, open.last);
    const whenLate = open.line.repeats?.whenLate;
    return {
      n: open.n + 1,
      of: open.of,
      before: open.last,
      ...(span?.earliest !== undefined && day < span.earliest ? { mayFrom: span.earliest } : {}),
      ...(span?.latest !== undefined && day > span.latest
        ? { latest: span.latest, ...(whenLate === undefined ? {} : { whenLate }) }
        : {}),
    };
  }
  const first = firstCourseOf(line, lines);
  if (first === undefined) return { n: 1, of };
  const isComplete = done !== undefined && !done.notes.some(({ code }) => STAYS.has(code));
  return {
    n: 1,
    of,
    ...(done === undefined ? {} : { before: done.on }),
    booster: {
      firstCourse: isComplete ? 'complete' : open?.line.id === first.id ? 'part' : 'none',
      ...(coveredTo === undefined ? {} : { coveredTo }),
    },
  };
}
