import { addDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant, localOf, startOfDay } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Certificate, certificatesOf, organicRulesOf } from '../reading/certificates.ts';
import { holdsOn, kinOf } from '../reading/holds.ts';
import { subjectsOf } from '../reading/subjects.ts';

export type WaitingUnder = { heads: number; last?: string; says: string };

/**
 * For each certificate with a last day: the heads that are here, covered by it, and wait for an organic date that comes
 * after that day, while no other certificate covers them on the day after. Meat for people here; of milk the date is
 * never far. Nothing for who is not in the answer.
 */
export function waitingUnder(tx: Reader, now: string, zone: string): Map<string, WaitingUnder> {
  const found = new Map<string, WaitingUnder>();
  const ending = certificatesOf(tx).filter(
    ({ until, rules }) => until !== undefined && rules === 'eu-organic',
  );
  // Most farms have none that ends, and then nobody is gone through.
  if (ending.length === 0) return found;
  const running = new Map<string, string | null>();
  for (const hold of holdsOn(tx, 'present', 'meat')) {
    const { clock, market, state, until, subject } = hold;
    if (clock !== 'organic' || market !== 'domestic' || state === 'none' || state === 'life') continue;
    const end = state === 'until' ? until : null;
    if (end !== null && end <= now) continue;
    const before = running.get(subject);
    running.set(subject, before === null || end === null ? null : laterText(before, end));
  }
  const rows = subjectsOf(tx, [...running.keys()]);
  const kin = new Map(rows.map((row) => [row.subject, kinOf(tx, row.subject)]));
  for (const certificate of ending) {
    const until = certificate.until as Day;
    const after = startOfDay(addDays(until, 1), zone);
    const covered = rows.filter(({ subject, holding }) => {
      const end = running.get(subject);
      const isLater = end === null || (end !== undefined && end >= after);
      return isLater && covers(certificate, holding, kin.get(subject) ?? []);
    });
    const next = organicRulesOf(tx, covered, addDays(until, 1));
    const waiting = covered.filter(({ subject }) => !next.has(subject));
    if (waiting.length === 0) continue;
    const ends = waiting.map(({ subject }) => running.get(subject) ?? null);
    const last = ends.includes(null) ? undefined : ends.toSorted().at(-1);
    const heads = waiting.reduce((sum, row) => sum + row.heads, 0);
    found.set(certificate.certificate, {
      heads,
      ...(last == null ? {} : { last: dayOf(last as Instant, zone) }),
      says: sayWaiting(until, heads, last ?? undefined, { now, zone }),
    });
  }
  return found;
}

const laterText = (a: string | undefined, b: string) => (a === undefined || b > a ? b : a);

function covers({ of }: Certificate, holding: string, kin: readonly { ancestor: string }[]): boolean {
  return of === `holding:${holding}` || kin.some(({ ancestor }) => ancestor === of);
}

function sayWaiting(
  until: Day,
  heads: number,
  last: string | undefined,
  { now, zone }: { now: string; zone: string },
): string {
  const isOver = localOf(now as Instant, zone).slice(0, 10) > until;
  const date =
    last === undefined
      ? 'for an organic date that no day is set for'
      : `for an organic date after that, the last on ${printDay(dayOf(last as Instant, zone))}`;
  return (
    `${isOver ? 'Ended' : 'Ends'} on ${printDay(until)}. ${heads} head ${heads === 1 ? 'waits' : 'wait'} ${date}. ` +
    'No other certificate follows, so none of them may go as organic: write down the next one under Farm when it has come.'
  );
}
