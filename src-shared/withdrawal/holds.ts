import {
  type LabelTerms,
  type PeriodRow,
  PRODUCE,
  type Produce,
  type Route,
  type SheepClass,
} from '../label/terms.ts';
import { type Period, parsePeriod, printPeriod } from '../quantity/period.ts';
import { addHours, type Instant, instantOf, isoWithOffset } from '../time/zone.ts';
import type { Step } from '../working.ts';
import { type Counting, clearAt, laterOfTwo } from './clearance.ts';
import { partsOf, strictest } from './combine.ts';
import type { Anchor, Decision, HoldEvent, Market } from './decision.ts';

export type { Anchor, Decision, HoldEvent, HoldState, Market } from './decision.ts';

export type Given = {
  class: SheepClass;
  route: Route;
  doseLine: string;
  milking: boolean;
  /** When it was given: local day or date-time in the zone. */
  happened: string;
  zone: string;
  counting: Counting;
  /** The planned last dose of an open course, which holds to its end from the first dose on. */
  plannedLast?: string;
  /** The house's own margin, added as 24-hour days to whatever ends by time. */
  marginDays?: number;
};

const EVENTS: Readonly<Record<string, HoldEvent>> = {
  removal: 'removal',
  'end-of-release': 'end-of-release',
  lambing: 'lambing',
  'later-of-two': 'lambing',
};

/** Whether a label row speaks of this animal, route and dose line. An empty list means all of them. */
export function rowMatches(row: PeriodRow, given: Pick<Given, 'class' | 'route' | 'doseLine'>): boolean {
  return (
    (row.classes.length === 0 || row.classes.includes(given.class)) &&
    (row.routes.length === 0 || row.routes.includes(given.route)) &&
    (row.doseLines.length === 0 || row.doseLines.includes(given.doseLine))
  );
}

/**
 * One decision for each produce and market: meat and milk always; wool, and the export market, where the label has
 * rows for them. Refuses what the quantity and time readers refuse.
 *
 * Milk of an animal not milking is dormant: the clock is kept, unseen. "Not for animals giving this produce" bars
 * that produce for good (`life`): the label knows no end, so no clock may; a vet's statement can say otherwise.
 */
export function decideHolds(terms: LabelTerms, given: Given): Decision[] {
  const lastDose = lastOf(given);
  const decisions: Decision[] = [];
  for (const produce of PRODUCE) {
    for (const market of ['domestic', 'export'] as const) {
      const printed = terms.periods.filter((row) => row.produce === produce && row.market === market);
      const always = market === 'domestic' && (produce === 'meat' || produce === 'milk');
      if (!always && printed.length === 0) continue;
      const rows = printed.filter((row) => rowMatches(row, given));
      const found = rows.map((row) => decideRow(row, given, lastDose));
      decisions.push(asMilking(strictest(found) ?? noRow(produce, market, given), given));
    }
  }
  return decisions;
}

/** The later of this dose and the planned last one, as local day or time. */
export function lastOf(given: Given): string {
  if (given.plannedLast === undefined) return given.happened;
  const now = instantOf(given.happened, given.zone, 'end', 'happened');
  const planned = instantOf(given.plannedLast, given.zone, 'end', 'plannedLast');
  return planned > now ? given.plannedLast : given.happened;
}

function noRow(produce: Produce, market: Market, given: Given): Decision {
  return {
    produce,
    market,
    state: 'unknown',
    says: 'no-row',
    counting: given.counting,
    rule: 'not-stated',
    working: [{ code: 'no-row', values: { produce } }],
  };
}

function decideRow(row: PeriodRow, given: Given, lastDose: string): Decision {
  const { zone, counting } = given;
  const base = {
    produce: row.produce,
    market: row.market,
    says: row.says,
    countedFrom: row.countedFrom,
    counting,
  };
  if (row.says === 'for-life' || row.says === 'not-for-this-produce') {
    return {
      ...base,
      state: 'life',
      rule: row.says,
      working: [{ code: row.says, values: { produce: row.produce } }],
    };
  }
  if (row.says === 'not-stated' || (row.says === 'value' && row.value === undefined)) {
    return {
      ...base,
      state: 'unknown',
      rule: 'not-stated',
      working: [{ code: 'not-stated', values: { produce: row.produce } }],
    };
  }
  const period: Period =
    row.says === 'zero' ? { value: 0, unit: 'd' } : parsePeriod(row.value ?? '', 'value');
  const event = EVENTS[row.countedFrom];
  if (event !== undefined) {
    const fromDose = row.countedFrom === 'later-of-two' ? row.valueFromDose : undefined;
    return {
      ...base,
      state: 'event',
      event,
      period: printPeriod(period),
      ...(fromDose === undefined
        ? {}
        : { periodFromDose: printPeriod(parsePeriod(fromDose, 'valueFromDose')) }),
      anchor: { lastDose, zone, marginDays: given.marginDays ?? 0 },
      rule: 'event',
      working: [
        ...openCourse(given, lastDose),
        { code: 'waits-for', values: { event, period: printPeriod(period) } },
      ],
    };
  }
  const clear = clearAt({ lastDose, zone, period, counting });
  const margin = withMargin(clear.clearAt, given);
  return {
    ...base,
    state: 'until',
    until: margin.until,
    period: printPeriod(period),
    rule: period.value === 0 ? 'zero' : 'period',
    working: [...openCourse(given, lastDose), ...clear.working, ...margin.working],
  };
}

function openCourse(given: Given, lastDose: string): Step[] {
  return given.plannedLast === undefined ? [] : [{ code: 'planned-last', values: { lastDose } }];
}

function withMargin(
  until: Instant,
  given: Pick<Given, 'marginDays' | 'zone'>,
): { until: Instant; working: Step[] } {
  const days = given.marginDays ?? 0;
  if (days === 0) return { until, working: [] };
  const later = addHours(until, days * 24);
  return {
    until: later,
    working: [{ code: 'margin', values: { days: String(days), clear: isoWithOffset(later, given.zone) } }],
  };
}

function asMilking(decision: Decision, given: Given): Decision {
  if (decision.produce !== 'milk' || given.milking || decision.state === 'dormant') return decision;
  return { ...decision, state: 'dormant', wakes: decision.state, rule: `${decision.rule}-not-milking` };
}

/**
 * What a decision that waits for an event becomes once that has happened (`at`: local day or date-time). Every
 * period that counts from the event is counted, and the latest end governs, also of what another row said by
 * time. A dormant one stays dormant and gets its clock. What waits for nothing is left alone.
 *
 * What it was counted from stays on it (`anchor`, `also`, `atLeast`), so that a reader can tell which decision this
 * settles. A decision of an older book has no anchor: `fallback` stands for it then, and without one it waits on.
 */
export function settleEvent(decision: Decision, at: string, fallback?: Anchor): Decision {
  const anchor = decision.anchor ?? fallback;
  if (decision.event === undefined || decision.period === undefined || anchor === undefined) return decision;
  const { lastDose, zone, marginDays } = anchor;
  const { counting } = decision;
  const counted = partsOf(decision).map((part) => {
    const period = parsePeriod(part.period, 'period');
    const clear =
      part.periodFromDose === undefined
        ? clearAt({ lastDose: at, zone, period, counting })
        : laterOfTwo({
            lastDose,
            lambed: at,
            fromDose: parsePeriod(part.periodFromDose, 'periodFromDose'),
            fromLambing: period,
            zone,
            counting,
          });
    const margin = withMargin(clear.clearAt, { marginDays, zone });
    return { until: margin.until, working: [...clear.working, ...margin.working] };
  });
  const latest = counted.reduce((late, next) => (next.until > late.until ? next : late));
  const isLonger = decision.atLeast !== undefined && decision.atLeast > latest.until;
  const until = isLonger && decision.atLeast !== undefined ? decision.atLeast : latest.until;
  const { event, ...rest } = decision;
  const working = [
    ...decision.working,
    { code: 'happened', values: { event, at } },
    ...latest.working,
    ...(isLonger ? [{ code: 'at-least', values: { clear: isoWithOffset(until, zone) } }] : []),
  ];
  if (decision.state === 'dormant') return { ...rest, wakes: 'until', until, working };
  return { ...rest, state: 'until', until, working };
}

/**
 * The decisions when a dose was drawn from boxes of several revisions: the longest for each produce and market.
 * A revision without an export row is held for export by its domestic one, so that neither is forgotten.
 */
export function longestOf(lists: readonly (readonly Decision[])[]): Decision[] {
  const longest: Decision[] = [];
  for (const produce of PRODUCE) {
    for (const market of ['domestic', 'export'] as const) {
      const own = lists.map((list) => list.find((one) => one.produce === produce && one.market === market));
      if (own.every((one) => one === undefined)) continue;
      const here = lists.flatMap((list, i) => {
        const stand = list.find((one) => one.produce === produce && one.market === 'domestic');
        const one = own[i] ?? (stand === undefined ? undefined : { ...stand, market });
        return one === undefined ? [] : [one];
      });
      const worst = strictest(here);
      if (worst !== undefined) longest.push(worst);
    }
  }
  return longest;
}
