import { printWorking } from '../../../src-shared/dose/working.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { isoWithOffset, printInstant } from '../../../src-shared/time/zone.ts';
import type { HoldRow } from './holds.ts';
import { possibleOf } from './possible-hold.ts';

const PRODUCE: Readonly<Record<string, string>> = {
  meat: 'Meat',
  milk: 'Milk',
  'wool-harvest': 'Shearing',
  'wool-handling': 'Wool handling',
};
const CAUSE: Readonly<Record<string, string>> = {
  treatment: 'treated',
  'possibly-treated': 'may have been treated',
  'bought-in': 'came in with no statement about earlier treatments',
  'broken-needle': 'a broken needle was not found',
  'at-foot': 'at foot of a treated ewe',
  other: 'held by hand',
};
const EVENT: Readonly<Record<string, string>> = {
  lambing: 'lambing is recorded',
  removal: 'the device is taken out',
  'end-of-release': 'the release ends',
  finding: 'a finding is recorded',
  statement: 'there is a statement',
  resolved: 'it is resolved',
};

/** The words for what put a hold on, when that was no treatment; of one possibly treated with what. */
export function causeWords(row: Pick<HoldRow, 'cause' | 'possible'>): string {
  const words = CAUSE[row.cause] ?? row.cause;
  const { products } = possibleOf(row);
  if (products === undefined) return words;
  return row.cause === 'at-foot'
    ? `at foot of a ewe that may have been treated with ${listed(products)}`
    : `${words} with ${listed(products)}`;
}

/** What is said of a period of no days that ended where it began: nothing was ever held by it. */
export const NO_WITHDRAWAL = 'no withdrawal (0 days)';

/** Whether a hold stands for a period of zero that ended at the dose itself. With a margin it ends later and holds. */
export function heldNothing(hold: Pick<HoldRow, 'until' | 'period' | 'from_at'>): boolean {
  return hold.until !== null && hold.until <= hold.from_at && /^0 [dh]$/.test(hold.period ?? '');
}

/** What ends a hold, in words: a date and time, an event, or that nothing does. */
export function untilText(hold: Pick<HoldRow, 'state' | 'until' | 'event'>, zone: string): string {
  if (hold.state === 'none') return 'clear';
  if (hold.state === 'until' || hold.state === 'dormant') {
    return hold.until === null ? 'not known' : printInstant(hold.until as never, zone);
  }
  if (hold.state === 'event') return `until ${EVENT[hold.event ?? ''] ?? 'it is resolved'}`;
  if (hold.state === 'life') return 'for life';
  return 'not stated: never clears by time';
}

/** A hold as people read it, with its working. */
export function sayHold(row: HoldRow, zone: string) {
  const what = PRODUCE[row.produce] ?? row.produce;
  const produce =
    row.clock === 'organic' ? `${what} as organic` : row.market === 'export' ? `${what} for export` : what;
  const why = row.product ? `${row.product}` : causeWords(row);
  const decision = JSON.parse(row.data) as HoldDecision;
  // A sleeping clock is said as what it would wake to.
  const awake = row.state === 'dormant' ? (decision.wakes ?? 'unknown') : row.state;
  const until = untilText({ ...row, state: awake }, zone);
  const held =
    awake === 'until' && heldNothing(row)
      ? `${NO_WITHDRAWAL} (${why})`
      : awake === 'none'
        ? `clear (${why})`
        : awake === 'unknown'
          ? `held; no period is stated, so time alone never clears it (${why})`
          : awake === 'until'
            ? `held until ${until} (${why}${row.period ? `, ${row.period}` : ''})`
            : `held ${until} (${why})`;
  const sentence =
    row.state === 'dormant'
      ? `${produce}: not in milk; if it comes into milk, ${held}`
      : awake === 'until' && heldNothing(row)
        ? `${produce}: ${held}`
        : `${produce} ${held}`;
  return {
    produce: row.produce,
    market: row.market,
    clock: row.clock,
    state: row.state,
    ...(row.until === null ? {} : { until: isoWithOffset(row.until as never, zone) }),
    untilText: row.state === 'dormant' ? `not in milk; else ${until}` : until,
    text: sentence,
    cause: row.cause,
    ...(row.product === null ? {} : { product: row.product }),
    from: row.from_at,
    source: row.source,
    working: printWorking(decision.working),
  };
}
