import type { DataOf } from '../../src-shared/entries/all.ts';
import { type Fact, type FactOf, factsOf, type Line, standing } from './facts.ts';
import type { Rules } from './rules.ts';

type PlanLine = DataOf<'session-opened'>['lines'][number];

/** Of one session and one subject: what it may have had, and the line of the book that says so, where there is one. */
export type MayHave = {
  opened: FactOf<'session-opened'>;
  closed: FactOf<'session-closed'>;
  subject: string;
  /** By which lines, and by the labels of which boxes each. */
  got: { line: PlanLine; boxes: readonly string[] }[];
  held: FactOf<'held'> | undefined;
};

/**
 * Who may have been given what when work at the race was closed, worked out from the plan, the records there were by
 * then, the count of heads and what was said: not from what the book says is held.
 */
export function mayHave(lines: readonly Line[], facts: readonly Fact[], rules: Rules): MayHave[] {
  const opened = factsOf(facts, 'session-opened');
  return factsOf(facts, 'session-closed').flatMap((closed) => {
    const open = opened.find(({ data }) => data.session === closed.data.session);
    if (!open) throw new Error(`the model knows no session ${closed.data.session}`);
    const before = lines.filter(({ seq }) => seq < closed.seq);
    const known = standing(before, rules);
    return unreadOf(open, closed, known, rules).flatMap(({ subject, got }): MayHave[] => {
      const isIt = ({ kind, data }: Pick<Line, 'kind' | 'data'>) =>
        kind === 'held' &&
        (data as DataOf<'held'>).session === open.data.session &&
        (data as DataOf<'held'>).subject === subject;
      const held = facts.find(isIt) as FactOf<'held'> | undefined;
      // Written and struck out since: a person said that it is not so.
      if (held === undefined && lines.some(isIt)) return [];
      const boxes = boxesOf(open, closed, got, lines, rules);
      return [
        {
          opened: open,
          closed,
          subject,
          got: got.map((line) => ({ line, boxes: boxes.get(line.line) ?? [] })),
          held,
        },
      ];
    });
  });
}

/**
 * The labels of the boxes of each line: the one it was planned by, of those taken to the race, and of those drawn from
 * there, by what the book held when it was decided: at the closing, and whenever one of those labels was typed anew.
 */
function boxesOf(
  open: FactOf<'session-opened'>,
  closed: FactOf<'session-closed'>,
  got: readonly PlanLine[],
  lines: readonly Line[],
  rules: Rules,
): Map<string, readonly string[]> {
  const asOf = (seq: number) => {
    const then = standing(
      lines.filter((line) => line.seq < seq),
      rules,
    );
    const given = factsOf(then, 'administered').filter(({ data }) => data.session === open.data.session);
    return new Map(
      got.map((line) => {
        const taken = factsOf(then, 'batch-received').flatMap(({ data }) =>
          data.containers.some(({ container }) => line.containers.includes(container)) ? [data.revision] : [],
        );
        const drawn = given.flatMap(({ data: { line: by, source } }) =>
          by === line.line && source.kind === 'ours' ? source.draws.map(({ revision }) => revision) : [],
        );
        return [line.line, [...new Set([line.revision, ...taken, ...drawn])]] as const;
      }),
    );
  };
  let boxes = asOf(closed.seq);
  for (const { seq, kind, data } of lines) {
    if (kind !== 'label-set' || seq < closed.seq) continue;
    const now = asOf(seq);
    if ([...now.values()].flat().includes((data as DataOf<'label-set'>).revision)) boxes = now;
  }
  return boxes;
}

function unreadOf(
  open: FactOf<'session-opened'>,
  closed: FactOf<'session-closed'>,
  known: readonly Fact[],
  rules: Rules,
): { subject: string; got: DataOf<'session-opened'>['lines'] }[] {
  const { session, subjects, lines } = open.data;
  /** Heads recorded of each subject by each line: the most of any one record. */
  const done = new Map<string, Map<string, number>>();
  for (const { data } of factsOf(known, 'administered')) {
    if (data.session !== session || data.line === undefined) continue;
    const own = done.get(data.subject) ?? new Map<string, number>();
    done.set(data.subject, own);
    own.set(data.line, Math.max(own.get(data.line) ?? 0, data.heads));
  }
  const through = (subject: string) => Math.max(0, ...(done.get(subject)?.values() ?? []));
  const recorded = [...done.keys()].reduce((sum, subject) => sum + through(subject), 0);
  const isMore = closed.data.headsThrough > recorded;
  const notGiven = new Set<string>();
  const leftOut = new Set<string>();
  for (const { data } of known.filter(
    ({ kind }) => kind === 'session-excepted',
  ) as FactOf<'session-excepted'>[]) {
    if (data.session !== session) continue;
    for (const { subject } of data.excepted) for (const line of data.lines) leftOut.add(`${subject} ${line}`);
  }
  if (rules.noneIsHeard) {
    for (const { subject, lines: none } of closed.data.gotNone ?? [])
      for (const line of none) notGiven.add(`${subject} ${line}`);
  }
  const planned = new Map(
    subjects.map(({ subject, heads, doses, toWeigh }) => [
      subject,
      { heads, lines: lines.filter((_line, i) => doses[i] != null || toWeigh?.includes(i)) },
    ]),
  );
  for (const subject of done.keys()) {
    if (planned.has(subject)) continue;
    const from = lotsOf(subject, known, rules)
      .filter(({ left }) => left >= open.order)
      .flatMap(({ lot }) => planned.get(lot)?.lines ?? []);
    if (from.length > 0) planned.set(subject, { heads: Number.POSITIVE_INFINITY, lines: [...new Set(from)] });
  }
  const heads = headsNow(known);
  const isAway = (subject: string) => closed.data.notThrough?.includes(subject) === true;
  const there = (subject: string) => (subject.startsWith('animal:') ? 1 : (heads.get(subject) ?? 0));
  const lacking = (subject: string) =>
    Math.max(0, Math.min(planned.get(subject)?.heads ?? 0, there(subject)) - through(subject));
  // Who was left out of a run by name is only suspected once all others cannot make up the count.
  const isNamedOut = (subject: string) => [...leftOut].some((key) => key.startsWith(`${subject} `));
  const accounted = [...planned.keys()]
    .filter((subject) => !isAway(subject) && !isNamedOut(subject))
    .reduce((sum, subject) => sum + lacking(subject), 0);
  const isTooMany = closed.data.headsThrough - recorded > accounted;
  return [...planned].flatMap(([subject, plan]) => {
    const went = through(subject);
    const mayBeMore = isMore && !isAway(subject) && (went === 0 || lacking(subject) > 0);
    const isOut = (line: string) => leftOut.has(`${subject} ${line}`) && (went > 0 || !isTooMany);
    const got = plan.lines.filter(({ line }) => {
      if (notGiven.has(`${subject} ${line}`) || isOut(line)) return false;
      const isLacking = (done.get(subject)?.get(line) ?? 0) < went;
      return mayBeMore || (rules.partlyCounts && isLacking);
    });
    return got.length === 0 ? [] : [{ subject, got }];
  });
}

/** The lots that gave a subject its heads, and when they left each for the last time. */
function lotsOf(subject: string, known: readonly Fact[], rules: Rules): { lot: string; left: number }[] {
  const moves = factsOf(known, 'lot-moved').filter(({ data }) => rules.follows(data));
  const found = new Map<string, number>();
  const walk = (who: string, cut: number): void => {
    for (const { data, order } of moves) {
      const lot = `lot:${data.from}`;
      if (
        data.to !== who ||
        lot === who ||
        order > cut ||
        (found.get(lot) ?? Number.NEGATIVE_INFINITY) >= order
      )
        continue;
      found.set(lot, order);
      walk(lot, order);
    }
  };
  walk(subject, Number.POSITIVE_INFINITY);
  found.delete(subject);
  return [...found].map(([lot, left]) => ({ lot, left }));
}

/** Heads of every lot. */
function headsNow(known: readonly Fact[]): Map<string, number> {
  const heads = new Map<string, number>();
  const add = (lot: string, by: number) => {
    const before = heads.get(lot);
    if (before !== undefined) heads.set(lot, Math.max(0, before + by));
  };
  for (const fact of known) {
    if (fact.kind === 'lot-set') {
      const { lot, heads: counted } = fact.data as DataOf<'lot-set'>;
      heads.set(`lot:${lot}`, counted);
    } else if (fact.kind === 'departed') {
      const { subject, heads: gone } = fact.data as DataOf<'departed'>;
      add(subject, -gone);
    } else if (fact.kind === 'lot-moved') {
      const { from, to, heads: went } = fact.data as DataOf<'lot-moved'>;
      if (`lot:${from}` === to) continue;
      add(`lot:${from}`, -went);
      add(to, went);
    }
  }
  return heads;
}
