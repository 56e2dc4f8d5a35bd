import { type Fact, type FactOf, factsOf } from './facts.ts';
import type { Event } from './periods.ts';
import type { Bar, Rules } from './rules.ts';

const nameOf = (bar: Bar) => `${bar.source} ${bar.put} ${bar.produce} ${bar.market} ${bar.clock}`;

/** One bar for heads of which some carry the one and some the other: free when the last of them is. */
function together(one: Bar, other: Bar | undefined): Bar {
  if (other === undefined || other === one) return one;
  const [long, short] = one.clear >= other.clear ? [one, other] : [other, one];
  const ends = [long.atLeast, short.atLeast, Number.isFinite(short.clear) ? short.clear : undefined];
  const atLeast = Math.max(...ends.map((end) => end ?? Number.NEGATIVE_INFINITY));
  return { ...long, after: long.after ?? (long.clear === short.clear ? short.after : undefined), atLeast };
}

/** What each subject carries at the end, by walking forward: treatments put something on, moves hand it on. */
export function carried(
  facts: readonly Fact[],
  barsOf: (fact: Fact) => Bar[],
  rules: Rules,
): Map<string, Map<string, Bar>> {
  const on = new Map<string, Map<string, Bar>>();
  /** What came to each subject at the moment that is looked at. */
  let came = new Map<string, Map<string, Bar>>();
  const put = (subject: string, bars: Iterable<Bar>): boolean => {
    let more = false;
    const [mine, fresh] = [on, came].map((all) => {
      const found = all.get(subject) ?? new Map<string, Bar>();
      all.set(subject, found);
      return found;
    }) as [Map<string, Bar>, Map<string, Bar>];
    for (const bar of bars) {
      const name = nameOf(bar);
      const before = mine.get(name);
      const now = together(bar, before);
      more ||= before === undefined || now.clear > before.clear || !fresh.has(name);
      mine.set(name, now);
      fresh.set(name, together(bar, fresh.get(name)));
    }
    return more;
  };
  for (let i = 0; i < facts.length; ) {
    const order = facts[i]?.order;
    let end = i;
    while (end < facts.length && facts[end]?.order === order) end += 1;
    const now = facts.slice(i, end);
    i = end;
    came = new Map();
    const events = factsOf(now, 'event-noted');
    const before = new Map(
      events.map(({ data }) => [data.subject, new Map(on.get(data.subject) ?? [])] as const),
    );
    const moves = factsOf(now, 'lot-moved').filter((move) => rules.follows(move.data));
    // Moves of one moment hand on to each other in any order: nobody knows which came first.
    const handOn = () => {
      for (let more = true; more; ) {
        more = false;
        for (const { data } of moves) {
          const given = on.get(`lot:${data.from}`);
          if (given && put(data.to, [...given.values()])) more = true;
        }
      }
    };
    if (!rules.momentFollows) handOn();
    for (const fact of now) {
      for (const bar of barsOf(fact)) put(bar.put, [bar]);
      if (fact.kind === 'hold-ended') endHold(on, fact as FactOf<'hold-ended'>, rules);
    }
    if (rules.momentFollows) handOn();
    // An event is of those who were there before this moment and after it: what it brings them counts from here on.
    for (const { data, happened } of events) {
      settle({ what: data.what, local: happened.local }, before.get(data.subject) ?? new Map());
    }
    for (const [subject, settled] of before) {
      const mine = on.get(subject);
      for (const [name, bar] of settled) {
        if (mine?.has(name)) mine.set(name, together(bar, came.get(subject)?.get(name)));
      }
    }
  }
  return on;

  function settle(event: Event, mine: Map<string, Bar>): void {
    const all = rules.settlesForAll ? [...on.values(), mine] : [mine];
    const names = [...mine.keys()];
    for (const bars of all) {
      for (const name of names) {
        const bar = bars.get(name);
        if (bar?.after === undefined || !rules.settles(bar, event)) continue;
        const clear = Math.max(bar.after(event), bar.atLeast ?? Number.NEGATIVE_INFINITY);
        if (Number.isFinite(clear)) bars.set(name, { ...bar, clear, after: undefined });
      }
    }
  }
}

/** A hold that got what it waited for is gone from everyone who carries it. */
function endHold(
  on: Map<string, Map<string, Bar>>,
  { data }: FactOf<'hold-ended'>,
  { findingIsOfOne }: Rules,
): void {
  const source = `hold:${data.hold}`;
  // Only an answer about the subject that was held counts, and only once it is held.
  const own = [...(on.get(data.subject)?.values() ?? [])];
  if (!own.some((bar) => bar.source === source && bar.put === data.subject)) return;
  for (const mine of on.values()) {
    for (const [name, bar] of mine) {
      // One report may have put it on several, and each needs its own answer.
      if (bar.source === source && (bar.put === data.subject || !findingIsOfOne)) mine.delete(name);
    }
  }
}

type Foot = { dam: string; from: number; until: number };

/** Whom a subject sucked, and from when to when; heads that left a lot of lambs sucked until they left it at the latest. */
export function damsOf(facts: readonly Fact[], rules: Rules): (subject: string) => Foot[] {
  const feet = new Map(factsOf(facts, 'at-foot-set').map(({ data }) => [data.foot, data] as const));
  const moves = factsOf(facts, 'lot-moved').filter((move) => rules.follows(move.data));
  const all = [...feet.values()];
  if (!rules.atFootHolds || all.length === 0) return () => [];
  return (subject) => {
    const found: Foot[] = [];
    const seen = new Set<string>();
    const walk = (who: string, cut: number): void => {
      if (seen.has(`${who} ${cut}`)) return;
      seen.add(`${who} ${cut}`);
      for (const foot of all) {
        const from = Date.parse(foot.from.at);
        const until = foot.until === undefined ? Number.POSITIVE_INFINITY : Date.parse(foot.until.at);
        if (foot.subject === who && from <= cut)
          found.push({ dam: foot.dam, from, until: Math.min(until, cut) });
      }
      for (const { data, order } of moves) {
        if (data.to === who && `lot:${data.from}` !== who && order <= cut) walk(`lot:${data.from}`, order);
      }
    };
    walk(subject, Number.POSITIVE_INFINITY);
    return found;
  };
}
