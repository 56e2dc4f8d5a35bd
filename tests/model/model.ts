import type { DataOf } from '../../src-shared/entries/all.ts';
import { heldBars, knownOf, needleBars, treatmentBars, unreadBars } from './bars.ts';
import { carried, damsOf } from './carry.ts';
import { type Fact, type FactOf, type Line, standing } from './facts.ts';
import { type Bar, RULES, type Rules } from './rules.ts';
import { stockOf, storesOf } from './stock.ts';
import { mayHave } from './unread.ts';

export { type Bar, RULES, type Rules } from './rules.ts';

/**
 * The second model: what is left in every container and what bars the produce of every animal and lot that is there,
 * worked out plainly from the lines of the journal. It takes no decision out of an entry (no clear instant, no state,
 * no period): it reads the labels, the doses, the moves, and counts by itself.
 */
export type Model = {
  balances: Map<string, bigint>;
  /** What of each container came and went in each way, by "container cause". */
  byCause: Map<string, bigint>;
  /** The store each container stands in. */
  stores: Map<string, string>;
  /** Heads of everything that is there. */
  present: Map<string, number>;
  /** What bears on a subject that is there, its earlier lots' included. */
  bars: Map<string, Bar[]>;
  mayTake(subject: string, produce: string, at: number): boolean;
};

function headsOf(facts: readonly Fact[]): Map<string, number> {
  const heads = new Map<string, number>();
  const add = (subject: string, by: number) => {
    const before = heads.get(subject);
    if (before !== undefined) heads.set(subject, Math.max(0, before + by));
  };
  for (const fact of facts) {
    const { data } = fact;
    if (fact.kind === 'animal-set') {
      const subject = `animal:${(data as DataOf<'animal-set'>).animal}`;
      if (!heads.has(subject)) heads.set(subject, 1);
    } else if (fact.kind === 'lot-set') {
      const lot = data as DataOf<'lot-set'>;
      heads.set(`lot:${lot.lot}`, lot.heads);
    } else if (fact.kind === 'departed') {
      const gone = data as DataOf<'departed'>;
      add(gone.subject, gone.subject.startsWith('animal:') ? -1 : -gone.heads);
    } else if (fact.kind === 'lot-moved') {
      const move = data as DataOf<'lot-moved'>;
      if (`lot:${move.from}` === move.to) continue;
      add(`lot:${move.from}`, -move.heads);
      if (move.to.startsWith('lot:')) add(move.to, move.heads);
    }
  }
  return new Map([...heads].filter(([, count]) => count > 0));
}

/** Works everything out from the lines of a journal. */
export function secondModel(lines: readonly Line[], rules: Rules = RULES): Model {
  const facts = standing(lines, rules);
  const known = knownOf(facts, rules);
  const heads = headsOf(facts);
  const unread = rules.unreadCount ? mayHave(lines, facts, rules) : [];
  const barsOf = (fact: Fact): Bar[] => {
    if (fact.kind === 'administered') {
      const given = fact as FactOf<'administered'>;
      if (!rules.unmarkedHoldAll && given.data.heads < headsBefore(facts, given)) return [];
      return treatmentBars(given, facts, known, rules);
    }
    if (fact.kind === 'needle-lost')
      return rules.needlesHold ? needleBars(fact as FactOf<'needle-lost'>) : [];
    // From the beginning of the work, as the line that holds says; where none does, the work itself has to do.
    const mine = unread.filter((one) => (one.held ?? one.opened) === fact);
    if (mine.length > 0) return mine.flatMap((one) => unreadBars(one, facts, known, rules));
    if (fact.kind !== 'held' || isOfWork(fact as FactOf<'held'>)) return [];
    return heldBars(fact as FactOf<'held'>, facts, rules);
  };
  const on = carried(facts, barsOf, rules);
  const stock = stockOf(facts, rules);
  const dams = damsOf(facts, rules);
  const bars = new Map(
    [...heads.keys()].map((subject) => [
      subject,
      [
        ...(on.get(subject)?.values() ?? []),
        ...dams(subject).flatMap((foot) =>
          [...(on.get(foot.dam)?.values() ?? [])]
            .filter((bar) => bar.produce === 'meat' && bar.isOfMedicine && rules.atFootFor(bar.from, foot))
            .map(asYoung),
        ),
      ],
    ]),
  );
  return {
    balances: stock.left,
    byCause: stock.byCause,
    stores: storesOf(facts),
    present: heads,
    bars,
    mayTake: (subject, produce, at) =>
      !(bars.get(subject) ?? []).some(
        (bar) =>
          bar.produce === produce &&
          bar.market === 'domestic' &&
          bar.clock === 'food' &&
          bar.from <= at &&
          at < bar.clear,
      ),
  };
}

/** What bars the ewe, as it bars her lambs: what waits, or has no end, has none for them unless the label's word counts. */
function asYoung(bar: Bar): Bar {
  const { young, clear } = bar;
  if (young === undefined) return bar;
  if (young.instead) return { ...bar, clear: young.clear };
  return { ...bar, clear: Math.max(clear, young.clear) };
}

/** A hold of one that may have been treated at the race: who that is the model works out by itself. */
function isOfWork({ data }: FactOf<'held'>): boolean {
  return data.cause === 'possibly-treated' && data.session !== undefined;
}

/** Heads of a lot just before one of its treatments. */
function headsBefore(facts: readonly Fact[], given: FactOf<'administered'>): number {
  const before = facts.filter(
    (fact) => fact.order < given.order || (fact.order === given.order && fact.seq < given.seq),
  );
  return headsOf(before).get(given.data.subject) ?? 0;
}
