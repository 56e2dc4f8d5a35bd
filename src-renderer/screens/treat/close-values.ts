import type { Reply } from '../../../src-shared/calls/all.ts';

type Session = Reply<'session'>;
type Waiting = Session['waiting'][number];
/** A type and no interface: only so may it be a form's values. `none` has "subject, space, line" each. */
export type CloseValues = {
  heads: string;
  absent: readonly string[];
  none: readonly string[];
  sharps: string;
  note: string;
};

/** One of whom something may have been given, and the lines it is. */
export type May = { one: Waiting; lines: readonly string[] };

const noneKey = (subject: string, line: string) => `${subject} ${line}`;

/** With or without the word that a subject got none of these lines. */
export function sayNone(
  none: readonly string[],
  subject: string,
  lines: readonly string[],
  isNone: boolean,
): string[] {
  const keys = lines.map((line) => noneKey(subject, line));
  return [...none.filter((key) => !keys.includes(key)), ...(isNone ? keys : [])];
}

/** What is said of whom, as the desk wants it. */
export function gotNoneOf(none: readonly string[], waiting: readonly Waiting[]) {
  return waiting.flatMap(({ subject, left }) => {
    const lines = left.filter((line) => none.includes(noneKey(subject, line)));
    return lines.length === 0 ? [] : [{ subject, lines }];
  });
}

/** The lines one may have had, by what is said so far. */
function linesLeft(one: Waiting, none: readonly string[]): string[] {
  return one.left.filter((line) => !none.includes(noneKey(one.subject, line)));
}

/** Who is held whatever is counted: another medicine is recorded of them, and what was planned besides is not. */
export function partlyBy(session: Pick<Session, 'waiting'>, none: readonly string[]): May[] {
  return (
    session.waiting
      // One that was left out by name of a run is one of the heads that are recorded: it surely got none.
      .filter(({ isPartly, leftOut }) => isPartly && leftOut === undefined)
      .map((one) => ({ one, lines: linesLeft(one, none) }))
      .filter(({ lines }) => lines.length > 0)
  );
}

/**
 * Who is held when this many went through: everybody unread, as soon as one more went through than is recorded. Whoever
 * was left out of a run by name only where more went through than all others can account for.
 */
export function unreadBy(
  session: Pick<Session, 'waiting' | 'session' | 'inPart'>,
  headsTyped: string,
  { absent, none }: Pick<CloseValues, 'absent' | 'none'>,
): {
  state: 'unknown' | 'even' | 'fewer' | 'more';
  by: number;
  unread: readonly (Waiting | Session['inPart'][number])[];
} {
  const without = session.waiting.filter((one) => !one.isPartly && !absent.includes(one.subject));
  const inPart = session.inPart.filter(({ subject }) => !absent.includes(subject));
  const by = Number(headsTyped) - session.session.treated;
  const others = [...without.filter(({ leftOut }) => leftOut === undefined), ...inPart];
  const isBelieved = by <= others.reduce((sum, one) => sum + one.heads, 0);
  const may = without.filter(
    (one) => linesLeft(one, none).length > 0 && !(isBelieved && one.leftOut !== undefined),
  );
  const unread = [...may, ...inPart];
  if (!/^\d{1,7}$/.test(headsTyped.trim())) return { state: 'unknown', by: 0, unread };
  if (by === 0) return { state: 'even', by, unread: [] };
  return by < 0 ? { state: 'fewer', by: -by, unread: [] } : { state: 'more', by, unread };
}
