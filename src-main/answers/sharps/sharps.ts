import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf } from '../reading/holding.ts';
import { sharpsOf } from '../reading/needles.ts';
import { openSessionOf } from '../treat/session.ts';
import { checkNoticed, noticedAt, writeLost } from './lost.ts';

/** Answers `count-sharps`: more handed out, or all of them counted. A missing one opens a report by itself. */
export function countSharps(context: Context, asked: Asked<'count-sharps'>): Reply<'count-sharps'> {
  return write<'count-sharps'>(context, asked, (act) => {
    const session = openSessionOf(act.tx, asked.session);
    const holding = holdingOf(act.tx, session.plan.holding);
    const noticed = noticedAt(act, holding);
    checkNoticed(noticed, session);
    const before = sharpsOf(act.tx, session, holding.zone, noticed.at);
    const out = (before.out ?? 0) + asked.more - before.reported;
    const { there } = asked;
    act.add(
      'sharps-counted',
      {
        count: act.id(),
        session: session.id,
        more: asked.more,
        ...optional('counted', there === undefined ? undefined : { out, there }),
        ...optional('note', asked.note),
      },
      noticed,
    );
    const missing = there === undefined ? 0 : Math.max(0, out - there);
    if (missing === 0) {
      const says = there === undefined ? `${out} should be there.` : sayAll(out, there);
      return { out, missing, held: [], says };
    }
    const { since } = before;
    const lost = writeLost(act, {
      needles: missing,
      found: 'not-found',
      noticed,
      note: asked.note,
      work: { session, since },
    });
    return { out, missing, ...lost, says: `${sayMissing(missing)} ${lost.says}` };
  });
}

function sayAll(out: number, there: number): string {
  return there === out
    ? `All ${out} are there.`
    : `${there} are there, ${there - out} more than were handed out: count again.`;
}

/** "1 needle is missing." */
export function sayMissing(missing: number): string {
  return `${missing} ${missing === 1 ? 'needle is' : 'needles are'} missing.`;
}
