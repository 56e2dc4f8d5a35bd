import type { DoseAnswer } from '../../../src-shared/dose/dose.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { DoseLine, PeriodRow } from '../../../src-shared/label/terms.ts';
import { type Amount, baseOf, inDoseUnits } from '../../../src-shared/quantity/amount.ts';
import { compare, fraction, multiply } from '../../../src-shared/quantity/fraction.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Decision, decideHolds, longestOf } from '../../../src-shared/withdrawal/holds.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { type Holding, recordOf } from '../reading/holding.ts';
import type { Revision } from '../reading/revision.ts';
import type { SubjectRow } from '../reading/subjects.ts';

/** Beyond this share above the worked-out dose the label's period no longer speaks for it (practice). */
const OVER = fraction(11n, 10n);

/** Whether a dose is so far above the worked-out one that the label's own periods do not cover it. */
export function isOverLabel(dose: Amount, worked: Pick<DoseAnswer, 'exact' | 'draw'>): boolean {
  return compare(inDoseUnits(dose), multiply(worked.exact, OVER)) > 0 && baseOf(dose) > baseOf(worked.draw);
}

/** Deviations after which the label's own periods do not cover what was done: the vet must state them. */
const OFF_LABEL = new Set([
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
  'made-up-by-volume',
]);

/** What the holds of a treatment hang on besides the label, the dose line and the deviations. */
export type Deciding = {
  holding: Pick<Holding, 'counting' | 'marginDays'>;
  subject: Pick<SubjectRow, 'class' | 'milking'>;
  happened: Pick<Happened, 'local' | 'zone'>;
  instruction?: string | undefined;
  course?: { plannedLast: string } | undefined;
};

/**
 * The holds of one treatment: the longest of what its labels say, the vet's periods where there are any, and not
 * stated where the label's own do not cover what was done. A label corrected later is decided by the same rules.
 */
export function decided(
  tx: Reader,
  asked: Deciding,
  revisions: readonly Pick<Revision, 'terms'>[],
  line: Pick<DoseLine, 'id' | 'route'>,
  deviations: readonly { code: string }[],
): HoldDecision[] {
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
  const byLabel = longestOf(revisions.map(({ terms }) => decideHolds(terms, given)));
  const periods = instructedPeriods(tx, asked.instruction);
  const offLabel = deviations.some((deviation) => OFF_LABEL.has(deviation.code));
  return byLabel.map((decision) => {
    const period = periods.get(decision.produce);
    if (period !== undefined) return holdData(statedByVet(revisions, decision, period, given));
    return holdData(offLabel && decision.state !== 'life' ? vetMustState(decision) : decision);
  });
}

function instructedPeriods(tx: Reader, instruction: string | undefined): ReadonlyMap<string, string> {
  if (instruction === undefined) return new Map();
  const record = recordOf<DataOf<'instruction-given'>>(tx, 'instruction', instruction);
  if (!record) {
    throw new Refusal('no-such-instruction', "This vet's instruction is not in the book.", {
      field: 'instruction',
    });
  }
  return new Map(record.periods.map((row) => [row.produce, row.period]));
}

/**
 * The vet's period, or the label's where that is longer: the vet may lengthen, never shorten. Where the label states
 * nothing for what was done, the vet's word stands, and is still not shorter than the longest period that any of the
 * labels prints for this produce.
 */
function statedByVet(
  revisions: readonly Pick<Revision, 'terms'>[],
  decision: Decision,
  period: string,
  given: Parameters<typeof decideHolds>[1],
): Decision {
  const { produce, market } = decision;
  const anyOf = { classes: [], routes: [], doseLines: [] };
  const stated: PeriodRow = {
    ...anyOf,
    produce,
    market,
    says: 'value',
    value: period,
    countedFrom: 'last-dose',
  };
  const isSilent = decision.state === 'unknown' || decision.wakes === 'unknown';
  const lists = revisions.map(({ terms }) => {
    const printed = terms.periods.filter((row) => row.produce === produce && row.says === 'value');
    const floor = isSilent ? printed.map((row) => ({ ...row, ...anyOf, market })) : [];
    const periods = [stated, ...floor];
    // One row at a time: rows of one label that both match are merged by the stricter, and here each must count.
    return periods
      .map((row) => decideHolds({ ...terms, periods: [row] }, given))
      .map((list) => list.filter(isIt));
  });
  function isIt(one: Decision): boolean {
    return one.produce === produce && one.market === market;
  }
  const longest = longestOf([...lists.flat(), ...(isSilent ? [] : [[decision]])]).find(isIt) ?? decision;
  return isSilent ? { ...longest, rule: 'vet-stated' } : longest;
}

function vetMustState(decision: Decision): Decision {
  const { until: _until, period: _period, wakes: _wakes, event: _event, ...rest } = decision;
  return {
    ...rest,
    // An animal that is not in milk stays so; what its clock would wake to is what nobody has stated.
    ...(decision.state === 'dormant' ? { wakes: 'unknown' } : { state: 'unknown' }),
    rule: 'off-label-vet-must-state',
    working: [{ code: 'off-label', values: { produce: decision.produce } }],
  };
}

/** The longest of what several labels decide, as an entry keeps it. */
export function holdsByLabel(decisions: readonly Decision[][]): HoldDecision[] {
  return longestOf(decisions).map(holdData);
}

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
  } as HoldDecision;
}
