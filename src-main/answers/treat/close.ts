import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf, recordOf } from '../reading/holding.ts';
import { type Sharps, sharpsOf } from '../reading/needles.ts';
import { possibleOf } from '../reading/possible-hold.ts';
import { newestRevision, revisionOf } from '../reading/revision.ts';
import { sayHold } from '../reading/say-hold.ts';
import { shownOf } from '../reading/subjects.ts';
import { missingOf, writeLost } from '../sharps/lost.ts';
import { sayMissing } from '../sharps/sharps.ts';
import { decideDosesAnew, dosesOfCourse } from './course-doses.ts';
import { asHoldRow } from './give.ts';
import { linesOfHold, notRecorded, possiblyHolds } from './possible.ts';
import { headsRecorded, openSessionOf, type Session, sessionOf } from './session.ts';
import { checkGotNone, headsWithout, type Unsure, unsureIn } from './unsure.ts';

/**
 * Answers `close-session`. Whoever may have been given something that was planned for it and is not recorded counts as
 * treated with that medicine until it is resolved: see `unsureIn`.
 */
export function closeSession(context: Context, asked: Asked<'close-session'>): Reply<'close-session'> {
  return write<'close-session'>(context, asked, (act) => {
    const { tx } = act;
    const session = openSessionOf(tx, asked.session);
    const holding = holdingOf(tx, session.plan.holding);
    const happened = act.happened(holding, asked.happened, 'end');
    notBefore(happened, session.at, 'session');
    const { notThrough, gotNone } = asked;
    checkGotNone(tx, session, gotNone);
    const recorded = headsRecorded(tx, session.id);
    const missing = asked.headsThrough - recorded;
    const unsure = unsureIn(tx, session, { missing, notThrough, gotNone });
    const unread = unsure.map(({ row }) => row.subject);
    const sharps = sharpsOf(tx, session, happened.zone, happened.at);
    const warnings = closingWarnings(sharps, asked, missing, headsWithout(tx, session, notThrough));
    act.add(
      'session-closed',
      {
        session: session.id,
        headsThrough: asked.headsThrough,
        headsRecorded: recorded,
        unread,
        used: [],
        ...optional('notThrough', notThrough.length === 0 ? undefined : notThrough),
        ...optional('gotNone', gotNone.length === 0 ? undefined : gotNone),
        ...optional('sharpsBack', asked.sharpsBack),
        ...optional('note', asked.note),
      },
      happened,
    );
    const possibly = unsure.map((one) => holdPossibly(act, session, one, missing, happened));
    return {
      headsRecorded: recorded,
      possibly,
      ...optional('needle', sharpsMissing(act, asked, session, unread, happened)),
      warnings,
    };
  });
}

/** Writes the hold of one that may have been given what is not recorded. */
function holdPossibly(
  act: Act,
  session: Session,
  { row, lines, isPartly }: Unsure,
  missing: number,
  closed: Happened,
): Reply<'close-session'>['possibly'][number] {
  const { tx } = act;
  const products = lines.map(({ revision }) => revisionOf(tx, revision).terms.name);
  act.add(
    'held',
    {
      hold: act.id(),
      subject: row.subject,
      cause: 'possibly-treated',
      session: session.id,
      lines: lines.map(({ line }) => line),
      products,
      holds: possiblyHolds(tx, session, row, lines, closed.local, (id) => revisionOf(tx, id).terms),
      why: isPartly
        ? `No record of ${listed(products)} in ${session.name}, for which it was planned`
        : `No record in ${session.name}, and ${missing} more went through than were recorded`,
    },
    // It may have been treated at any time of the session: lots split off since the start carry the hold too.
    { local: session.opened, zone: closed.zone, at: session.at },
  );
  return { ...shownOf(row), of: products };
}

/** Refuses (`before-it-began`) an end that comes before what it ends. */
function notBefore(happened: Happened, since: string, what: string): void {
  if (happened.at >= since) return;
  throw new Refusal('before-it-began', `The ${what} cannot have ended before it began.`, {
    field: 'happened',
    next: 'Check the date and the time.',
  });
}

function closingWarnings(
  sharps: Sharps,
  asked: Asked<'close-session'>,
  missing: number,
  waitingHeads: number,
): Warning[] {
  const warnings: Warning[] = [];
  if (missing < 0) {
    warnings.push({
      code: 'more-records-than-heads',
      text: `${-missing} more are recorded than went through: look for one recorded twice`,
    });
  }
  if (missing > waitingHeads) {
    warnings.push({
      code: 'heads-unaccounted',
      text: `${missing - waitingHeads} more went through than were planned: find out who, and record them`,
    });
  }
  const needles = asked.sharpsBack === undefined ? 0 : missingOf(sharps, asked.sharpsBack);
  if (needles > 0) {
    warnings.push({
      code: 'sharps-missing',
      text: `${sayMissing(needles)} Look in the animals, in the pen and in the box`,
    });
  }
  if (sharps.out !== undefined && asked.sharpsBack === undefined) {
    warnings.push({
      code: 'sharps-not-counted',
      text: `${sharps.out} needles were handed out, and nobody counted them back: count them, and report what is missing`,
    });
  }
  return warnings;
}

/** Needles that did not come back: whoever was treated since the last count is held until a finding is recorded. */
function sharpsMissing(
  act: Act,
  asked: Asked<'close-session'>,
  session: Session,
  unread: readonly string[],
  happened: Happened,
): Reply<'close-session'>['needle'] {
  if (asked.sharpsBack === undefined) return undefined;
  const sharps = sharpsOf(act.tx, session, happened.zone, happened.at);
  const needles = missingOf(sharps, asked.sharpsBack);
  if (needles === 0) return undefined;
  const work = { session, since: sharps.since };
  return writeLost(act, { needles, found: 'not-found', noticed: happened, note: asked.note, work, unread });
}

/** Answers `resolve-possible`: what a hold waited for has come. */
export function resolvePossible(
  context: Context,
  asked: Asked<'resolve-possible'>,
): Reply<'resolve-possible'> {
  return write<'resolve-possible'>(context, asked, (act) => {
    const row = act.tx.get<{ state: string; cause: string; from_at: string; possible: string | null }>(
      'SELECT state, cause, from_at, possible FROM hold WHERE subject = ? AND source = ? ORDER BY state = ? LIMIT 1',
      asked.subject,
      `hold:${asked.hold}`,
      'none',
    );
    if (!row) throw new Refusal('no-such-hold', 'This animal has no such hold.', { field: 'hold' });
    if (row.state === 'none')
      throw new Refusal('hold-ended', 'This hold has already ended.', { field: 'hold' });
    const { hold, subject, how, why } = asked;
    if (row.cause === 'broken-needle' && how !== 'finding') {
      throw new Refusal('finding-only', 'Only a finding ends the hold for a broken needle.', {
        field: 'how',
        next: 'Write what was found, where and by whom.',
      });
    }
    const answers = ANSWERS[row.cause];
    if (answers !== undefined && !answers.ways.includes(how)) {
      throw new Refusal('no-answer-to-this', answers.says, { field: 'how', next: answers.next });
    }
    if (how === 'recorded-late') checkRecorded(act.tx, subject, row);
    // A day alone counts to its end: an answer that sorted before the hold would end nothing.
    const happened = act.happened(undefined, asked.happened, 'end');
    notBefore(happened, row.from_at, 'hold');
    act.add('hold-ended', { hold, subject, how, why }, happened);
    return { done: true };
  });
}

/** Whose word answers what was asked by each cause: a seller knows nothing of what may have been given here. */
const ANSWERS: Readonly<
  Record<string, { ways: readonly Asked<'resolve-possible'>['how'][]; says: string; next: string }>
> = {
  'possibly-treated': {
    ways: ['not-treated', 'recorded-late', 'vet-word'],
    says: 'A statement or a finding does not say whether it was treated here.',
    next: 'Say that it was not treated and how that is known, record the treatment, or write the vet’s word.',
  },
  'bought-in': {
    ways: ['statement', 'vet-word'],
    says: 'Nobody here knows what it was given before it came.',
    next: 'Write the seller’s statement or the vet’s word, or set a stand-down.',
  },
};

/** Refuses (`not-recorded`) "it is in the book by now" while something that was planned for it is not. */
function checkRecorded(tx: Reader, subject: string, hold: { possible: string | null }): void {
  const { session: id } = possibleOf(hold);
  if (id === undefined) return;
  const session = sessionOf(tx, id);
  const missing = notRecorded(tx, session, subject, linesOfHold(tx, session, subject, hold)).map(
    (medicine) => newestRevision(tx, medicine).terms.name,
  );
  if (missing.length === 0) return;
  throw new Refusal(
    'not-recorded',
    `Since ${session.name} began no treatment of it with ${missing.join(' or ')} is in the book.`,
    { field: 'how', next: 'Record that treatment first, or say that it was not treated.' },
  );
}

/** Answers `close-course`: from here on the last dose given counts, not the last one planned. */
export function closeCourse(context: Context, asked: Asked<'close-course'>): Reply<'close-course'> {
  return write<'close-course'>(context, asked, (act) => {
    const { tx } = act;
    const record = recordOf<DataOf<'course-set'>>(tx, 'course', asked.course);
    if (!record) throw new Refusal('no-such-course', 'This course is not in the book.', { field: 'course' });
    if (record.state !== 'open')
      throw new Refusal('course-closed', 'This course is closed already.', { field: 'course' });
    const doses = dosesOfCourse(tx, asked.course);
    const happened = act.happened(undefined, asked.happened, 'end');
    notBefore(happened, doses.at(-1)?.at ?? '', 'course');
    act.add('course-set', { ...record, state: asked.state, why: asked.why }, happened);
    const turning = { course: asked.course, to: 'closed' } as const;
    const why = `The course was ${asked.state}`;
    const said = decideDosesAnew(context.store, act, doses, { turning, why, happened }).flatMap(
      ({ dose, data, holds }) => {
        const { zone } = holdingOf(tx, data.holding);
        return holds.map((hold) => sayHold(asHoldRow(hold, data, dose.at), zone));
      },
    );
    return { holds: said };
  });
}
