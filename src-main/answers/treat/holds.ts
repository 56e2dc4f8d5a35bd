import type { DoseAnswer } from '../../../src-shared/dose/dose.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { DoseLine, LabelTerms, PeriodRow } from '../../../src-shared/label/terms.ts';
import { type Amount, baseOf, inDoseUnits } from '../../../src-shared/quantity/amount.ts';
import { compare, fraction, multiply } from '../../../src-shared/quantity/fraction.ts';
import { type Decision, decideHolds, type Given, longestOf } from '../../../src-shared/withdrawal/holds.ts';
import { namingInserts } from '../../../src-shared/withdrawal/inserts.ts';
import { isOffLabel } from '../../../src-shared/withdrawal/off-label-deviations.ts';
import { type Stated, withVet } from '../../../src-shared/withdrawal/off-label-holds.ts';
import {
  type OrganicRules,
  organicByLabel,
  organicRows,
  organicWithVet,
} from '../../../src-shared/withdrawal/organic.ts';
import { longestYoung, type Young, youngByLabel } from '../../../src-shared/withdrawal/young.ts';
import { optional } from '../optional.ts';
import type { Holding } from '../reading/holding.ts';
import type { Revision } from '../reading/revision.ts';
import type { SubjectRow } from '../reading/subjects.ts';

/** Beyond this share above the worked-out dose the label's period no longer speaks for it (practice). */
const OVER = fraction(11n, 10n);

/** Whether a dose is so far above the worked-out one that the label's own periods do not cover it. */
export function isOverLabel(dose: Amount, worked: Pick<DoseAnswer, 'exact' | 'draw'>): boolean {
  return compare(inDoseUnits(dose), multiply(worked.exact, OVER)) > 0 && baseOf(dose) > baseOf(worked.draw);
}

/** What the holds of a treatment hang on besides the label, the dose line and the deviations. */
export type Deciding = {
  holding: Pick<Holding, 'counting' | 'marginDays' | 'law' | 'atFoot'>;
  subject: Pick<SubjectRow, 'class' | 'milking'>;
  happened: Pick<Happened, 'local' | 'zone'>;
  /** The vet's periods by produce, of an instruction that holds for this treatment. */
  stated?: ReadonlyMap<string, string> | undefined;
  course?: { plannedLast: string } | undefined;
  /** The organic rules it is certified by on the day; absent: it has no organic clock. */
  organic?: OrganicRules | undefined;
};

/**
 * The holds of one treatment: the longest of what its labels say, with the vet's periods where there are any, and not
 * stated where the label's own do not cover what was done. A label corrected later is decided by the same rules.
 */
export function decided(...of: Parameters<typeof decisionsOf>): HoldDecision[] {
  return holdsOfAll([decisionsOf(...of)]);
}

/** The two clocks of one treatment, and what its labels say of lambs that suck, on each. */
export type Decisions = {
  food: Decision[];
  organic: Decision[];
  young: { food: Young | undefined; organic: Young | undefined };
};

/** The same before an entry keeps it, the two clocks apart: what may have been given with others is merged first. */
export function decisionsOf(
  asked: Deciding,
  revisions: readonly Pick<Revision, 'terms'>[],
  line: Pick<DoseLine, 'id' | 'route'>,
  deviations: readonly { code: string }[],
): Decisions {
  const given = {
    class: asked.subject.class,
    route: line.route,
    doseLine: line.id,
    milking: asked.subject.milking === 1,
    happened: asked.happened.local,
    zone: asked.happened.zone,
    counting: asked.holding.counting,
    marginDays: asked.holding.marginDays,
    ...(asked.course ? { plannedLast: asked.course.plannedLast } : {}),
  };
  const labels = revisions.map(({ terms }) => terms);
  const each = labels.map((terms) => decideHolds(terms, given));
  const byLabel = longestOf(each).map((decision) => namingInserts(decision, each));
  const outside = isOffLabel(deviations);
  const statedOf = ({ produce }: Decision) => ({
    law: asked.holding.law,
    period: asked.stated?.get(produce),
    isOffLabel: outside,
  });
  const food = byLabel.map((decision) => withVet(labels, decision, given, statedOf(decision)));
  // Outside the label its word on lambs does not speak for what was done, and the vet's word is of the ewe.
  const instead =
    asked.holding.atFoot === 'as-the-label' && !outside && asked.stated?.get('meat') === undefined;
  const young = (rowsOf?: (row: PeriodRow) => PeriodRow[]) =>
    longestYoung(labels.map((terms) => youngByLabel(terms, given, instead, rowsOf)));
  return {
    food,
    organic: organicOf(asked.organic, food, byLabel, labels, given, statedOf),
    young: {
      food: young(),
      // By the other rules nothing has a date of its own.
      organic:
        asked.organic === 'eu-organic' ? young((row) => organicRows(purposeOf(labels), row)) : undefined,
    },
  };
}

/** The organic clock beside the food clock, where there is a certificate whose rules are known. */
function organicOf(
  rules: OrganicRules | undefined,
  food: readonly Decision[],
  /** What the labels alone decide, in the same order. */
  own: readonly Decision[],
  labels: readonly LabelTerms[],
  given: Given,
  statedOf: (decision: Decision) => Stated,
): Decision[] {
  if (rules === undefined) return [];
  const purpose = purposeOf(labels);
  const byLabel = longestOf(labels.map((terms) => organicByLabel(rules, terms, given)));
  return food.flatMap((decision, i) => {
    const label = own[i] ?? decision;
    const second = byLabel.find((one) => one.produce === decision.produce && one.market === decision.market);
    if (decision === label) return second ?? [];
    const of = { food: decision, label, own: second };
    return organicWithVet(rules, purpose, of, labels, given, statedOf(label)) ?? [];
  });
}

/** What boxes of one medicine are for: should one of them be for something else, the stricter rule counts. */
function purposeOf(labels: readonly LabelTerms[]): string {
  const purposes = labels.map(({ purpose }) => purpose);
  return (
    purposes.find((one) => one === 'antibiotic') ?? purposes.find((one) => one !== 'vaccine') ?? 'vaccine'
  );
}

/** The longest of what several treatments decide, as an entry keeps it. */
export function holdsOfAll(each: readonly Decisions[]): HoldDecision[] {
  const young = (clock: 'food' | 'organic') => longestYoung(each.map((one) => one.young[clock]));
  return [
    ...withYoung(longestOf(each.map(({ food }) => food)).map(holdData), young('food')),
    ...withYoung(longestOf(each.map(({ organic }) => organic)).map(organicData), young('organic')),
  ];
}

/** The meat of lambs at foot kept beside that of the ewe. Of export the label's word says nothing: the later counts. */
function withYoung(holds: readonly HoldDecision[], young: Young | undefined): HoldDecision[] {
  if (young === undefined) return [...holds];
  return holds.map((hold) =>
    hold.produce !== 'meat'
      ? hold
      : { ...hold, young: { ...young, instead: young.instead && hold.market === 'domestic' } },
  );
}

const organicData = (decision: Decision): HoldDecision => ({ ...holdData(decision), clock: 'organic' });

/** A decision as an entry keeps it. Everything decided here is the food clock. */
export function holdData(decision: Decision): HoldDecision {
  return {
    produce: decision.produce,
    market: decision.market,
    clock: 'food',
    state: decision.state,
    says: decision.says,
    counting: decision.counting,
    rule: decision.rule,
    working: decision.working.map((step) => ({ ...step })),
    ...optional('until', decision.until),
    ...optional('event', decision.event),
    ...optional('period', decision.period),
    ...optional('periodFromDose', decision.periodFromDose),
    ...optional('wakes', decision.wakes),
    ...optional('anchor', decision.anchor),
    ...optional('also', decision.also),
    ...optional('atLeast', decision.atLeast),
  } as HoldDecision;
}
