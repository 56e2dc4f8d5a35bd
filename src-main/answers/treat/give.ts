import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { type HoldDecision, unitsOf } from '../../../src-shared/entries/parts.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { type Amount, addAmounts, amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { parseWeight, type Weight, weightQuestion } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { laterLocal } from '../../../src-shared/time/local.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Context, write } from '../context.ts';
import { withEquipment } from '../reading/equipment.ts';
import { type Holding, holdingOf, recordOf } from '../reading/holding.ts';
import type { HoldRow } from '../reading/holds.ts';
import { sayHold } from '../reading/say-hold.ts';
import { type SubjectRow, subjectOfName, weightOf } from '../reading/subjects.ts';
import { holdIfNeedleMissing } from '../sharps/lost.ts';
import { type Administered, type Decided, decideAdministration, type Treatment } from './core.ts';
import { goingOn, nextOf } from './courses.ts';
import { groupInSession } from './in-group.ts';
import { besides, notIfReader } from './not-if-facts.ts';
import { shownDraw } from './plan-shown.ts';
import { isSince, linesOfHold, notRecorded } from './possible.ts';
import { doneIn, inHandOf, openSessionOf, type Session } from './session.ts';
import { shelfOf } from './shelf.ts';

type Given = Reply<'treat'>;

/** A decision in the shape a stored hold has, so that it can be said in the same words. */
export function asHoldRow(
  hold: HoldDecision,
  data: Pick<Administered, 'subject' | 'administration' | 'product'>,
  at: string,
): HoldRow {
  return {
    subject: data.subject,
    on_subject: data.subject,
    source: `administration:${data.administration}`,
    cause: 'treatment',
    produce: hold.produce,
    market: hold.market,
    clock: hold.clock,
    state: hold.state,
    until: hold.until ?? null,
    event: hold.event ?? null,
    period: hold.period ?? null,
    from_at: at,
    data: JSON.stringify(hold),
    product: data.product,
  };
}

/** Writes one decided administration: bottles it broached first, then the dose. */
export function addDecided(act: Act, decided: Decided, happened: Happened): void {
  for (const opened of decided.opens) act.add('container-opened', opened.data, opened.happened);
  act.add('administered', decided.data, happened);
}

export function replyOf(decided: readonly Decided[], happened: Happened): Given {
  const [first] = decided;
  if (!first) throw new Refusal('nothing-given', 'There is nothing to record.');
  return {
    administrations: decided.map((each) => each.data.administration),
    ...(first.data.course === undefined ? {} : { course: first.data.course.course }),
    quantity: togetherText(decided),
    holds: decided.flatMap((each) =>
      each.data.holds.map((hold) => sayHold(asHoldRow(hold, each.data, happened.at), happened.zone)),
    ),
    draws: decided.flatMap((each) => each.draws.map((draw) => shownDraw(draw, each.terms.piece))),
    deviations: decided.flatMap((each) => each.data.deviations),
    working: decided.flatMap((each) => printWorking(each.data.working)),
  };
}

/** What was given in all, of each medicine by its name where there were several. */
function togetherText(decided: readonly Decided[]): string {
  const sums = new Map<string, { product: string; total: Amount; piece: string | undefined }>();
  for (const { data, terms } of decided) {
    const total = amountOf(data.total.kind, unitsOf(data.total));
    const key = `${data.medicine} ${data.product} ${total.kind}`;
    const sum = sums.get(key);
    sums.set(key, {
      product: data.product,
      total: sum === undefined ? total : addAmounts(sum.total, total),
      piece: terms.piece,
    });
  }
  const each = [...sums.values()];
  return listed(
    each.map(({ product, total, piece }) => {
      const text = printAmount(total, piece);
      return each.length === 1 ? text : `${text} of ${product}`;
    }),
  );
}

export type LineOfWork = Pick<
  Treatment,
  | 'medicine'
  | 'doseLine'
  | 'source'
  | 'reason'
  | 'syringe'
  | 'equipment'
  | 'batch'
  | 'instruction'
  | 'prescription'
  | 'revision'
  | 'line'
>;

function linesOf(tx: Reader, asked: Asked<'treat'>, session: Session | undefined): LineOfWork[] {
  if (session) return sessionLines(session, asked.lines);
  if (!asked.single) {
    throw new Refusal('what-was-given', 'Say which medicine was given.', { field: 'single' });
  }
  const single = withEquipment(tx, asked.single, 'single.equipment');
  const { medicine, doseLine, source, reason, syringe, equipment, batch, instruction, prescription } = single;
  return [{ medicine, doseLine, source, reason, syringe, equipment, batch, instruction, prescription }];
}

export function sessionLines(session: Session, named: readonly string[] | undefined): LineOfWork[] {
  const lines = session.plan.lines.filter((line) => named === undefined || named.includes(line.line));
  if (lines.length === 0)
    throw new Refusal('no-such-line', 'The session has no such medicine.', { field: 'lines' });
  return lines.map((line) => ({
    line: line.line,
    medicine: line.medicine,
    doseLine: line.doseLine,
    source: line.source,
    reason: line.reason,
    revision: line.source === 'ours' ? undefined : line.revision,
    syringe: line.syringe,
    equipment: line.equipment,
    batch: line.batch,
    instruction: line.instruction,
    prescription: line.prescription,
  }));
}

/** How and when the weight is known that the book has. */
export function knownFrom(row: SubjectRow): Pick<Treatment, 'weightHow' | 'weightOn'> {
  return { weightHow: row.weighed_how ?? undefined, weightOn: row.weighed_on ?? undefined };
}

/** The weight that was typed, asked about when it cannot be right, or the one the book has. */
function weightFor(act: Act, asked: Asked<'treat'>, row: SubjectRow, holding: Holding): Weight | undefined {
  const last = weightOf(row);
  if (asked.weight === undefined) return last;
  const weight = parseWeight(asked.weight, 'weight', { unit: holding.weightUnit });
  const question = weightQuestion(weight, last);
  if (question) act.ask(question.code, question.text, 'weight');
  return weight;
}

/** Answers `treat`: one subject, one or more medicines, as it happened. */
export function treat(context: Context, asked: Asked<'treat'>): Given {
  return write<'treat'>(context, asked, (act) => {
    const { tx } = act;
    const session = asked.session === undefined ? undefined : openSessionOf(tx, asked.session);
    const row = subjectOfName(tx, asked.subject);
    const holding = holdingOf(tx, session?.plan.holding ?? row.holding);
    const happened = act.happened(holding);
    const heads = asked.heads ?? row.heads;
    if (heads > row.heads) {
      throw new Refusal('more-heads-than-there-are', `${row.shown} has ${row.heads} heads, not ${heads}.`, {
        field: 'heads',
      });
    }
    if (row.present !== 1)
      act.ask('gone', `${row.shown} is no longer here by the book. Was it this animal?`, 'subject');
    const lines = linesOf(tx, asked, session);
    if (asked.course !== undefined && lines.length > 1) {
      throw new Refusal('course-of-one', 'A course is of one medicine: record the medicines one at a time.', {
        field: 'course',
      });
    }
    const isAgain = session !== undefined && alreadyTreated(act, session, row, lines);
    const weight = weightFor(act, asked, row, holding);
    if (asked.weight !== undefined && weight) {
      act.add('weighed', { subject: row.subject, weight: { ...weight }, how: asked.weightHow }, happened);
    }
    const item = session?.plan.subjects.find((each) => each.subject === row.subject);
    const shelf = shelfOf(tx, undefined, session && inHandOf(session));
    const notIf = notIfReader(tx, [row.subject]);
    const goOn = goingOn(tx);
    const decided = lines.map((line) => {
      const id = act.id();
      const course =
        courseFor(act, asked, row.subject, happened) ??
        (session ? goOn(row.subject, line, happened.local) : undefined);
      const treatment: Treatment = {
        ...line,
        holding,
        subject: row,
        heads,
        weight,
        ...(asked.weight === undefined ? knownFrom(row) : { weightHow: asked.weightHow }),
        given: asked.given,
        route: asked.route,
        instruction: asked.instruction ?? line.instruction,
        containers: asked.containers,
        givenBy: asked.givenBy ?? asked.by,
        happened,
        session: session?.id,
        site: asked.site,
        side: asked.side,
        needle: asked.needle,
        lost: asked.lost,
        leaked: asked.leaked,
        course,
        together: besides(lines, line),
        group: session && groupInSession(session.plan, line.line, item, false),
      };
      const one = decideAdministration(tx, shelf, id, treatment, notIf);
      if (one.moved !== undefined) act.ask(one.moved.code, one.moved.text, 'weight');
      if (one.again !== undefined && !isAgain) act.ask(one.again.code, one.again.text, 'subject');
      return one;
    });
    for (const each of decided) {
      beginCourse(act, asked, each.data, happened);
      addDecided(act, each, happened);
    }
    if (session) {
      endPossibly(act, session, decided, happened);
      holdIfNeedleMissing(
        act,
        session,
        decided.map(({ data }) => data),
        happened,
      );
    }
    return replyOf(decided, happened);
  });
}

/** Asks about a second record in one session; whether it had to. */
function alreadyTreated(act: Act, session: Session, row: SubjectRow, lines: readonly LineOfWork[]): boolean {
  const done = doneIn(act.tx, session.id).get(row.subject);
  if (!done || !lines.some((line) => done.lines.has(line.line ?? ''))) return false;
  act.ask(
    'already-treated',
    `${row.shown} was already treated in this session. Was it treated twice?`,
    'subject',
  );
  return true;
}

/**
 * An animal held as possibly treated in this very session, opened again, is held by its record once all that was planned
 * for it is recorded. What it may have been given in another session nobody has answered by that.
 */
function endPossibly(act: Act, session: Session, decided: readonly Decided[], happened: Happened): void {
  if (!isSince(session, happened)) return;
  const [subject, ...medicines] = [
    decided[0]?.data.subject ?? '',
    ...decided.map(({ data }) => data.medicine),
  ];
  const rows = act.tx.all<{ source: string; possible: string }>(
    `SELECT DISTINCT source, possible FROM hold WHERE subject = ? AND cause = 'possibly-treated'
     AND state <> 'none' AND possible ->> '$.session' = ?`,
    subject,
    session.id,
  );
  for (const row of rows) {
    const lines = linesOfHold(act.tx, session, subject, row);
    const missing = notRecorded(act.tx, session, subject, lines);
    if (missing.some((medicine) => !medicines.includes(medicine))) continue;
    act.add(
      'hold-ended',
      {
        hold: row.source.slice('hold:'.length),
        subject,
        how: 'recorded-late',
        why: `Recorded in ${session.name}`,
      },
      { ...happened, at: act.now },
    );
  }
}

/** A course that begins with this dose, under the dose line that was decided. */
function beginCourse(act: Act, asked: Asked<'treat'>, data: Administered, happened: Happened): void {
  if (asked.course === undefined || !('planned' in asked.course) || data.course === undefined) return;
  const { subject, medicine, doseLine } = data;
  const planned = asked.course.planned.toSorted();
  act.add(
    'course-set',
    { course: data.course.course, subject, medicine, doseLine, planned, state: 'open' },
    happened,
  );
}

function courseFor(
  act: Act,
  asked: Asked<'treat'>,
  subject: string,
  happened: Happened,
): Administered['course'] {
  if (asked.course === undefined) return undefined;
  if ('planned' in asked.course) {
    const planned = asked.course.planned.toSorted();
    return {
      course: act.id(),
      n: 1,
      of: planned.length,
      plannedLast: laterLocal(planned.at(-1) ?? happened.local, happened.local),
    };
  }
  const { course } = asked.course;
  const record = recordOf<DataOf<'course-set'>>(act.tx, 'course', course);
  if (!record || record.subject !== subject) {
    throw new Refusal('no-such-course', 'This animal has no such course.', { field: 'course' });
  }
  if (record.state !== 'open') {
    throw new Refusal('course-closed', 'This course is closed.', {
      field: 'course',
      next: 'Start a new course.',
    });
  }
  return nextOf(act.tx, record, happened.local);
}
