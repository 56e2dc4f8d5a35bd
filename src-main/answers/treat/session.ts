import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { sayDoseLine } from '../../../src-shared/label/say.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { printWeight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import type { Reader, Store } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { dueForLine } from '../reading/equipment.ts';
import { possibleOf } from '../reading/possible-hold.ts';
import { revisionOf } from '../reading/revision.ts';
import { heldNothing, NO_WITHDRAWAL, untilText } from '../reading/say-hold.ts';
import { type SubjectRow, shownOf, subjectsOf, weightOf } from '../reading/subjects.ts';
import type { Administered } from './core.ts';
import { quantityText } from './core.ts';
import { doneIn, exceptedIn, headsRecorded, linesPlannedFor, plannedIn, waitingIn } from './done.ts';
import { groupInSessionShown } from './group-shown.ts';
import { revisionForLine } from './plan-line.ts';
import { lossReader } from './plan-losses.ts';
import { shownDraw } from './plan-shown.ts';
import { drawnWithLosses, shownLosses } from './plan-stock.ts';
import { type Shelf, shelfOf } from './shelf.ts';

export { doneIn, headsRecorded, waitingIn } from './done.ts';

export type Session = {
  id: string;
  name: string;
  mode: 'each' | 'mass';
  state: 'open' | 'closed';
  opened: string;
  at: string;
  planned: number;
  closed: string | null;
  closing: DataOf<'session-closed'> | undefined;
  plan: DataOf<'session-opened'>;
};

/** A session with its plan. Refuses (`no-such-session`). */
export function sessionOf(tx: Reader, id: string): Session {
  const row = tx.get<Omit<Session, 'plan' | 'closing'> & { data: string; closing: string | null }>(
    'SELECT id, name, mode, state, opened, at, planned, closed, data, closing FROM session WHERE id = ?',
    id,
  );
  if (!row) throw new Refusal('no-such-session', 'This session is not in the book.', { field: 'session' });
  const { data, closing, ...rest } = row;
  return { ...rest, plan: JSON.parse(data), closing: closing === null ? undefined : JSON.parse(closing) };
}

/** An open session. Refuses (`session-closed`). */
export function openSessionOf(tx: Reader, id: string): Session {
  const session = sessionOf(tx, id);
  if (session.state !== 'open') {
    throw new Refusal('session-closed', `The session ${session.name} is closed.`, {
      field: 'session',
      next: 'Record a late treatment without the session, or open a new one.',
    });
  }
  return session;
}

/** The bottles that were planned for it: they were taken to the race, so they go before what was opened since. */
export function inHandOf(session: Pick<Session, 'plan'>): string[] {
  return session.plan.lines.flatMap(({ containers }) => containers);
}

function sessionRow(tx: Reader, session: Session): Reply<'sessions'>['sessions'][number] {
  const possibly = possiblyIn(tx, session);
  return {
    session: session.id,
    name: session.name,
    mode: session.mode,
    state: session.state,
    opened: session.opened,
    planned: session.planned,
    treated: headsRecorded(tx, session.id),
    possibly: new Set(possibly.map(({ subject }) => subject)).size,
    possiblyOf: [...new Set(possibly.flatMap(({ of }) => of))],
    lines: session.plan.lines.map((line) => revisionOf(tx, line.revision).terms.name),
  };
}

/** Sessions, newest first. */
export function listSessions(tx: Reader, state: 'open' | 'closed' | 'all', limit: number): Reply<'sessions'> {
  const where = state === 'all' ? '' : 'WHERE state = ?';
  const params = state === 'all' ? [limit] : [state, limit];
  const ids = tx.all<{ id: string }>(
    `SELECT id FROM session ${where} ORDER BY at DESC, seq DESC LIMIT ?`,
    ...params,
  );
  return { sessions: ids.map(({ id }) => sessionRow(tx, sessionOf(tx, id))) };
}

/** How many of the last treatments stay in sight. */
const LAST = 50;

/** One session as the screen at the race shows it. */
export function showSession(store: Store, id: string, zone: string, today: Day): Reply<'session'> {
  const tx = store.read;
  const session = sessionOf(tx, id);
  const shelf = shelfOf(tx, undefined, inHandOf(session));
  const lossOf = lossReader(tx, 'this-work');
  const when = { local: session.opened, zone, at: session.at };
  const waiting = waitingIn(tx, session);
  const excepted = exceptedIn(tx, session.id);
  const rows = new Map(
    subjectsOf(
      tx,
      [...waiting, ...session.plan.leftOut].map((item) => item.subject),
    ).map((row) => [row.subject, row]),
  );
  const shown = (subject: string) => {
    const row = rows.get(subject);
    return row ? [shownOf(row)] : [];
  };
  return {
    session: sessionRow(tx, session),
    lines: session.plan.lines.map((line, i) => {
      const { terms } = revisionOf(tx, line.revision);
      const doseLine = terms.doseLines.find((each) => each.id === line.doseLine);
      // By what was planned: a powder made up on the farm is given in mL.
      const next = revisionForLine(tx, shelf, line, when);
      const kind = session.plan.subjects.find((item) => item.doses[i])?.doses[i]?.kind ?? next.kind;
      const doses = waiting.flatMap(({ doses: all, heads }) => {
        const dose = all[i];
        return dose ? [{ units: unitsOfDose(dose), heads }] : [];
      });
      const units = doses.reduce((sum, { units: each, heads }) => sum + each * heads, 0);
      const plan = drawPlan(shelf, line, next.kind === kind, units, when);
      const drawn = { ...line, route: doseLine?.route ?? '', kind };
      const lost =
        session.state === 'open' && line.source === 'ours' && next.kind === kind
          ? drawnWithLosses(shelf, lossOf, drawn, doses, when)
          : undefined;
      const amount = (of: number) => ({
        amount: amountData(kind, of),
        text: printAmount(amountOf(kind, of), terms.piece),
      });
      return {
        line: line.line,
        source: line.source,
        medicine: line.medicine,
        name: terms.name,
        doseLine: line.doseLine,
        says: doseLine ? sayDoseLine(terms, doseLine) : '',
        route: doseLine?.route ?? '',
        needs: amount(units),
        draws: plan.draws.map((draw) => shownDraw(draw, terms.piece)),
        ...(plan.short > 0 ? { short: amount(plan.short) } : {}),
        ...optional('withLosses', lost && shownLosses(lost, units, kind, terms.piece)),
        warnings: session.state === 'open' ? dueForLine(tx, line, doseLine?.route, today) : [],
        ...(line.syringe ? { syringe: line.syringe } : {}),
        ...(line.equipment === undefined ? {} : { equipment: line.equipment }),
        ...(line.instruction === undefined ? {} : { instruction: line.instruction }),
        ...optional('grouping', groupInSessionShown(line.grouping, i, waiting, rows, terms.piece)),
      };
    }),
    ...(session.plan.sharpsOut === undefined ? {} : { sharpsOut: session.plan.sharpsOut }),
    ...(session.closing === undefined ? {} : { closing: closingOf(session, session.closing) }),
    ...(session.plan.mark ? { mark: session.plan.mark } : {}),
    waiting: waiting.flatMap((item) =>
      shown(item.subject).map((who) => ({
        ...who,
        ...weighedOf(rows.get(item.subject)),
        ...partsOf(item),
        left: item.left.map((i) => session.plan.lines[i]?.line ?? ''),
        isPartly: item.isPartly,
        ...optional('leftOut', sayExcepted(excepted.get(item.subject), item.left, session)),
      })),
    ),
    inPart: lotsInPart(tx, session),
    leftOut: session.plan.leftOut.flatMap(({ subject, why }) =>
      shown(subject).map((who) => ({ ...who, why })),
    ),
    last: lastTreated(store, id, zone),
    possibly: possiblyIn(tx, session),
  };
}

/** How heavy it is by the book, and how that is known. */
function weighedOf(row: SubjectRow | undefined) {
  const weight = row && weightOf(row);
  if (row === undefined || weight === undefined) return {};
  return {
    weight: printWeight(weight),
    ...(row.weighed_on === null ? {} : { weighedOn: row.weighed_on }),
    ...(row.weighed_how === null ? {} : { weighedHow: row.weighed_how }),
  };
}

function partsOf({ parts }: Session['plan']['subjects'][number]) {
  return parts === undefined ? {} : { parts: parts.map((part) => (part === null ? null : part + 1)) };
}

/** What is still to be drawn. When the bottle in turn is measured otherwise than what was planned, all of it is short. */
function drawPlan(
  shelf: Shelf,
  line: Pick<Session['plan']['lines'][number], 'source' | 'medicine'>,
  isSameKind: boolean,
  units: number,
  when: Happened,
): ReturnType<Shelf['plan']> {
  if (line.source !== 'ours') return { draws: [], short: 0 };
  return isSameKind ? shelf.plan(line.medicine, units, when) : { draws: [], short: units };
}

function closingOf(session: Session, closing: DataOf<'session-closed'>): Reply<'session'>['closing'] {
  const { headsThrough, sharpsBack, note } = closing;
  return {
    local: session.closed ?? session.opened,
    headsThrough,
    ...(sharpsBack === undefined ? {} : { sharpsBack }),
    ...(note === undefined ? {} : { note }),
  };
}

function unitsOfDose(dose: NonNullable<Session['plan']['subjects'][number]['doses'][number]>): number {
  return dose.kind === 'volume' ? dose.microlitres : dose.kind === 'mass' ? dose.micrograms : dose.pieces;
}

function lastTreated(store: Store, session: string, zone: string): Reply<'session'>['last'] {
  const tx = store.read;
  const rows = tx.all<{ seq: number; data: string }>(
    `SELECT administration.seq, data FROM session_done JOIN administration ON administration.id = session_done.administration
     WHERE session_done.subject = ? ORDER BY session_done.seq DESC LIMIT ?`,
    `session:${session}`,
    LAST,
  );
  const data = rows.map((row) => JSON.parse(row.data) as Administered);
  const subjects = new Map(
    subjectsOf(
      tx,
      data.map((each) => each.subject),
    ).map((row) => [row.subject, row]),
  );
  return data.flatMap((each, i) => {
    const row = subjects.get(each.subject);
    const entry = store.entry(rows[i]?.seq ?? 0);
    if (!row || !entry) return [];
    const meat = each.holds.find((hold) => hold.produce === 'meat' && hold.market === 'domestic');
    return [
      {
        ...shownOf(row),
        heads: each.heads,
        administration: each.administration,
        entry: { request: entry.request, n: entry.n },
        local: entry.happened.local,
        product: each.product,
        quantity: quantityText(each, revisionOf(tx, firstRevision(each)).terms.piece),
        until: meat ? untilOf(meat, entry.happened.at, zone) : '',
      },
    ];
  });
}

function untilOf(hold: Administered['holds'][number], from: string, zone: string): string {
  const row = {
    state: hold.state,
    until: hold.until ?? null,
    event: hold.event ?? null,
    period: hold.period ?? null,
    from_at: from,
  };
  return heldNothing(row) ? NO_WITHDRAWAL : untilText(row, zone);
}

/** The revision an administration was drawn under; with several bottles, the first one's. */
export function firstRevision(data: Administered): string {
  return data.source.kind === 'ours' ? (data.source.draws[0]?.revision ?? '') : data.source.revision;
}

function possiblyIn(tx: Reader, session: Session): Reply<'session'>['possibly'] {
  const unread = session.closing?.unread ?? [];
  if (unread.length === 0) return [];
  const rows = tx.all<{ subject: string; source: string; possible: string | null }>(
    `SELECT subject, source, possible FROM hold WHERE cause = 'possibly-treated' AND state <> 'none'
     AND produce = 'meat' AND market = 'domestic' AND clock = 'food' AND possible ->> '$.session' = ?
     AND subject IN (SELECT value FROM json_each(?))`,
    session.id,
    JSON.stringify(unread),
  );
  const shown = new Map(subjectsOf(tx, unread).map((row) => [row.subject, row]));
  const found = rows.flatMap((row) => {
    const who = shown.get(row.subject);
    if (who === undefined) return [];
    const { products } = possibleOf(row);
    const of =
      products ?? linesPlannedFor(tx, session, row.subject).map(({ revision }) => nameIn(tx, revision));
    return [
      {
        ...shownOf(who),
        hold: row.source.slice('hold:'.length),
        of,
        why: `No record of ${listed(of)} in ${session.name}`,
      },
    ];
  });
  return found.toSorted((a, b) => a.shown.localeCompare(b.shown, 'en', { numeric: true }));
}

const nameIn = (tx: Reader, revision: string) => revisionOf(tx, revision).terms.name;

/** Lots of which only some heads are recorded, with those that are not, and the medicines that were planned. */
function lotsInPart(tx: Reader, session: Session): Reply<'session'>['inPart'] {
  const done = doneIn(tx, session.id);
  const items = plannedIn(tx, session).filter(({ subject }) => done.has(subject));
  const rows = subjectsOf(
    tx,
    items.map(({ subject }) => subject),
  );
  const heads = new Map(items.map((item) => [item.subject, item.heads]));
  return rows.flatMap((row) => {
    const left =
      Math.min(row.heads, heads.get(row.subject) ?? 0) - (done.get(row.subject)?.heads ?? row.heads);
    if (left <= 0) return [];
    const of = linesPlannedFor(tx, session, row.subject).map(({ revision }) => nameIn(tx, revision));
    return [{ ...shownOf(row), heads: left, of }];
  });
}

/** Why one was left out of an earlier run, where that speaks of all it still waits for. */
function sayExcepted(
  excepted: ReadonlyMap<string, string> | undefined,
  left: readonly number[],
  { plan }: Session,
): string | undefined {
  const whys = left.map((i) => excepted?.get(plan.lines[i]?.line ?? ''));
  return whys.every((why) => why !== undefined) ? [...new Set(whys)].join('; ') : undefined;
}
