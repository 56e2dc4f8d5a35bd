import type { LabelTerms, PeriodRow } from '../label/terms.ts';
import { hoursIn, type Period, printPeriod } from '../quantity/period.ts';
import type { Day } from '../time/day.ts';
import type { Step } from '../working.ts';
import type { Decision } from './decision.ts';
import { decideHolds, type Given, longestOf } from './holds.ts';
import { type OffLabelAnswer, offLabelMinimum } from './off-label.ts';
import { printedOn } from './off-label-printed.ts';

/** What a treatment's periods hang on beside its labels. */
export type Stated = {
  /** Law of the holding. */
  law: string;
  /** The vet's word on this produce, where an instruction that holds for this treatment has one. */
  period: string | undefined;
  /** The treatment was not as the label says: the label's own period does not speak for it. */
  isOffLabel: boolean;
};

/** For a second clock: what stands for each period before the longest is chosen, and what the labels alone say on it. */
export type OnClock = { rowsOf(row: PeriodRow): PeriodRow[]; own: Decision };

/**
 * One produce of one treatment, with the vet's word and outside the label.
 *
 * On the label: the longer of the label and the vet, who may lengthen and never shorten. Outside it: nobody but the vet
 * has a period, so without a word no time clears it; with one, the longest counts of what the vet states, the least by
 * the law of the holding on the day of treatment, and the longest that the label prints. "Not for animals giving this
 * produce" is outside the label too as soon as the vet states a period; what a label bars for life stays so.
 * @param clock absent: the food clock
 */
export function withVet(
  labels: readonly LabelTerms[],
  decision: Decision,
  given: Given,
  stated: Stated,
  clock: OnClock = { rowsOf: (row) => [row], own: decision },
): Decision {
  const { period, isOffLabel } = stated;
  if (period === undefined) {
    return isOffLabel && awake(decision) !== 'life'
      ? vetMustState(labels, decision, given, stated)
      : decision;
  }
  // The vet's word is about people here: of a market for which the label states nothing it says nothing either.
  if (decision.market === 'export' && awake(decision) === 'unknown') return decision;
  const isNotForIt = decision.says === 'not-for-this-produce';
  const byLaw = isOffLabel || isNotForIt ? leastByLaw(labels, decision, given, stated.law) : undefined;
  const isSilent = awake(decision) === 'unknown' || isNotForIt;
  const candidates = [
    { whose: 'the vet’s', rule: 'vet-stated', rows: [valueRow(decision, period)] },
    {
      whose: 'the least by law',
      rule: 'law-minimum',
      rows: (byLaw?.periods ?? []).map((each) => valueRow(decision, each)),
    },
    {
      whose: 'the longest of the label',
      rule: 'label-longest',
      rows: isSilent || isOffLabel ? printedRows(labels, decision, isOffLabel || isNotForIt) : [],
    },
  ].map((each) => ({
    ...each,
    decisions: each.rows.flatMap(clock.rowsOf).map((row) => byRow(labels, row, decision, given)),
  }));
  const own = isSilent ? [] : [clock.own];
  const all = [...candidates.flatMap(({ decisions }) => decisions), ...own];
  const longest = longestOf(all.map((one) => [one])).find((one) => isSame(one, decision)) ?? decision;
  const governs = candidates.find(({ decisions }) => decisions.some((one) => endsLike(one, longest)));
  const whose = governs?.whose ?? 'the label’s';
  const working: Step[] = [
    ...(isOffLabel ? [offLabelStep(decision)] : []),
    { code: 'vet-states', values: { produce: decision.produce, period } },
    ...(byLaw?.working ?? []),
    ...(longest.period === undefined ? [] : [{ code: 'governs', values: { period: longest.period, whose } }]),
    ...longest.working,
  ];
  const rule = isSilent || isOffLabel ? (governs?.rule ?? longest.rule) : longest.rule;
  return { ...longest, rule, working };
}

const awake = (decision: Decision) => (decision.state === 'dormant' ? decision.wakes : decision.state);
const isSame = (one: Decision, other: Decision) =>
  one.produce === other.produce && one.market === other.market;
const endsLike = (one: Decision, other: Decision) =>
  awake(one) === awake(other) && one.until === other.until && one.event === other.event;
const offLabelStep = ({ produce }: Decision): Step => ({ code: 'off-label', values: { produce } });

function vetMustState(
  labels: readonly LabelTerms[],
  decision: Decision,
  given: Given,
  { law }: Stated,
): Decision {
  const { produce, market, says, countedFrom, counting, state } = decision;
  return {
    produce,
    market,
    says,
    counting,
    ...(countedFrom === undefined ? {} : { countedFrom }),
    // An animal that is not in milk stays so; what its clock would wake to is what nobody has stated.
    ...(state === 'dormant' ? { state, wakes: 'unknown' } : { state: 'unknown' }),
    rule: 'off-label-vet-must-state',
    working: [offLabelStep(decision), ...(leastByLaw(labels, decision, given, law)?.working ?? [])],
  };
}

/** A row that speaks of every sheep, counted from the last dose. */
function valueRow({ produce, market }: Decision, value: string): PeriodRow {
  return {
    produce,
    market,
    says: 'value',
    value,
    countedFrom: 'last-dose',
    classes: [],
    routes: [],
    doseLines: [],
  };
}

/** What the labels print for this produce, whatever class, route or dose it is for. */
function printedRows(
  labels: readonly LabelTerms[],
  { produce, market }: Decision,
  withForLife: boolean,
): PeriodRow[] {
  return labels.flatMap((terms) =>
    terms.periods
      .filter((row) => row.produce === produce)
      .filter(({ says }) => says === 'value' || (withForLife && says === 'for-life'))
      .map((row) => ({ ...row, classes: [], routes: [], doseLines: [], market })),
  );
}

/** One row at a time: rows of one label that both match are merged by the stricter, and here each must count. */
function byRow(labels: readonly LabelTerms[], row: PeriodRow, decision: Decision, given: Given): Decision {
  const [terms] = labels;
  const found =
    terms === undefined
      ? undefined
      : decideHolds({ ...terms, periods: [row] }, given).find((one) => isSame(one, decision));
  return found ?? decision;
}

/**
 * The least by law for this produce under each label: the law's number where it binds, else the floor below which the
 * vet may not state. `answer` and `working` are those of the label with the longest; every period counts, because days
 * and hours are not counted the same way. Nothing for wool, of which the laws say nothing.
 */
export function leastByLaw(
  labels: readonly LabelTerms[],
  { produce, market }: Pick<Decision, 'produce' | 'market'>,
  { happened }: Pick<Given, 'happened'>,
  law: string,
): { period?: string; periods: string[]; answer: OffLabelAnswer; working: Step[] } | undefined {
  if (produce !== 'meat' && produce !== 'milk') return undefined;
  const on = happened.slice(0, 10) as Day;
  const found = labels.map((terms) => {
    const printed = printedOn(terms, produce, market);
    const answer = offLabelMinimum({ law, on, produce, ...printed });
    return { answer, period: bindingIn(answer) ?? printed.longest };
  });
  const [first, ...rest] = found;
  if (first === undefined) return undefined;
  const { answer, period } = rest.reduce((long, next) => (hours(next) > hours(long) ? next : long), first);
  return {
    answer,
    working: answer.working,
    periods: found.flatMap((each) => (each.period === undefined ? [] : printPeriod(each.period))),
    ...(period === undefined ? {} : { period: printPeriod(period) }),
  };
}

/** The period that an answer holds the vet to, where it has one. */
function bindingIn(answer: OffLabelAnswer): Period | undefined {
  if ('minimum' in answer) return answer.isBinding ? answer.minimum : undefined;
  return answer.floor;
}

function hours({ period }: { period: Period | undefined }): number {
  return period === undefined ? -1 : hoursIn(period);
}
