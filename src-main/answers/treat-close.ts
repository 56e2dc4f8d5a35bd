import type { Asked, Reply } from '../../src-shared/calls/all.ts';
import type { DataOf } from '../../src-shared/entries/all.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { decideHolds } from '../../src-shared/withdrawal/holds.ts';
import type { Warning } from '../../src-shared/working.ts';
import { type Context, write } from './context.ts';
import { holdingOf, recordOf } from './reading/holding.ts';
import { revisionOf } from './reading/revision.ts';
import { sayHold } from './reading/say-hold.ts';
import { shownOf, subjectsOf } from './reading/subjects.ts';
import type { Administered } from './treat-core.ts';
import { asHoldRow } from './treat-give.ts';
import { holdsByLabel } from './treat-holds.ts';
import { headsRecorded, openSessionOf, type Session, waitingIn } from './treat-session.ts';

/**
 * Answers `close-session`. When more heads went through than are recorded, every planned animal without a record
 * may have been treated, and counts as treated until it is resolved.
 */
export function closeSession(context: Context, asked: Asked<'close-session'>): Reply<'close-session'> {
  return write<'close-session'>(context, asked, (act) => {
    const { tx } = act;
    const session = openSessionOf(tx, asked.session);
    const holding = holdingOf(tx, session.plan.holding);
    const happened = act.happened(holding);
    const recorded = headsRecorded(tx, session.id);
    const absent = new Set(asked.notThrough);
    const waiting = waitingIn(tx, session).filter((item) => !absent.has(item.subject));
    const missing = asked.headsThrough - recorded;
    const unread = missing > 0 ? waiting.map((item) => item.subject) : [];
    const warnings = closingWarnings(
      session,
      asked,
      missing,
      waiting.reduce((sum, item) => sum + item.heads, 0),
    );
    const rows = subjectsOf(tx, unread);
    act.add(
      'session-closed',
      {
        session: session.id,
        headsThrough: asked.headsThrough,
        headsRecorded: recorded,
        unread,
        used: [],
        ...(asked.sharpsBack === undefined ? {} : { sharpsBack: asked.sharpsBack }),
        ...(asked.note === undefined ? {} : { note: asked.note }),
      },
      happened,
    );
    for (const row of rows) {
      const planned = session.plan.subjects.find((item) => item.subject === row.subject);
      const lines = session.plan.lines.filter((_line, i) => planned?.doses[i] != null);
      const holds = holdsByLabel(
        lines.flatMap((line) => {
          const { terms } = revisionOf(tx, line.revision);
          const doseLine = terms.doseLines.find((each) => each.id === line.doseLine);
          if (!doseLine) return [];
          return [
            decideHolds(terms, {
              class: row.class,
              route: doseLine.route,
              doseLine: doseLine.id,
              milking: row.milking === 1,
              happened: happened.local,
              zone: happened.zone,
              counting: holding.counting,
              marginDays: holding.marginDays,
            }),
          ];
        }),
      );
      act.add(
        'held',
        {
          hold: act.id(),
          subject: row.subject,
          cause: 'possibly-treated',
          session: session.id,
          holds,
          why: `No record in ${session.name}, and ${missing} more went through than were recorded`,
        },
        // It may have been treated at any time of the session: lots split off since the start carry the hold too.
        { local: session.opened, zone: happened.zone, at: session.at },
      );
    }
    return { headsRecorded: recorded, possibly: rows.map(shownOf), warnings };
  });
}

function closingWarnings(
  session: Session,
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
  const out = session.plan.sharpsOut;
  if (out !== undefined && asked.sharpsBack !== undefined && asked.sharpsBack < out) {
    warnings.push({
      code: 'sharps-missing',
      text: `${out - asked.sharpsBack} needles are missing: look for them in the animals and in the pen`,
    });
  }
  return warnings;
}

/** Answers `resolve-possible`: what a hold waited for has come. */
export function resolvePossible(
  context: Context,
  asked: Asked<'resolve-possible'>,
): Reply<'resolve-possible'> {
  return write<'resolve-possible'>(context, asked, (act) => {
    const row = act.tx.get<{ state: string }>(
      'SELECT state FROM hold WHERE subject = ? AND source = ? ORDER BY state = ? LIMIT 1',
      asked.subject,
      `hold:${asked.hold}`,
      'none',
    );
    if (!row) throw new Refusal('no-such-hold', 'This animal has no such hold.', { field: 'hold' });
    if (row.state === 'none')
      throw new Refusal('hold-ended', 'This hold has already ended.', { field: 'hold' });
    const { hold, subject, how, why } = asked;
    act.add('hold-ended', { hold, subject, how, why });
    return { done: true };
  });
}

/** Answers `close-course`: from here on the last dose given counts, not the last one planned. */
export function closeCourse(context: Context, asked: Asked<'close-course'>): Reply<'close-course'> {
  return write<'close-course'>(context, asked, (act) => {
    const { tx } = act;
    const record = recordOf<DataOf<'course-set'>>(tx, 'course', asked.course);
    if (!record) throw new Refusal('no-such-course', 'This course is not in the book.', { field: 'course' });
    if (record.state !== 'open')
      throw new Refusal('course-closed', 'This course is closed already.', { field: 'course' });
    act.add('course-set', { ...record, state: asked.state, why: asked.why });
    const doses = tx.all<{ data: string; local: string; at: string }>(
      `SELECT a.data, a.local, a.at FROM course_dose AS c JOIN administration AS a ON a.id = c.administration
       WHERE c.subject = ? ORDER BY a.at, a.seq`,
      `course:${asked.course}`,
    );
    const said = doses.flatMap((dose) => {
      const data = JSON.parse(dose.data) as Administered;
      const holding = holdingOf(tx, data.holding);
      const revisions =
        data.source.kind === 'ours' ? data.source.draws.map((draw) => draw.revision) : [data.source.revision];
      const holds = holdsByLabel(
        revisions.map((id) =>
          decideHolds(revisionOf(tx, id).terms, {
            class: data.class,
            route: data.route,
            doseLine: data.doseLine,
            milking: subjectsOf(tx, [data.subject])[0]?.milking === 1,
            happened: dose.local,
            zone: holding.zone,
            counting: holding.counting,
            marginDays: holding.marginDays,
          }),
        ),
      );
      act.add('reassessed', {
        administration: data.administration,
        subject: data.subject,
        holds,
        why: `The course was ${asked.state}`,
      });
      return holds.map((hold) => sayHold(asHoldRow(hold, data, dose.at), holding.zone));
    });
    return { holds: said };
  });
}
