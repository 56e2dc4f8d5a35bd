import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { kitCalls } from '../../../src-shared/calls/kit.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Instant, localOf } from '../../../src-shared/time/zone.ts';
import type { Reader, Store } from '../../store/store.ts';
import { type Answers, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { type Holding, holdingOf, personName } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { sharpsOf } from '../reading/needles.ts';
import { planSession } from '../treat/plan.ts';
import { revisionForLine } from '../treat/plan-line.ts';
import { inHandOf, openSessionOf, type Session, sessionOf, waitingIn } from '../treat/session.ts';
import { shelfOf } from '../treat/shelf.ts';
import { whenIn } from '../treat/when.ts';
import { type Kit, kitOf, type Work } from './kit.ts';

type Shown = Reply<'session-kit'>;

/** The work of an open session, for those who wait. */
function workOf(tx: Reader, session: Session, holding: Holding, context: Context): Work {
  const shelf = shelfOf(tx, undefined, inHandOf(session));
  const when = whenIn(context, holding);
  const subjects = waitingIn(tx, session);
  return {
    holding: holding.holding,
    local: when.local,
    lines: session.plan.lines,
    bottles: session.plan.lines.map((line, i) => {
      if (line.source !== 'ours') return 1;
      const { kind } = revisionForLine(tx, shelf, line, when);
      const units = subjects.reduce((sum, { doses, heads }) => {
        const dose = doses[i];
        if (!dose || dose.kind !== kind) return sum;
        return (
          sum +
          heads *
            (dose.kind === 'volume' ? dose.microlitres : dose.kind === 'mass' ? dose.micrograms : dose.pieces)
        );
      }, 0);
      return Math.max(1, shelf.plan(line.medicine, units, when).draws.length);
    }),
    subjects,
    mark: session.plan.mark,
  };
}

function planned(context: Context, asked: NonNullable<Asked<'session-kit'>['plan']>): Work {
  const tx = context.store.read;
  const when = whenIn(context, holdingOf(tx, asked.holding), asked.on);
  const plan = planSession(tx, shelfOf(tx), asked, when, '');
  return {
    holding: asked.holding,
    local: when.local,
    lines: plan.lines,
    bottles: plan.reply.lines.map(({ draws, withLosses }) => (withLosses?.draws ?? draws).length),
    subjects: plan.subjects,
  };
}

type Ticked = { data: DataOf<'session-checked'>; seq: number; at: string };

/** The checks as last ticked. */
function tickedIn(tx: Reader, session: string): Ticked | undefined {
  const row = tx.get<{ data: string; seq: number; at: string }>(
    "SELECT data, seq, at FROM record WHERE what = 'session-check' AND id = ?",
    session,
  );
  return row && { ...row, data: JSON.parse(row.data) as DataOf<'session-checked'> };
}

function shown(store: Store, kit: Kit, ticked: Ticked | undefined, zone: string): Shown {
  const { checks, ...rest } = kit;
  return {
    ...rest,
    checks: checks.map(({ id, says, why }) => ({
      id,
      says,
      ticked: ticked?.data.ticked.includes(id) === true,
      ...optional('why', why),
    })),
    ...(ticked === undefined
      ? {}
      : {
          checked: {
            by: personName(store.read, store.entry(ticked.seq)?.by ?? ''),
            local: printLocal(localOf(ticked.at as Instant, zone)),
          },
        }),
  };
}

/** The kit of an open session with the checks as they are ticked. */
export function shownKit(context: Context, session: Session, holding: Holding): Shown {
  const { store } = context;
  const tx = store.read;
  const kit = kitOf(tx, workOf(tx, session, holding, context));
  return shown(store, kit, tickedIn(tx, session.id), holding.zone);
}

function sessionKit(context: Context, asked: Asked<'session-kit'>): Shown {
  const { store } = context;
  const tx = store.read;
  if (asked.session !== undefined) {
    const session = sessionOf(tx, asked.session);
    const holding = holdingOf(tx, session.plan.holding);
    const { out, reported, since } = sharpsOf(tx, session, holding.zone);
    return {
      ...shownKit(context, session, holding),
      sharps: { missing: reported, since: printLocal(since.local), ...optional('out', out) },
    };
  }
  if (asked.plan === undefined) {
    throw new Refusal('which-work', 'Say for which session or plan.', { field: 'session' });
  }
  const { zone } = holdingOf(tx, asked.plan.holding);
  return shown(store, kitOf(tx, planned(context, asked.plan)), undefined, zone);
}

function checkSession(context: Context, asked: Asked<'check-session'>): Reply<'check-session'> {
  return write<'check-session'>(context, asked, (act) => {
    const session = openSessionOf(act.tx, asked.session);
    const holding = holdingOf(act.tx, session.plan.holding);
    const { checks } = kitOf(act.tx, workOf(act.tx, session, holding, context));
    const ids: readonly string[] = checks.map(({ id }) => id);
    if (asked.ticked.some((id) => !ids.includes(id))) {
      throw new Refusal('no-such-check', 'This work has no such check.', { field: 'ticked' });
    }
    const open = ids.filter((id) => !asked.ticked.includes(id));
    act.add('session-checked', { session: session.id, ticked: asked.ticked, open });
    return { open };
  });
}

/** What goes with the work besides the medicine, and the checks before it. */
export const kitAnswers: Answers<keyof typeof kitCalls> = {
  'session-kit': sessionKit,
  'check-session': checkSession,
};
