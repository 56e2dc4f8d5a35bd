import { type DataOf, draft } from '../../../src-shared/entries/all.ts';
import type { EntryDraft } from '../../../src-shared/entries/kind.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import { dayOf, instantOf, parseInstant } from '../../../src-shared/time/zone.ts';
import { type Anchor, type Decision, settleEvent } from '../../../src-shared/withdrawal/holds.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { onlyHolding } from './holding.ts';
import { type HoldRow, rawHoldsOn } from './holds.ts';
import { AWAITED, isWaitingRow } from './settled.ts';

/** An event that stands, or is about to be written. */
type Happening = {
  subject: string;
  id: string;
  what: string;
  local: string;
  zone: string;
  at: string;
};
/** Waiting holds of one source on one subject. */
type Waiting = {
  subject: string;
  source: string;
  since: string;
  zone: string;
  marginDays: number;
  holds: HoldDecision[];
};

/**
 * The ends that follow from what is about to be written: an event settles what waits for it; a treatment, a correction
 * or a decision made anew that waits for something which the book knows already is settled at once; heads that moved
 * into a lot before its event bring their holds along. Nothing is settled here that `withEvents` would not
 * ask about again: who was where, and whether the event still stands.
 */
export function settlements(tx: Reader, drafts: readonly EntryDraft[]): EntryDraft[] {
  return drafts.flatMap((written) => [
    ...settledByEvent(tx, written),
    ...waitingIn(tx, written).flatMap((waiting) =>
      eventsAfter(tx, waiting.subject, waiting.since)
        .map((event) => ({ ...event, zone: waiting.zone }))
        .flatMap((event) => settle(event, waiting, written.by)),
    ),
    ...settledByMove(tx, written),
  ]);
}

const isAwaiting = (hold: Pick<HoldDecision, 'event'>) =>
  hold.event !== undefined && AWAITED.includes(hold.event);

function settledByEvent(tx: Reader, written: EntryDraft): EntryDraft[] {
  if (written.kind !== 'event-noted') return [];
  const { event: id, subject, what } = written.data as DataOf<'event-noted'>;
  if (!AWAITED.includes(what)) return [];
  const event = { subject, id, what, ...written.happened };
  return waitingOn(tx, subject, event.zone)
    .filter((waiting) => waiting.since < event.at)
    .flatMap((waiting) => settle(event, waiting, written.by));
}

function settledByMove(tx: Reader, written: EntryDraft): EntryDraft[] {
  const replaced = written.kind === 'replaced' ? (written.data as DataOf<'replaced'>) : undefined;
  const isMove = written.kind === 'lot-moved' || replaced?.kind === 'lot-moved';
  if (!isMove) return [];
  const { from, to } = (replaced?.data ?? written.data) as DataOf<'lot-moved'>;
  const { at, zone } = replaced?.happened ?? written.happened;
  const events = eventsAfter(tx, to, at).map((event) => ({ ...event, zone }));
  if (events.length === 0) return [];
  const waiting = waitingOn(tx, `lot:${from}`, zone).filter((one) => one.since <= at);
  return events.flatMap((event) => waiting.flatMap((one) => settle(event, one, written.by)));
}

/** Everything that bears on a subject and waits, as it was decided. */
function waitingOn(tx: Reader, subject: string, zone: string): Waiting[] {
  const marginDays = marginOf(tx);
  const found = new Map<string, Waiting>();
  for (const row of rawHoldsOn(tx, [subject])) {
    if (!isWaitingRow(row)) continue;
    const hold = JSON.parse(row.data) as HoldDecision;
    const key = `${row.source} ${row.on_subject}`;
    const one = found.get(key);
    if (one) one.holds.push(hold);
    else found.set(key, { subject, source: row.source, since: row.from_at, zone, marginDays, holds: [hold] });
  }
  return [...found.values()];
}

/** What waits in an entry that decides holds. */
function waitingIn(tx: Reader, written: EntryDraft): Waiting[] {
  const of = (
    subject: string,
    source: string,
    holds: readonly HoldDecision[],
    happened: EntryDraft['happened'],
    since = happened.at,
  ): Waiting[] => {
    const waiting = holds.filter(isAwaiting);
    return waiting.length === 0
      ? []
      : [{ subject, source, since, zone: happened.zone, marginDays: marginOf(tx), holds: waiting }];
  };
  const { kind, happened } = written;
  if (kind === 'administered') {
    const { administration, subject, holds } = written.data as DataOf<'administered'>;
    return of(subject, `administration:${administration}`, holds, happened);
  }
  if (kind === 'held') {
    const { hold, subject, holds } = written.data as DataOf<'held'>;
    return of(subject, `hold:${hold}`, holds, happened);
  }
  if (kind === 'reassessed') {
    const { source, subject, holds } = written.data as DataOf<'reassessed'>;
    return of(subject, source, holds, happened, beganAt(tx, subject, source) ?? happened.at);
  }
  const replaced = kind === 'replaced' ? (written.data as DataOf<'replaced'>) : undefined;
  if (replaced?.kind !== 'administered') return [];
  const { administration, subject, holds } = replaced.data as DataOf<'administered'>;
  return of(subject, `administration:${administration}`, holds, replaced.happened);
}

const marginOf = (tx: Reader) => onlyHolding(tx)?.marginDays ?? 0;

function beganAt(tx: Reader, subject: string, source: string): string | undefined {
  return tx.get<Pick<HoldRow, 'from_at'>>(
    'SELECT from_at FROM hold WHERE subject = ? AND source = ? LIMIT 1',
    subject,
    source,
  )?.from_at;
}

/** Events that stand, later than an instant, of a subject and of everything its heads went into. */
function eventsAfter(tx: Reader, subject: string, after: string): Omit<Happening, 'zone'>[] {
  return tx.all<Omit<Happening, 'zone'>>(
    `WITH RECURSIVE down(s) AS (
       SELECT ? UNION SELECT lineage.subject FROM down JOIN lineage ON lineage.parent = down.s
     )
     SELECT e.subject, e.id, e.what, e.at, e.local FROM down JOIN event AS e ON e.subject = down.s
     WHERE e.at > ? AND e.what IN (SELECT value FROM json_each(?)) ORDER BY e.at, e.seq`,
    subject,
    after,
    JSON.stringify(AWAITED),
  );
}

function settle(event: Happening, waiting: Waiting, by: string): EntryDraft[] {
  // An event dated before the animal was in the book sorts after its coming, and is no answer to what was given since.
  if (instantOf(event.local, event.zone, 'start') <= waiting.since) return [];
  // A hold of an older book does not say what it counts from besides: then the whole day of the treatment.
  const day = dayOf(parseInstant(waiting.since, 'since'), waiting.zone);
  const fallback = { lastDose: day, zone: waiting.zone, marginDays: waiting.marginDays };
  const holds = waiting.holds
    .filter((hold) => hold.event === event.what)
    .map((hold) => settledHold(hold, event, fallback));
  if (holds.length === 0) return [];
  const { local, zone, at } = event;
  const { source, since } = waiting;
  return [
    draft(
      'hold-settled',
      by,
      { local, zone, at },
      { event: event.id, subject: event.subject, source, since, holds },
    ),
  ];
}

/** A waiting hold with the end it gets by the event. */
function settledHold(hold: HoldDecision, event: Happening, fallback: Anchor): HoldDecision {
  const { counting, until, atLeast, says, ...rest } = hold;
  // A decision as an entry keeps it is the decision as it was made: only its instants are text here.
  const decision = {
    ...rest,
    says: says as Decision['says'],
    counting: counting ?? 'later',
    ...(until === undefined ? {} : { until: parseInstant(until, 'until') }),
    ...(atLeast === undefined ? {} : { atLeast: parseInstant(atLeast, 'atLeast') }),
  } as Decision;
  const { counting: _by, working, ...settled } = settleEvent(decision, event.local, fallback);
  return {
    ...settled,
    clock: hold.clock,
    ...optional('counting', counting),
    working: working.map((step) => ({ ...step })),
  } as HoldDecision;
}
