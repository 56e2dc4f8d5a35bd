import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Instant, localOf } from '../../../src-shared/time/zone.ts';
import type { Warning } from '../../../src-shared/working.ts';
import { type Act, type Context, write } from '../context.ts';
import { happenedBy, holdingOfSubject } from '../reading/flock.ts';
import { holdingOf } from '../reading/holding.ts';
import { heldByLoss, type LossRow, lossesIn, sharpsOf } from '../reading/needles.ts';
import { shownOf, subjectOfName, subjectsOf } from '../reading/subjects.ts';
import { sessionOf } from '../treat/session.ts';
import { checkNoticed, noticedAt, writeLost } from './lost.ts';

/** Answers `report-needle`: in one animal, or in nobody knows whom. */
export function reportNeedle(context: Context, asked: Asked<'report-needle'>): Reply<'report-needle'> {
  return write<'report-needle'>(context, asked, (act) => {
    const { tx } = act;
    const session = asked.session === undefined ? undefined : sessionOf(tx, asked.session);
    const subject = asked.subject === undefined ? undefined : subjectOfName(tx, asked.subject);
    if (subject === undefined && asked.mark !== undefined) {
      throw new Refusal('mark-whom', 'A mark was named, and no animal that carries it.', {
        field: 'subject',
        next: 'Choose the animal that is marked.',
      });
    }
    const holding = session ? holdingOf(tx, session.plan.holding) : subject && holdingOfSubject(tx, subject);
    // One that is known is held from the first moment of a day that is given without a time.
    const noticed =
      subject === undefined ? noticedAt(act, holding) : happenedBy(act, holding, 'start', asked.happened);
    if (session && subject === undefined) checkNoticed(noticed, session);
    const zone = holding?.zone ?? noticed.zone;
    const lost = writeLost(act, {
      needles: asked.needles,
      found: asked.found,
      noticed,
      needle: asked.needle,
      subject,
      site: asked.site,
      side: asked.side,
      note: asked.note,
      work: session && { session, since: sharpsOf(tx, session, zone, noticed.at).since },
    });
    markIt(act, asked.subject, asked.mark, asked.session, noticed);
    return { ...lost, warnings: warningsOf(asked, lost.held) };
  });
}

function markIt(
  act: Act,
  subject: string | undefined,
  mark: Asked<'report-needle'>['mark'],
  session: string | undefined,
  happened: Happened,
): void {
  if (subject === undefined || mark === undefined) return;
  act.add('marked', { subject, ...mark, ...(session === undefined ? {} : { session }) }, happened);
}

function warningsOf(asked: Asked<'report-needle'>, held: Reply<'report-needle'>['held']): Warning[] {
  const isHeld = held.length > 0;
  return [
    ...(isHeld && asked.mark === undefined
      ? [{ code: 'not-marked', text: 'Mark at once whoever is held, so that it is known without its tag.' }]
      : []),
    ...(isHeld && asked.subject !== undefined && asked.site === undefined
      ? [{ code: 'no-place', text: 'Write down the place as soon as it is known: the abattoir looks there.' }]
      : []),
  ];
}

/** The report with this id. Refuses (`no-such-report`). */
function lossOf(act: Act, id: string): LossRow {
  const row = lossesIn(act.tx).find(({ data }) => data.loss === id);
  if (row) return row;
  throw new Refusal('no-such-report', 'This report of a needle is not in the book.', { field: 'loss' });
}

/** Answers `needle-finding`: the only thing that ends the hold for a needle. */
export function needleFinding(context: Context, asked: Asked<'needle-finding'>): Reply<'needle-finding'> {
  return write<'needle-finding'>(context, asked, (act) => {
    const { tx } = act;
    const { data, at } = lossOf(act, asked.loss);
    const held = heldByLoss(tx, data.loss);
    if (held.length === 0) {
      throw new Refusal('nobody-held', 'Nobody is held by this report any more.', { field: 'loss' });
    }
    const named = subjectsOf(tx, asked.subjects);
    const holding = subjectsOf(tx, held.slice(0, 1)).map((row) => holdingOfSubject(tx, row))[0];
    const happened = happenedBy(act, holding, 'end', asked.happened);
    if (happened.at < at) {
      throw new Refusal('before-it-began', 'The finding cannot be older than the report.', {
        field: 'happened',
        next: 'Check the date and the time.',
      });
    }
    const cleared = asked.finding === 'not-in-these' ? lookedAt(asked, held) : held;
    for (const subject of cleared) {
      act.add('hold-ended', { hold: data.loss, subject, how: 'finding', why: asked.why }, happened);
    }
    if (asked.finding !== 'in-one') {
      const left = subjectsOf(
        tx,
        held.filter((subject) => !cleared.includes(subject)),
      );
      return { ended: cleared.length, held: left.map(shownOf), says: sayLeft(left.length) };
    }
    const [one] = named;
    if (one === undefined || asked.subjects.length !== 1) {
      throw new Refusal('one-carries-it', 'Name the one animal it is in.', { field: 'subjects' });
    }
    const session = data.session === undefined ? undefined : sessionOf(tx, data.session);
    const zone = holding?.zone ?? happened.zone;
    const lost = writeLost(act, {
      needles: data.needles,
      found: 'not-found',
      needle: data.needle,
      noticed: happened,
      subject: one,
      site: asked.site ?? data.site,
      side: asked.side ?? data.side,
      note: asked.why,
      of: data.loss,
      work: session && { session, since: sharpsOf(tx, session, zone).since },
      // It was in it ever since, whoever came out of a lot in between.
      happened: { local: localOf(at as Instant, zone), zone, at },
    });
    markIt(act, one.subject, asked.mark, data.session, happened);
    return {
      ended: cleared.filter((subject) => subject !== one.subject).length,
      held: lost.held,
      says: lost.says,
    };
  });
}

/** Those who were looked at. Refuses (`no-such-hold`) one that is not held by the report. */
function lookedAt(asked: Asked<'needle-finding'>, held: readonly string[]): string[] {
  if (asked.subjects.length === 0) {
    throw new Refusal('who-was-looked-at', 'Name those who were looked at and have no needle in them.', {
      field: 'subjects',
    });
  }
  if (asked.subjects.every((subject) => held.includes(subject))) return asked.subjects;
  throw new Refusal('no-such-hold', 'One of these is not held by this report.', {
    field: 'subjects',
    next: 'Take it off the list.',
  });
}

const sayLeft = (left: number) =>
  left === 0
    ? 'Nobody is held by this report any more.'
    : `${left} ${left === 1 ? 'is' : 'are'} still held by this report.`;
