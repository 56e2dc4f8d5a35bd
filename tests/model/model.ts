import type { DataOf } from '../../src-shared/entries/all.ts';
import type { LabelTerms } from '../../src-shared/label/terms.ts';
import { type Fact, type FactOf, factsOf, type Line, type OrderRules, standing } from './facts.ts';
import {
  type Clear,
  type Dose,
  type House,
  labelsClear,
  PERIOD_RULES,
  type PeriodRules,
  passes,
} from './periods.ts';
import { STOCK_RULES, type StockRules, stockOf, storesOf } from './stock.ts';
import { atTime, dayBegins } from './zones.ts';

/**
 * The second model: what is left in every container and what bars the produce of every animal and lot that is there,
 * worked out plainly from the lines of the journal. It takes no decision out of an entry (no clear instant, no state,
 * no period): it reads the labels, the doses, the moves, and counts by itself.
 */
export type Rules = OrderRules &
  PeriodRules &
  StockRules & {
    /** Whether heads that leave a lot take its holds along. */
    follows(move: DataOf<'lot-moved'>): boolean;
    /** Whether what happens to the giving lot at the very moment of the move follows too. */
    momentFollows: boolean;
    /** The local time a dose of a course is counted from. */
    lastDose(happened: string, plannedLast: string | undefined, zone: string): string;
    /** Whether a treatment of some of the heads of a lot holds all of it. */
    unmarkedHoldAll: boolean;
    labelAsCorrected: boolean;
    unreadCount: boolean;
    /** Whether whoever may carry a needle is held, and whether a finding about one speaks for that one alone. */
    needlesHold: boolean;
    findingIsOfOne: boolean;
    boxes(labels: readonly LabelTerms[]): readonly LabelTerms[];
  };

/** A day alone: moves at the end of the day, everything else at its start; a written time as it is. */
function orderOf({ kind, happened }: Line): number {
  const { local, zone, at } = happened;
  if (local.length === 10 && kind === 'lot-moved') return dayBegins(local, zone, 1);
  if (local.length === 10 && kind === 'administered') return dayBegins(local, zone);
  if (kind === 'lot-moved' || kind === 'administered') {
    const minute = atTime(local, zone);
    const written = Date.parse(at);
    return written >= minute && written < minute + 60_000 ? written : minute;
  }
  return Date.parse(at);
}

export const RULES: Rules = {
  ...PERIOD_RULES,
  ...STOCK_RULES,
  orderOf,
  struckCounts: true,
  correctionCounts: true,
  follows: () => true,
  momentFollows: true,
  lastDose: (happened, plannedLast, zone) => {
    if (plannedLast === undefined) return happened;
    const ends = (local: string) => PERIOD_RULES.countedFrom(local, zone);
    return ends(plannedLast) > ends(happened) ? plannedLast : happened;
  },
  unmarkedHoldAll: true,
  labelAsCorrected: true,
  unreadCount: true,
  needlesHold: true,
  findingIsOfOne: true,
  boxes: (labels) => labels,
};

/** What bars one produce on a market, from an instant on. */
export type Bar = {
  source: string;
  put: string;
  produce: string;
  market: string;
  from: number;
  clear: Clear;
};

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

/** Deviations after which the label's own periods do not speak for what was done. */
const BEYOND_LABEL = new Set([
  'class-not-on-label',
  'dose-line-unknown',
  'too-light',
  'too-heavy',
  'too-young',
  'too-old',
  'over-label',
  'over-most',
  'below-first-band',
  'above-last-band',
  'weight-missing',
  'strength-missing',
]);
const PRODUCE = ['meat', 'milk', 'wool-harvest', 'wool-handling'];

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

/** What the label of a revision says, as last typed by then. */
function labelsOf(facts: readonly Fact[], corrected: boolean): Map<string, LabelTerms> {
  const labels = new Map<string, LabelTerms>();
  for (const { data } of factsOf(facts, 'label-set')) {
    if (corrected || !labels.has(data.revision)) labels.set(data.revision, data.terms);
  }
  return labels;
}

/** House settings as they stood when a line was written. */
function houseAt(facts: readonly Fact[], holding: string, seq: number): House {
  const said = factsOf(facts, 'holding-set').filter(
    (fact) => fact.data.holding === holding && fact.seq < seq,
  );
  const last = said.at(-1);
  if (!last) throw new Error(`the model knows no holding ${holding}`);
  return { counting: last.data.counting ?? 'later', marginDays: last.data.marginDays ?? 0 };
}

function treatmentBars(
  fact: FactOf<'administered'>,
  facts: readonly Fact[],
  known: Known,
  rules: Rules,
): Bar[] {
  const { data, happened } = fact;
  const house = houseAt(facts, data.holding, fact.saidSeq);
  const dose: Dose = {
    class: data.class,
    route: data.route,
    doseLine: data.doseLine,
    zone: happened.zone,
    house,
  };
  const revisions =
    data.source.kind === 'ours' ? data.source.draws.map((draw) => draw.revision) : [data.source.revision];
  const labels = rules
    .boxes(revisions.flatMap((revision) => known.labels.get(revision) ?? []))
    .map((terms) => ({ terms, dose }));
  const open =
    data.course && known.courses.get(data.course.course) !== 'closed' ? data.course.plannedLast : undefined;
  const last = rules.lastDose(happened.local, open, happened.zone);
  const beyond = (data.deviations ?? []).some(({ code }) => BEYOND_LABEL.has(code));
  const vet = data.instruction === undefined ? undefined : known.instructions.get(data.instruction);
  return PRODUCE.flatMap((produce) =>
    ['domestic', 'export'].flatMap((market) => {
      const label = labelsClear(labels, produce, market, last, rules);
      if (label === undefined) return [];
      const stated = vet?.get(produce);
      let clear = beyond ? rules.notStated : label;
      if (stated !== undefined) {
        // The vet may lengthen what the labels state, never shorten it; where they are silent his word is the only one.
        const silentCounts = { ...rules, notStated: Number.NEGATIVE_INFINITY };
        const printed = labelsClear(labels, produce, market, last, silentCounts) ?? Number.NEGATIVE_INFINITY;
        clear = Math.max(printed, passes(stated, last, dose, rules));
      }
      const source = `administration:${data.administration}`;
      return [{ source, put: data.subject, produce, market, from: fact.order, clear }];
    }),
  );
}

function heldBars(fact: FactOf<'held'>, facts: readonly Fact[], known: Known, rules: Rules): Bar[] {
  const { data } = fact;
  const base = { source: `hold:${data.hold}`, put: data.subject, from: fact.order };
  if (data.cause !== 'possibly-treated' || data.session === undefined) {
    // Bought in, a needle not found, a word by hand: facts without a clock, or with the end that a person named.
    return data.holds
      .filter((hold) => hold.clock === 'food' && hold.state !== 'none')
      .map((hold) => ({
        ...base,
        produce: hold.produce,
        market: hold.market,
        clear: hold.state === 'until' && hold.until ? Date.parse(hold.until) : Number.POSITIVE_INFINITY,
      }));
  }
  const opened = factsOf(facts, 'session-opened').find((each) => each.data.session === data.session);
  const closed = factsOf(facts, 'session-closed').find((each) => each.data.session === data.session);
  if (!opened || !closed) throw new Error(`the model knows no closed session ${data.session}`);
  const planned = opened.data.subjects.find((each) => each.subject === data.subject);
  const got = opened.data.lines.filter((_line, i) => planned?.doses[i] != null);
  const house = houseAt(facts, opened.data.holding, fact.seq);
  const { local, zone } = closed.happened;
  const labels = got.flatMap((line) => {
    const terms = known.labels.get(line.revision);
    const route = terms?.doseLines.find((each) => each.id === line.doseLine)?.route;
    if (!terms || route === undefined) return [];
    return {
      terms,
      dose: { class: known.classes.get(data.subject) ?? '', route, doseLine: line.doseLine, zone, house },
    };
  });
  return PRODUCE.flatMap((produce) =>
    ['domestic', 'export'].flatMap((market) => {
      const clear = labelsClear(labels, produce, market, local, rules);
      return clear === undefined ? [] : [{ ...base, produce, market, clear }];
    }),
  );
}

/** A needle nobody found is in the meat for good, of everybody who may carry it. A needle does not come into milk. */
function needleBars(fact: FactOf<'needle-lost'>): Bar[] {
  const { data } = fact;
  if (data.found === 'found-whole') return [];
  return data.held.map((subject) => ({
    source: `hold:${data.loss}`,
    put: subject,
    produce: 'meat',
    market: 'domestic',
    from: fact.order,
    clear: Number.POSITIVE_INFINITY,
  }));
}

type Known = {
  labels: Map<string, LabelTerms>;
  courses: Map<string, 'open' | 'closed'>;
  instructions: Map<string, Map<string, string>>;
  classes: Map<string, string>;
};

function knownOf(facts: readonly Fact[], rules: Rules): Known {
  return {
    labels: labelsOf(facts, rules.labelAsCorrected),
    courses: new Map(
      factsOf(facts, 'course-set').map(
        ({ data }) => [data.course, data.state === 'open' ? 'open' : 'closed'] as const,
      ),
    ),
    instructions: new Map(
      factsOf(facts, 'instruction-given').map(({ data }) => [
        data.instruction,
        new Map((data.periods ?? []).map((row) => [row.produce, row.period] as const)),
      ]),
    ),
    classes: new Map([
      ...factsOf(facts, 'animal-set').map(({ data }) => [`animal:${data.animal}`, data.class] as const),
      ...factsOf(facts, 'lot-set').map(({ data }) => [`lot:${data.lot}`, data.class] as const),
    ]),
  };
}

/** What each subject carries at the end, by walking forward: treatments put something on, moves hand it on. */
function carried(
  facts: readonly Fact[],
  barsOf: (fact: Fact) => Bar[],
  rules: Rules,
): Map<string, Map<string, Bar>> {
  const on = new Map<string, Map<string, Bar>>();
  const put = (subject: string, bars: Iterable<Bar>): boolean => {
    const mine = on.get(subject) ?? new Map<string, Bar>();
    on.set(subject, mine);
    const before = mine.size;
    for (const bar of bars) mine.set(`${bar.source} ${bar.put} ${bar.produce} ${bar.market}`, bar);
    return mine.size > before;
  };
  for (let i = 0; i < facts.length; ) {
    const order = facts[i]?.order;
    let end = i;
    while (end < facts.length && facts[end]?.order === order) end += 1;
    const now = facts.slice(i, end);
    i = end;
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
  }
  return on;
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

/** Works everything out from the lines of a journal. */
export function secondModel(lines: readonly Line[], rules: Rules = RULES): Model {
  const facts = standing(lines, rules);
  const known = knownOf(facts, rules);
  const heads = headsOf(facts);
  const barsOf = (fact: Fact): Bar[] => {
    if (fact.kind === 'administered') {
      const given = fact as FactOf<'administered'>;
      if (!rules.unmarkedHoldAll && given.data.heads < headsBefore(facts, given)) return [];
      return treatmentBars(given, facts, known, rules);
    }
    if (fact.kind === 'needle-lost')
      return rules.needlesHold ? needleBars(fact as FactOf<'needle-lost'>) : [];
    if (fact.kind !== 'held') return [];
    const held = fact as FactOf<'held'>;
    if (!rules.unreadCount && held.data.cause === 'possibly-treated') return [];
    return heldBars(held, facts, known, rules);
  };
  const on = carried(facts, barsOf, rules);
  const stock = stockOf(facts, rules);
  const bars = new Map([...heads.keys()].map((subject) => [subject, [...(on.get(subject)?.values() ?? [])]]));
  return {
    balances: stock.left,
    byCause: stock.byCause,
    stores: storesOf(facts),
    present: heads,
    bars,
    mayTake: (subject, produce, at) =>
      !(bars.get(subject) ?? []).some(
        (bar) => bar.produce === produce && bar.market === 'domestic' && bar.from <= at && at < bar.clear,
      ),
  };
}

/** Heads of a lot just before one of its treatments. */
function headsBefore(facts: readonly Fact[], given: FactOf<'administered'>): number {
  const before = facts.filter(
    (fact) => fact.order < given.order || (fact.order === given.order && fact.seq < given.seq),
  );
  return headsOf(before).get(given.data.subject) ?? 0;
}
