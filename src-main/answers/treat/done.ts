import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Reader } from '../../store/store.ts';
import { kinOf } from '../reading/holds.ts';
import { subjectsOf } from '../reading/subjects.ts';

/** What of a plan is in the book, medicine by medicine, and what is not. */

type Plan = DataOf<'session-opened'>;
type Planned = Plan['subjects'][number];
type Work = { id: string; at: string; plan: Plan };

/** One that a medicine of the plan is not recorded for yet: its doses, and its part of a group, are only of those. */
export type Waiting = Planned & {
  /** Lines, counted from 0, that are planned for it and not recorded. */
  left: number[];
  /** Another line is recorded: it went through. */
  isPartly: boolean;
};

/** Heads recorded for each line of the session that each subject has had, and how many heads that were at most. */
export function doneIn(
  tx: Reader,
  session: string,
): Map<string, { lines: Map<string, number>; heads: number }> {
  const done = new Map<string, { lines: Map<string, number>; heads: number }>();
  const rows = tx.all<{ treated: string; line: string; heads: number }>(
    'SELECT treated, line, heads FROM session_done WHERE subject = ?',
    `session:${session}`,
  );
  for (const row of rows) {
    const known = done.get(row.treated) ?? { lines: new Map<string, number>(), heads: 0 };
    // Recorded twice for one line, nobody can tell whether those were others: the larger is taken and not the sum.
    known.lines.set(row.line, Math.max(known.lines.get(row.line) ?? 0, row.heads));
    known.heads = Math.max(known.heads, row.heads);
    done.set(row.treated, known);
  }
  return done;
}

/** Heads recorded in a session: each subject once, however many medicines it got. */
export function headsRecorded(tx: Reader, session: string): number {
  return [...doneIn(tx, session).values()].reduce((sum, each) => sum + each.heads, 0);
}

/** Lines, counted from 0, by which something was planned for one; what was not planned was not given. */
export function plannedLines(item: Pick<Planned, 'doses' | 'toWeigh'>): number[] {
  const toWeigh = item.toWeigh ?? [];
  const dosed = item.doses.flatMap((dose, i) => (dose === null ? [] : [i]));
  return [...new Set([...dosed, ...toWeigh])].sort((a, b) => a - b);
}

/**
 * Whoever the plan is about: those it names, and whoever came out of one of their lots since the work began and has a
 * record of its own, as the marked ones of a lot do. What was planned for the lot was planned for them.
 */
export function plannedIn(tx: Reader, { id, at, plan }: Work): Planned[] {
  const named = new Map(plan.subjects.map((item) => [item.subject, item]));
  const since = [...doneIn(tx, id).keys()].filter((subject) => !named.has(subject));
  const heads = new Map(subjectsOf(tx, since).map((row) => [row.subject, row.heads]));
  const others = since.flatMap((subject): Planned[] => {
    const from = kinOf(tx, subject)
      .filter(({ ancestor, cut }) => ancestor !== subject && cut >= at)
      .flatMap(({ ancestor }) => named.get(ancestor) ?? []);
    const [first] = from;
    if (first === undefined) return [];
    const doses = plan.lines.map((_line, i) => from.find((item) => item.doses[i] != null)?.doses[i] ?? null);
    const toWeigh = [...new Set(from.flatMap((item) => item.toWeigh ?? []))];
    return [
      {
        subject,
        heads: heads.get(subject) ?? first.heads,
        doses,
        ...(toWeigh.length === 0 ? {} : { toWeigh }),
        ...(first.parts === undefined ? {} : { parts: first.parts }),
      },
    ];
  });
  return [...plan.subjects, ...others];
}

/** The lines by which something was planned for a subject. */
export function linesPlannedFor(tx: Reader, session: Work, subject: string): Plan['lines'] {
  const isOne = (item: Planned) => item.subject === subject;
  const item = session.plan.subjects.find(isOne) ?? plannedIn(tx, session).find(isOne);
  return item === undefined ? [] : plannedLines(item).flatMap((i) => session.plan.lines[i] ?? []);
}

/** Whoever a medicine was planned for that is not recorded, each with only what is left. */
export function waitingIn(tx: Reader, session: Work): Waiting[] {
  const done = doneIn(tx, session.id);
  return plannedIn(tx, session).flatMap((item): Waiting[] => {
    const own = done.get(item.subject);
    const left = plannedLines(item).filter((i) => !own?.lines.has(session.plan.lines[i]?.line ?? ''));
    if (left.length === 0) return [];
    const { toWeigh, parts, ...rest } = item;
    const ofLeft = <T>(list: readonly T[]) => list.map((each, i) => (left.includes(i) ? each : null));
    return [
      {
        ...rest,
        doses: ofLeft(item.doses),
        ...(toWeigh === undefined ? {} : { toWeigh: toWeigh.filter((i) => left.includes(i)) }),
        ...(parts === undefined ? {} : { parts: ofLeft(parts) }),
        left,
        isPartly: own !== undefined,
      },
    ];
  });
}

/** Whom an exception of a mass run names, with the lines it speaks of: they did not get it, and why. */
export function exceptedIn(tx: Reader, session: string): Map<string, Map<string, string>> {
  const found = new Map<string, Map<string, string>>();
  const rows = tx.all<{ data: string }>(
    `SELECT data FROM record WHERE subject = ? AND what = 'session-excepted' ORDER BY seq`,
    `session:${session}`,
  );
  for (const row of rows) {
    const { lines, excepted } = JSON.parse(row.data) as DataOf<'session-excepted'>;
    for (const { subject, why } of excepted) {
      const known = found.get(subject) ?? new Map<string, string>();
      found.set(subject, known);
      for (const line of lines) known.set(line, why);
    }
  }
  return found;
}
