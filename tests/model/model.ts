import type { DataOf } from '../../src-shared/entries/all.ts';
import type { LabelTerms } from '../../src-shared/label/terms.ts';
import { type Fact, type FactOf, factsOf, type Line, type OrderRules, standing } from './facts.ts';
import {
  type Clear,
  type Dose,
  type Event,
  type House,
  labelsClear,
  PERIOD_RULES,
  type PeriodRules,
  passes,
} from './periods.ts';
import { STOCK_RULES, type StockRules, stockOf, storesOf } from './stock.ts';
import { atTime, dayBegins, wallClock } from './zones.ts';

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
    /** Whether something that happened settles what waited for it, for those it happened to. */
    settles(bar: Bar, event: Event): boolean;
    /** Whether it settles what those carry who had left before, or came in afterwards. */
    settlesForAll: boolean;
    /** Which day counts for a certificate. */
    isCertified(house: House, day: string): boolean;
    /** Whether lambs carry what their dam was treated with, and only while at foot. */
    atFootHolds: boolean;
    atFootFor(from: number, foot: { from: number; until: number }): boolean;
    /** Whether a word that gives a bought-in hold an end is heard. */
    wordsDate: boolean;
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
  settles: () => true,
  settlesForAll: false,
  isCertified: (house, day) =>
    (house.organic ?? []).some(({ from, until }) => from <= day && (until === undefined || day <= until)),
  atFootHolds: true,
  atFootFor: (from, foot) => foot.from <= from && from <= foot.until,
  wordsDate: true,
  boxes: (labels) => labels,
};

/** What bars one produce on a market, from an instant on. */
export type Bar = {
  source: string;
  put: string;
  produce: string;
  market: string;
  clock: 'food' | 'organic';
  from: number;
  clear: Clear;
  /** While it waits for something to happen: until when it bars once that has. */
  after?: ((event: Event) => Clear) | undefined;
  /** Some of its heads have their end already, and none of them is free before this. */
  atLeast?: Clear;
  /** By a medicine, so that lambs at foot carry it too. */
  isOfMedicine: boolean;
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
  const organic = factsOf(facts, 'certificate-set')
    .filter((fact) => fact.seq < seq && fact.data.rules === 'eu-organic')
    .map(({ data }) => ({ from: data.from, until: data.until }));
  return { counting: last.data.counting ?? 'later', marginDays: last.data.marginDays ?? 0, organic };
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
      const base = { source, put: data.subject, produce, market, from: fact.order, isOfMedicine: true };
      const isWaiting = !beyond && stated === undefined && clear === Number.POSITIVE_INFINITY;
      const clockOf = (isOrganic: boolean) => (event?: Event) =>
        labelsClear(labels, produce, market, last, rules, { event, isOrganic }) ?? Number.POSITIVE_INFINITY;
      const food = { ...base, clock: 'food' as const, clear, after: isWaiting ? clockOf(false) : undefined };
      if (!hasSecondClock(produce, market) || !rules.isCertified(house, happened.local.slice(0, 10)))
        return [food];
      const second = beyond ? rules.notStated : clockOf(true)();
      return [
        food,
        { ...base, clock: 'organic' as const, clear: second, after: isWaiting ? clockOf(true) : undefined },
      ];
    }),
  );
}

const hasSecondClock = (produce: string, market: string) =>
  market === 'domestic' && (produce === 'meat' || produce === 'milk');

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
        clock: 'food' as const,
        isOfMedicine: false,
        clear: rules.wordsDate ? wordedEnd(fact, hold, facts, rules) : Number.POSITIVE_INFINITY,
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
      const clockOf = (isOrganic: boolean) => (event?: Event) =>
        labelsClear(labels, produce, market, local, rules, { event, isOrganic }) ?? Number.POSITIVE_INFINITY;
      if (labelsClear(labels, produce, market, local, rules) === undefined) return [];
      const isCertified = hasSecondClock(produce, market) && rules.isCertified(house, local.slice(0, 10));
      return [false, ...(isCertified ? [true] : [])].map((isOrganic) => {
        const clear = clockOf(isOrganic)();
        const after = clear === Number.POSITIVE_INFINITY ? clockOf(isOrganic) : undefined;
        const clock = isOrganic ? ('organic' as const) : ('food' as const);
        return { ...base, produce, market, clock, clear, after, isOfMedicine: true };
      });
    }),
  );
}

/**
 * The end that a person named, when the hold was put on or in a later word: a day or time as stated, or whole days from
 * when it came, counted by the farm's way.
 */
function wordedEnd(
  fact: FactOf<'held'>,
  hold: DataOf<'held'>['holds'][number],
  facts: readonly Fact[],
  rules: Rules,
): Clear {
  const word = factsOf(facts, 'reassessed')
    .filter(({ data }) => data.source === `hold:${fact.data.hold}`)
    .toSorted((a, b) => a.seq - b.seq)
    .at(-1);
  const said = word?.data.holds.find((each) => each.produce === hold.produce) ?? hold;
  if (word !== undefined && said.says === 'stand-down' && said.period !== undefined) {
    const { zone } = fact.happened;
    const house = { ...houseAt(facts, 'h', word.seq), marginDays: 0 };
    const dose = { class: '', route: '', doseLine: '', zone, house };
    return passes(said.period, wallClock(fact.order, zone), dose, rules);
  }
  return said.state === 'until' && said.until ? Date.parse(said.until) : Number.POSITIVE_INFINITY;
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
    clock: 'food',
    isOfMedicine: false,
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
function carried(
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
function damsOf(facts: readonly Fact[], rules: Rules): (subject: string) => Foot[] {
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
  const dams = damsOf(facts, rules);
  const bars = new Map(
    [...heads.keys()].map((subject) => [
      subject,
      [
        ...(on.get(subject)?.values() ?? []),
        ...dams(subject).flatMap((foot) =>
          [...(on.get(foot.dam)?.values() ?? [])].filter(
            (bar) => bar.produce === 'meat' && bar.isOfMedicine && rules.atFootFor(bar.from, foot),
          ),
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

/** Heads of a lot just before one of its treatments. */
function headsBefore(facts: readonly Fact[], given: FactOf<'administered'>): number {
  const before = facts.filter(
    (fact) => fact.order < given.order || (fact.order === given.order && fact.seq < given.seq),
  );
  return headsOf(before).get(given.data.subject) ?? 0;
}
