import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { NEEDLE_ROUTES } from '../../../src-shared/label/terms.ts';
import { needleHolds } from '../../../src-shared/needle/lost.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Act } from '../context.ts';
import { optional } from '../optional.ts';
import type { Holding } from '../reading/holding.ts';
import {
  heldByLoss,
  injectedIn,
  isWithin,
  lossesIn,
  type NeedleLost,
  type Sharps,
} from '../reading/needles.ts';
import { type SubjectRow, shownOf, subjectsOf } from '../reading/subjects.ts';
import type { Session } from '../treat/session.ts';

type Shown = Reply<'report-needle'>['held'][number];
export type Lost = { loss: string; held: Shown[]; says: string };

/** What a report says, before it is decided whom it holds. */
export type LostAsk = Pick<NeedleLost, 'needles' | 'found'> &
  Partial<Record<'needle' | 'note' | 'of', string | undefined>> & {
    subject?: SubjectRow | undefined;
    site?: NeedleLost['site'];
    side?: NeedleLost['side'];
    /** When it was noticed. */
    noticed: Happened;
    /** With a session: since when it may have happened. */
    work?: { session: Session; since: Sharps['since'] } | undefined;
    /** Who may have been treated without a record. */
    unread?: readonly string[] | undefined;
    /** When it happened, where an earlier report says so. */
    happened?: Happened | undefined;
  };

/**
 * Writes a report of a broken or missing needle. A known animal is held by itself; else whoever was treated by needle
 * since the needles were last counted, from that moment on, so that lots split off in between are held too.
 */
export function writeLost(act: Act, ask: LostAsk): Lost {
  const { tx } = act;
  const { noticed, subject, work, found } = ask;
  const loss = act.id();
  const suspects =
    found === 'found-whole'
      ? []
      : subject !== undefined
        ? [subject.subject]
        : [...new Set([...suspectsOf(act, ask), ...(ask.unread ?? [])])];
  const since = work?.since;
  const happened =
    ask.happened ??
    (subject !== undefined || since === undefined
      ? noticed
      : { local: since.local, zone: noticed.zone, at: since.at });
  act.add(
    'needle-lost',
    {
      loss,
      needles: ask.needles,
      found,
      noticed: { local: noticed.local, at: noticed.at },
      held: suspects,
      holds: found === 'found-whole' ? [] : needleHolds(),
      ...optional('session', work?.session.id),
      ...optional('subject', subject?.subject),
      ...optional('needle', ask.needle),
      ...optional('site', ask.site),
      ...optional('side', ask.side),
      ...optional('note', ask.note),
      ...optional('of', ask.of),
    },
    happened,
  );
  const held = subjectsOf(tx, suspects).map(shownOf);
  return { loss, held, says: sayHeld(held, subject, found) };
}

function suspectsOf({ tx }: Act, { work, noticed }: LostAsk): string[] {
  if (work === undefined) {
    throw new Refusal('who-carries-it', 'Say in which animal it was, or in which work it went missing.', {
      field: 'subject',
      next: 'Choose the animal; where nobody knows, choose the session.',
    });
  }
  const { session, since } = work;
  return [
    ...injectedIn(tx, session.id, since, noticed.at),
    // Those may have been treated, and whoever may have been counts as treated.
    ...(session.closing?.unread ?? []),
  ];
}

function sayHeld(
  held: readonly Shown[],
  subject: SubjectRow | undefined,
  found: NeedleLost['found'],
): string {
  if (found === 'found-whole') return 'It was found whole, so nobody is held.';
  const heads = held.reduce((sum, one) => sum + one.heads, 0);
  if (heads === 0) return 'Nobody was treated with a needle since the last count, so nobody is held.';
  const who = subject?.shown ?? `${heads} head treated since the last count`;
  return `${who} may not go for meat until a finding is recorded. No date ends this.`;
}

/** When it was noticed: a day alone counts to its end, so that whoever was treated on it is held. */
export function noticedAt(act: Act, holding: Holding | undefined): Happened {
  return act.happened(holding, undefined, 'end');
}

/** Refuses (`before-it-began`) a report of needles that goes back before the work began. */
export function checkNoticed(noticed: Happened, session: Pick<Session, 'at'>): void {
  if (noticed.at >= session.at) return;
  throw new Refusal('before-it-began', 'The needle cannot have gone missing before the work began.', {
    field: 'happened',
    next: 'Check the date and the time.',
  });
}

/** Needles missing beyond those that are reported already. */
export function missingOf(sharps: Sharps, there: number): number {
  return Math.max(0, (sharps.out ?? 0) - sharps.reported - there);
}

/**
 * Somebody recorded late as treated by needle while one was missing, and nobody knows in whom: held like the others.
 */
export function holdIfNeedleMissing(
  act: Act,
  session: Pick<Session, 'id' | 'name'>,
  treated: readonly { subject: string; route: string }[],
  happened: Happened,
): void {
  const subjects = new Set(
    treated.filter(({ route }) => NEEDLE_ROUTES.some((one) => one === route)).map(({ subject }) => subject),
  );
  if (subjects.size === 0) return;
  for (const { data, at } of lossesIn(act.tx, session.id)) {
    if (data.subject !== undefined || data.found !== 'not-found') continue;
    const held = new Set(heldByLoss(act.tx, data.loss));
    if (held.size === 0 || !isWithin(happened, { at, local: data.noticed.local }, data.noticed.at)) continue;
    for (const subject of subjects) {
      if (held.has(subject)) continue;
      act.add(
        'held',
        {
          hold: data.loss,
          subject,
          cause: 'broken-needle',
          session: session.id,
          holds: needleHolds(),
          why: `Treated in ${session.name} while a needle was missing`,
        },
        happened,
      );
    }
  }
}
