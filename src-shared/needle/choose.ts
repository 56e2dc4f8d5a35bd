import type { Warning } from '../working.ts';
import { conflictsOf } from './conflicts.ts';
import { LENGTH_NAMES, type Needle, printNeedle, sameNeedle } from './needle.ts';
import { nothingSuits } from './nothing-suits.ts';
import { type PerSite, perSiteOf } from './per-site.ts';
import { placeOf } from './places.ts';
import type { Conflict, Facts, Limit, Preference, Rule } from './rule.ts';
import { factsOf, RULES, rulesOf } from './rules.ts';
import { houseLengthStands } from './rules-limits.ts';
import { EASY_GAUGE, guidesGiving } from './rules-preferences.ts';
import { isLamb, type NeedleAsk, type Situation, situationOf } from './situation.ts';
import { type TechniqueSaid, techniqueFor } from './technique.ts';
import { GAUGES, type Gauge } from './tubing.ts';

/**
 * Which needle: by the table of rules alone. Limits throw needles out, preferences order the rest, the first that
 * tells two apart deciding; so another needle in the drawer can only better the choice, never worsen it.
 */

export type Reason = { readonly rule: string; readonly text: string };
export type Ranked = Needle & { readonly for: readonly Reason[]; readonly against: readonly Reason[] };
export type ThrownOut = Needle & { readonly why: readonly Reason[] };
export type Judged = {
  readonly facts: Facts;
  /** Best first. */
  readonly ranked: readonly Ranked[];
  readonly out: readonly ThrownOut[];
};

export type NeedleChoice = {
  readonly choice: Needle;
  readonly ranked: readonly Ranked[];
  /** Needles of the drawer that do not suit; empty when no drawer was given. */
  readonly out: readonly ThrownOut[];
  /** Ids of the rules that decided, in the order of the table. */
  readonly rules: readonly string[];
  readonly technique: TechniqueSaid;
  readonly conflicts: readonly Conflict[];
  readonly perSite: PerSite;
  readonly warnings: readonly Warning[];
};

/** The gauges the sources name for sheep; whatever label or farm state is added to them. */
const USUAL_GAUGES: readonly Gauge[] = ['16', '18', '20', '22'];

/**
 * Every needle of the drawer, or of those in usual use, that suits, best first, with what speaks for and against it;
 * and those that do not, with why. Refuses what `situationOf` refuses, and a site that is not for the route.
 */
export function judgeNeedles(ask: NeedleAsk, rules: readonly Rule[] = RULES): Judged {
  const s = situationOf(ask);
  if (s.site !== undefined) placeOf(s.route, s.site);
  const facts = factsOf(s, rules);
  const limits = rulesOf(rules, 'limit').filter((limit) => !isOverruled(limit, s));
  const fit: Needle[] = [];
  const out: ThrownOut[] = [];
  for (const needle of candidates(s)) {
    const why = limits.flatMap((limit) => {
      const text = limit.breaks(needle, facts);
      return text === undefined ? [] : [{ rule: limit.id, text: `${printNeedle(needle)} ${text}.` }];
    });
    if (why.length === 0) fit.push(needle);
    else out.push({ ...needle, why });
  }
  const preferences = rulesOf(rules, 'preference');
  const ordered = fit.toSorted((a, b) => firstDifference(a, b, preferences, facts));
  return { facts, ranked: ordered.map((needle) => explained(needle, ordered, preferences, facts)), out };
}

/**
 * The needle to take, with everything that led to it. Refuses `no-needle-suits` with why each one fell out, and what
 * `judgeNeedles` and `perSiteOf` refuse.
 */
export function chooseNeedle(ask: NeedleAsk, rules: readonly Rule[] = RULES): NeedleChoice {
  const { facts, ranked, out } = judgeNeedles(ask, rules);
  const [first] = ranked;
  if (first === undefined) throw nothingSuits(ask, out, freeChoice(ask, rules));
  const { s } = facts;
  const choice: Needle = { gauge: first.gauge, lengthIn: first.lengthIn };
  const perSite = perSiteOf(
    s.volume,
    { label: s.label.maxPerSite, house: s.house.maxPerSite },
    isLamb(s.class),
    rulesOf(rules, 'most'),
  );
  const decided = new Set([
    ...guidesGiving(choice, facts).map(({ id }) => id),
    ...out.flatMap(({ why }) => why.map(({ rule }) => rule)),
    ...statedBy(s),
    ...first.for.map(({ rule }) => rule),
    perSite.rule,
  ]);
  return {
    choice,
    ranked,
    out: ask.inStock === undefined ? [] : out,
    rules: rules.filter(({ id }) => decided.has(id)).map(({ id }) => id),
    technique: techniqueFor(s),
    conflicts: [...conflictsOf(s, rules), ...(perSite.conflict === undefined ? [] : [perSite.conflict])],
    perSite,
    warnings: [
      ...s.warnings,
      ...labelWarnings(choice, facts, rules),
      ...houseWarnings(s),
      ...hardToPush(choice, s),
    ],
  };
}

/** What would be chosen if every usual needle lay there; undefined when none of those suits either. */
function freeChoice(ask: NeedleAsk, rules: readonly Rule[]): Needle | undefined {
  return ask.inStock === undefined
    ? undefined
    : judgeNeedles({ ...ask, inStock: undefined }, rules).ranked[0];
}

/** Widest and longest first, each once, so that the order of a drawer never matters. */
function candidates(s: Situation): Needle[] {
  if (s.inStock === undefined) {
    const wanted = [...USUAL_GAUGES, s.label.gauge, s.house.gauge];
    const gauges = GAUGES.filter((gauge) => wanted.includes(gauge));
    return gauges.flatMap((gauge) => LENGTH_NAMES.toReversed().map((lengthIn) => ({ gauge, lengthIn })));
  }
  const { inStock } = s;
  return GAUGES.flatMap((gauge) =>
    LENGTH_NAMES.toReversed()
      .map((lengthIn) => ({ gauge, lengthIn }))
      .filter((needle) => inStock.some((one) => sameNeedle(one, needle))),
  );
}

/** Guidance on what the label states is not applied. What the technique reaches always is. */
function isOverruled({ about }: Limit, { label }: Situation): boolean {
  return (
    (about === 'gauge' && label.gauge !== undefined) || (about === 'length' && label.lengthIn !== undefined)
  );
}

function firstDifference(a: Needle, b: Needle, preferences: readonly Preference[], facts: Facts): number {
  for (const { cost } of preferences) {
    const difference = cost(a, facts) - cost(b, facts);
    if (difference !== 0) return difference;
  }
  return 0;
}

/** A preference speaks where it tells the needles that are left apart. */
function explained(
  needle: Needle,
  all: readonly Needle[],
  preferences: readonly Preference[],
  facts: Facts,
): Ranked {
  const speaks = preferences.flatMap((rule) => {
    const costs = all.map((one) => rule.cost(one, facts));
    const least = Math.min(...costs);
    return Math.max(...costs) === least ? [] : [{ rule, isBest: rule.cost(needle, facts) === least }];
  });
  const pro = speaks.filter(({ isBest }) => isBest);
  const con = speaks.filter(({ isBest }) => !isBest);
  const given = guidesGiving(needle, facts).map(({ id, says, source }) => ({
    rule: id,
    text: `${says.slice(0, -1)} (${source}).`,
  }));
  return {
    ...needle,
    for: [
      ...statedReasons(facts.s),
      ...given,
      ...pro.map(({ rule }) => ({ rule: rule.id, text: rule.pro(needle, facts) })),
    ],
    against: con.map(({ rule }) => ({ rule: rule.id, text: rule.con(needle, facts) })),
  };
}

function statedReasons({ label, house }: Situation): Reason[] {
  const reasons: Reason[] = [];
  if (label.gauge !== undefined)
    reasons.push({ rule: 'label-gauge', text: `The label states ${label.gauge}G.` });
  else if (house.gauge !== undefined) {
    reasons.push({ rule: 'house-gauge', text: `The farm’s own rule is ${house.gauge}G.` });
  }
  if (label.lengthIn !== undefined) {
    reasons.push({ rule: 'label-length', text: `The label states ${label.lengthIn} in.` });
  } else if (houseLengthStands(label, house)) {
    reasons.push({ rule: 'house-length', text: `The farm’s own rule is ${house.lengthIn} in.` });
  }
  if (label.mostLengthMm !== undefined) {
    reasons.push({ rule: 'label-most-length', text: 'It is no longer than the label allows.' });
  }
  return reasons;
}

const statedBy = (s: Situation) => statedReasons(s).map(({ rule }) => rule);

/** What guidance would have said against what the label states: the label stands, and it is said. */
function labelWarnings(choice: Needle, facts: Facts, rules: readonly Rule[]): Warning[] {
  // A label that only limits the length may leave less than the guidance for muscle asks for.
  const isCutShort = ({ id }: Limit) => id === 'muscle-shortest' && facts.s.label.mostLengthMm !== undefined;
  const unbound = { ...facts, s: { ...facts.s, label: {} } };
  return rulesOf(rules, 'limit')
    .filter((limit) => isOverruled(limit, facts.s) || isCutShort(limit))
    .flatMap((limit) => {
      const text = limit.breaks(choice, unbound);
      if (text === undefined) return [];
      const says = `${printNeedle(choice)} ${text}. The label states it, and the label rules; ask the vet if in doubt.`;
      return [{ code: 'label-over-guidance', text: says }];
    });
}

function houseWarnings({ label, house }: Situation): Warning[] {
  const aside = (what: string, own: string): Warning => ({
    code: 'house-set-aside',
    text: `The farm’s own rule of ${own} is set aside: the label rules on ${what}.`,
  });
  const isLengthAside =
    house.lengthIn !== undefined && house.lengthIn !== label.lengthIn && !houseLengthStands(label, house);
  return [
    ...(label.gauge !== undefined && house.gauge !== undefined && label.gauge !== house.gauge
      ? [aside('gauge', `${house.gauge}G`)]
      : []),
    ...(isLengthAside ? [aside('length', `${house.lengthIn} in`)] : []),
  ];
}

/** A remedy that flows badly through a needle as thin as the animal, the label or the drawer leaves. */
function hardToPush({ gauge }: Needle, { flowClass }: Situation): Warning[] {
  if (flowClass === 'watery' || Number(gauge) <= EASY_GAUGE) return [];
  const text = `${gauge}G is thin for a remedy that flows badly: it may take more than a hand can keep up. Push slowly, warm it only if the label allows, and ask the vet when it will not flow.`;
  return [{ code: 'hard-to-push', text }];
}
