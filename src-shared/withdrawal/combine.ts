import { compareDecisions } from './compare.ts';
import type { Decision, WaitingPart } from './decision.ts';

/** What a decision says once it is awake. */
function awake(decision: Decision): Exclude<Decision['state'], 'dormant'> {
  return decision.state === 'dormant' ? (decision.wakes ?? 'unknown') : decision.state;
}

/** The periods that a waiting decision counts from its event: its own first. */
export function partsOf(
  decision: Pick<Decision, 'period' | 'periodFromDose' | 'also'>,
): readonly WaitingPart[] {
  const { period, periodFromDose, also } = decision;
  if (period === undefined) return [];
  return [{ period, ...(periodFromDose === undefined ? {} : { periodFromDose }) }, ...(also ?? [])];
}

/**
 * The one decision that stands for several about the same produce and market: the most restrictive. What waits for an
 * event also keeps what the others ask for, because it may be over sooner than they are: an end by time
 * (`atLeast`), and other periods counted from the same event (`also`). Two different events are nothing a hold can wait
 * for, so that nothing but a vet's word ends it. Nothing for an empty list.
 */
export function strictest(decisions: readonly Decision[]): Decision | undefined {
  const worst = decisions.reduce<Decision | undefined>(
    (worse, next) => (worse === undefined || compareDecisions(next, worse) > 0 ? next : worse),
    undefined,
  );
  if (worst === undefined || awake(worst) !== 'event') return worst;
  const waiting = decisions.filter((each) => awake(each) === 'event');
  if (waiting.some((each) => each.event !== worst.event)) return twoEvents(worst);
  const ends = decisions.flatMap((each) => [
    ...(awake(each) === 'until' && each.until !== undefined ? [each.until] : []),
    ...(each.atLeast === undefined ? [] : [each.atLeast]),
  ]);
  const own = JSON.stringify(partsOf(worst)[0]);
  const others = new Map(
    waiting.flatMap((each) => partsOf(each)).map((part) => [JSON.stringify(part), part] as const),
  );
  others.delete(own);
  const { atLeast: _atLeast, also: _also, ...rest } = worst;
  const latest = ends.toSorted().at(-1);
  return {
    ...rest,
    ...(latest === undefined ? {} : { atLeast: latest }),
    ...(others.size === 0 ? {} : { also: [...others.values()] }),
  };
}

function twoEvents(decision: Decision): Decision {
  const {
    event: _event,
    until: _until,
    period: _period,
    periodFromDose: _fromDose,
    also: _also,
    atLeast: _atLeast,
    anchor: _anchor,
    ...rest
  } = decision;
  return {
    ...rest,
    ...(decision.state === 'dormant' ? { wakes: 'unknown' as const } : { state: 'unknown' as const }),
    rule: 'two-events',
    working: [...decision.working, { code: 'two-events', values: { produce: decision.produce } }],
  };
}
