import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { instantOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Context, write } from '../context.ts';
import type { FootRow } from '../reading/at-foot.ts';
import { cameAt, holdingOfSubject } from '../reading/flock.ts';
import { holdsOn } from '../reading/holds.ts';
import { sayHold } from '../reading/say-hold.ts';
import { shownOf, subjectOfName, subjectsOf } from '../reading/subjects.ts';

const OPEN = '9999-12-31T23:59:59.999Z';

/** Answers `set-at-foot`. Refuses `own-dam`, `not-a-ewe`, `no-such-link`, `weaned-before` and a day still to come. */
export function setAtFoot(context: Context, asked: Asked<'set-at-foot'>): Reply<'set-at-foot'> {
  return write<'set-at-foot'>(context, asked, (act) => {
    const { tx } = act;
    const lamb = subjectOfName(tx, asked.subject);
    const dam = subjectOfName(tx, asked.dam, 'dam');
    if (lamb.subject === dam.subject) {
      throw new Refusal('own-dam', `${lamb.shown} cannot be its own dam.`, {
        field: 'dam',
        next: 'Choose the ewe.',
      });
    }
    if (!['ewe', 'hogg', 'ewe-lamb'].includes(dam.class)) {
      throw new Refusal('not-a-ewe', `${dam.shown} is in the book as a ${dam.class.replace('-', ' ')}.`, {
        field: 'dam',
        next: 'Choose the ewe, or correct its class first.',
      });
    }
    const before = asked.foot === undefined ? undefined : linkOf(tx, asked.subject, asked.foot);
    const { zone, from, until } = spanOf(act, asked, before, cameAt(tx, lamb.subject));
    const foot = asked.foot ?? act.id();
    act.add('at-foot-set', {
      foot,
      subject: lamb.subject,
      dam: dam.subject,
      from,
      ...(until === undefined ? {} : { until }),
    });
    const holds: Reply<'set-at-foot'>['holds'] = [];
    act.keep(() => {
      for (const row of holdsOn(tx, [lamb.subject], 'meat')) {
        if (row.cause === 'at-foot') holds.push(sayHold(row, zone));
      }
    });
    return { foot, holds };
  });
}

function linkOf(tx: Reader, subject: string, foot: string): FootRow {
  const row = tx.get<FootRow>('SELECT * FROM at_foot WHERE subject = ? AND id = ?', subject, foot);
  if (row) return row;
  throw new Refusal('no-such-link', 'The book does not know that this lamb was at foot.', { field: 'foot' });
}

/** From when to when: a day alone counts whole at both ends, so that nothing given on it is left out. */
function spanOf(
  act: Act,
  asked: Asked<'set-at-foot'>,
  before: FootRow | undefined,
  came: string | undefined,
) {
  const holding = holdingOfSubject(act.tx, subjectOfName(act.tx, asked.subject));
  const zone = holding?.zone ?? 'UTC';
  const begins = asked.from ?? before?.from_local;
  const began =
    begins === undefined ? act.happened(holding, undefined) : act.happened(holding, begins, 'start');
  const at = asked.from === undefined && before !== undefined ? before.from_at : began.at;
  // Without a word on when, it was at foot ever since it came into the book.
  const from = {
    local: began.local,
    at: begins === undefined && came !== undefined && came < at ? came : at,
  };
  const ends = asked.until ?? before?.until_local ?? undefined;
  if (ends === undefined) return { zone, from, until: undefined };
  const until = { local: ends, at: instantOf(ends, zone, 'end', 'until') };
  if (until.at < from.at) {
    throw new Refusal('weaned-before', 'It cannot be weaned before it was at foot.', {
      field: 'until',
      next: 'Check both dates.',
    });
  }
  return { zone, from, until };
}

/** Answers `at-foot`: the links a subject stands in, as lamb or as dam. */
export function atFoot(context: Context, { subject }: Asked<'at-foot'>): Reply<'at-foot'> {
  const tx = context.store.read;
  const rows = tx.all<FootRow>(
    `SELECT subject, id, dam, from_at, from_local, until_at, until_local FROM at_foot
     WHERE subject = ? OR dam = ? ORDER BY from_at, seq`,
    subject,
    subject,
  );
  return {
    links: rows.flatMap((row) => {
      const [lamb, dam] = [row.subject, row.dam].map((name) => subjectsOf(tx, [name])[0]);
      if (lamb === undefined || dam === undefined) return [];
      return [
        {
          foot: row.id,
          lamb: shownOf(lamb),
          dam: shownOf(dam),
          from: row.from_local,
          ...(row.until_at === OPEN || row.until_local === null ? {} : { until: row.until_local }),
        },
      ];
    }),
  };
}
