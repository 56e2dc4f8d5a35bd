import type { Decision, HoldState } from './decision.ts';

/** How hard each state holds: what nothing ends, then what only a word ends, then what an event ends, then time. */
export const RANK: Readonly<Record<Exclude<HoldState, 'dormant'>, number>> = {
  none: 0,
  until: 1,
  event: 2,
  unknown: 3,
  life: 4,
};

/** Above zero when `a` holds harder than `b`. A dormant hold counts as what it wakes to. */
export function compareDecisions(a: Decision, b: Decision): number {
  const rank = rankOf(a) - rankOf(b);
  if (rank !== 0) return rank;
  if (a.until !== undefined && b.until !== undefined && a.until !== b.until)
    return a.until > b.until ? 1 : -1;
  // Two events: the longer period after it holds harder.
  const hours = hoursOf(a.period) - hoursOf(b.period);
  if (hours !== 0) return hours;
  // Awake before dormant, so that a hold is never hidden behind an equal one.
  return Number(b.state === 'dormant') - Number(a.state === 'dormant');
}

function rankOf(decision: Decision): number {
  return decision.state === 'dormant' ? RANK[decision.wakes ?? 'unknown'] : RANK[decision.state];
}

function hoursOf(period: string | undefined): number {
  if (period === undefined) return 0;
  const value = Number(period.slice(0, -2));
  return period.endsWith('d') ? value * 24 : value;
}
