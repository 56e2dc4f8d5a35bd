import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountOf, baseOf, parseAmount } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { type Act, type Context, write } from '../context.ts';
import { holdingOf } from '../reading/holding.ts';
import { type SubjectRow, subjectsOf, weightOf } from '../reading/subjects.ts';
import { holdIfNeedleMissing } from '../sharps/lost.ts';
import { type Decided, decideAdministration, type Treatment } from './core.ts';
import { goingOn } from './courses.ts';
import { addDecided, knownFrom, type LineOfWork, replyOf, sessionLines } from './give.ts';
import { groupInSession } from './in-group.ts';
import { askOutside, checkInstructions, followedIn } from './mass-outside.ts';
import { besides, notIfReader } from './not-if-facts.ts';
import { inHandOf, openSessionOf, type Session, waitingIn } from './session.ts';
import { type Shelf, shelfOf } from './shelf.ts';

/** Answers `treat-many`: everyone who is planned and not excepted, in one transaction. */
export function treatMany(context: Context, asked: Asked<'treat-many'>): Reply<'treat-many'> {
  return write<'treat-many'>(context, asked, (act) => {
    const { tx } = act;
    const session = openSessionOf(tx, asked.session);
    const holding = holdingOf(tx, session.plan.holding);
    const happened = act.happened(holding);
    const lines = sessionLines(session, asked.lines);
    const excepted = new Set(asked.except.map((item) => item.subject));
    const all = waitingIn(tx, session);
    const waiting = all.filter((item) => !excepted.has(item.subject));
    const except = asked.except.filter((item) => all.some(({ subject }) => subject === item.subject));
    const rows = new Map(
      subjectsOf(
        tx,
        waiting.map((item) => item.subject),
      ).map((row) => [row.subject, row]),
    );
    const tallies = new Map(asked.tally.map((item) => [item.subject, item]));
    for (const { subject } of asked.tally) {
      if (rows.has(subject)) continue;
      throw new Refusal('tally-not-planned', 'A lot in the tally is not waiting in this session.', {
        field: 'tally',
      });
    }
    checkInstructions(asked.instructions, lines);
    const shelf = shelfOf(tx, undefined, inHandOf(session));
    const goOn = goingOn(tx);
    const notIf = notIfReader(
      tx,
      waiting.map((item) => item.subject),
    );
    const decided: Decided[] = [];
    for (const item of waiting) {
      const row = rows.get(item.subject);
      if (!row) continue;
      const gets = lines.filter((line) => {
        const at = session.plan.lines.findIndex((each) => each.line === line.line);
        return item.left.includes(at);
      });
      if (gets.length === 0) continue;
      const tally = tallies.get(item.subject);
      const subject = tally ? tallied(act, session, row, tally, happened) : { row, heads: row.heads };
      for (const line of gets) {
        const treatment: Treatment = {
          ...line,
          holding,
          subject: subject.row,
          heads: subject.heads,
          weight: weightOf(row),
          ...knownFrom(row),
          given: asked.given,
          site: asked.site,
          side: asked.side,
          needle: asked.needle,
          givenBy: asked.givenBy ?? asked.by,
          instruction: followedIn(asked.instructions, line),
          happened,
          session: session.id,
          together: besides(gets, line),
          course: goOn(subject.row.subject, line, happened.local),
          cameOutOf: row,
          // Nobody looks at each one: it got what its part got.
          group: groupInSession(session.plan, line.line, item, true),
        };
        decided.push(decideAdministration(tx, shelf, act.id(), treatment, notIf));
      }
    }
    if (decided.length === 0) {
      throw new Refusal('nobody-waiting', 'Nobody is waiting in this session.', {
        field: 'session',
        next: 'Close the session.',
      });
    }
    askAgain(act, decided);
    askOutside(act, decided);
    for (const each of decided) addDecided(act, each, happened);
    if (except.length > 0) {
      act.add(
        'session-excepted',
        {
          exception: act.id(),
          session: session.id,
          lines: lines.map(({ line }) => line ?? ''),
          excepted: except,
        },
        happened,
      );
    }
    holdIfNeedleMissing(
      act,
      session,
      decided.map(({ data }) => data),
      happened,
    );
    if (asked.lost) bookLoss(act, shelf, lines, asked.lost, happened);
    return { ...replyOf(decided, happened), heads: headsOf(decided) };
  });
}

/** Asks once about all who had the medicine that day already, so that nobody is dosed twice in the crowd unnoticed. */
function askAgain(act: Act, decided: readonly Decided[]): void {
  const [first, ...rest] = decided.flatMap(({ again }) => (again === undefined ? [] : [again]));
  if (first === undefined) return;
  const others = rest.length === 0 ? '' : ` It is so with ${rest.length} more.`;
  act.ask(first.code, `${first.text}${others} Leave out who was not.`, 'except');
}

function headsOf(decided: readonly Decided[]): number {
  const heads = new Map<string, number>();
  for (const { data } of decided) heads.set(data.subject, Math.max(heads.get(data.subject) ?? 0, data.heads));
  return [...heads.values()].reduce((sum, each) => sum + each, 0);
}

/** n of N in a lot: marked they become a lot of their own; unmarked nobody can tell them apart, so all N are held. */
function tallied(
  act: Act,
  session: Session,
  row: SubjectRow,
  tally: { heads: number; marked: boolean },
  happened: Happened,
): { row: SubjectRow; heads: number } {
  if (tally.heads > row.heads) {
    throw new Refusal(
      'more-heads-than-there-are',
      `${row.shown} has ${row.heads} heads, not ${tally.heads}.`,
      { field: 'tally' },
    );
  }
  if (!tally.marked || tally.heads === row.heads) return { row, heads: tally.heads };
  const { mark } = session.plan;
  if (!mark) {
    throw new Refusal('no-mark', 'The session has no mark, so the treated ones cannot be told apart.', {
      field: 'tally',
      next: 'Record them unmarked: then the whole lot is held.',
    });
  }
  const lot = act.id();
  const subject = `lot:${lot}`;
  const name = `${row.shown}, ${mark.colour} ${mark.place}`;
  act.add(
    'lot-set',
    {
      lot,
      holding: row.holding,
      name,
      class: row.class,
      heads: 0,
      milking: row.milking === 1,
      origin: 'own',
      ...(row.born === null ? {} : { born: row.born }),
    },
    happened,
  );
  act.add(
    'lot-moved',
    { from: row.subject.slice('lot:'.length), to: subject, heads: tally.heads, why: 'marked' },
    happened,
  );
  const lastsUntil = addDays(happened.local.slice(0, 10) as Day, mark.lastsDays);
  act.add(
    'marked',
    { subject, colour: mark.colour, place: mark.place, lastsUntil, session: session.id },
    happened,
  );
  const weight = weightOf(row);
  if (weight) act.add('weighed', { subject, weight: { ...weight }, how: 'eye' }, happened);
  return { row: { ...row, subject, shown: name, heads: tally.heads }, heads: tally.heads };
}

/** A gun is primed once a session, not once an animal: the loss is booked on the bottle it was drawn from. */
function bookLoss(
  act: Act,
  shelf: Shelf,
  lines: readonly LineOfWork[],
  lost: { amount: string; why: string },
  happened: Happened,
): void {
  const [only, second] = lines.filter((line) => line.source === 'ours');
  if (!only || second) {
    throw new Refusal('which-medicine-was-lost', 'Say for one medicine at a time what was lost.', {
      field: 'lost',
    });
  }
  const piece = shelf.first(only.medicine, happened)?.revision.terms.piece;
  const amount = parseAmount(lost.amount, 'lost.amount', { piece });
  for (const draw of shelf.take(only.medicine, baseOf(amount), happened).draws) {
    act.add(
      'stock-moved',
      {
        container: draw.container,
        cause: 'lost',
        amount: { ...amountOf(amount.kind, draw.take) },
        why: lost.why,
      },
      happened,
    );
  }
}
