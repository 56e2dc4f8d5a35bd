import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { GroupDose, InGroup } from '../../../src-shared/dose/group-part.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { sayOldWeight } from '../../../src-shared/flock/weight-age.ts';
import type { SiteId } from '../../../src-shared/needle/places.ts';
import { type Amount, baseOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import {
  parseWeight,
  printWeight,
  type Weight,
  weightQuestion,
} from '../../../src-shared/quantity/weight.ts';
import { attempt, type Outcome } from '../../../src-shared/refusal.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { dueForLine } from '../reading/equipment.ts';
import { predictedWeight } from '../reading/growth.ts';
import { type Holding, holdingOf } from '../reading/holding.ts';
import { organicWarning } from '../reading/organic.ts';
import { type SubjectRow, shownOf, subjectOfName, weightOf } from '../reading/subjects.ts';
import { dosedBy, lineFor } from './core.ts';
import { goingOn } from './courses.ts';
import { foreseenOf } from './foreseen.ts';
import { groupInSession, movedQuestion } from './in-group.ts';
import { followedIn } from './mass-outside.ts';
import { advised, whereOf } from './needle.ts';
import { besides, type NotIfReader, notIfReader } from './not-if-facts.ts';
import { checkNotBarred, toCheck } from './not-if-said.ts';
import { revisionForLine, type SessionLine } from './plan-line.ts';
import { shownDose, shownDraw } from './plan-shown.ts';
import { dayDeviation, dosedToday, lineOfRepeats, othersThatDay } from './same-day.ts';
import { doneIn, inHandOf, type Session, sessionOf } from './session.ts';
import { type Shelf, shelfOf } from './shelf.ts';
import { whenIn } from './when.ts';

/** What the doses of one session are worked out with. */
export type AtTheRace = {
  tx: Reader;
  shelf: Shelf;
  notIf: NotIfReader;
  session: Session;
  holding: Holding;
  when: Happened;
};

/** What one subject gets of one medicine of a session, by what the book knows now. */
export type LineDose = {
  of: ReturnType<typeof revisionForLine>;
  /** The dose, or why there is none: a "not if" row that applies, a limit of the label, a weight that is missing. */
  worked: Outcome<GroupDose['worked']>;
  /** The dose with its part and its own, where it could be worked out. */
  dosed?: ReturnType<typeof dosedBy> | undefined;
  /** The group it is dosed in, and the part whose dose it gets. */
  group?: InGroup | undefined;
  part?: GroupDose['part'];
  moved?: { code: string; text: string } | undefined;
  /** What must be looked at in the animal first. */
  checks: string[];
};

/** Works out one line of a session for one subject. A "not if" row that applies stops it, whenever it came to apply. */
export function doseOfLine(
  { tx, shelf, notIf, session, holding, when }: AtTheRace,
  line: SessionLine,
  row: SubjectRow,
  weight: Weight | undefined,
  weighedOn: string | null,
  /** Its line of the plan, where it is at hand. */
  planned?: Session['plan']['subjects'][number],
): LineDose {
  const of = revisionForLine(tx, shelf, line, when);
  const { terms } = of.revision;
  const findings = notIf.findings({
    row,
    terms,
    medicine: line.medicine,
    weight,
    weighedOn,
    when,
    together: besides(session.plan.lines, line),
  });
  const item = planned ?? session.plan.subjects.find(({ subject }) => subject === row.subject);
  const group = groupInSession(session.plan, line.line, item, false);
  const dosed = attempt(() => {
    checkNotBarred(findings);
    const doseLine = lineFor(terms, line.doseLine, row.class);
    const treatment = {
      holding,
      subject: row,
      heads: row.heads,
      medicine: line.medicine,
      source: line.source,
      reason: line.reason,
      weight,
      givenBy: '',
      happened: when,
      syringe: line.syringe,
      group,
    };
    return dosedBy(terms, doseLine, treatment, of.strength);
  });
  const checks = toCheck(findings);
  if (!dosed.ok) return { of, worked: dosed, checks };
  const { worked, part } = dosed.value;
  const moved = movedQuestion(row.shown, dosed.value, group, weight, terms.piece);
  return { of, worked: { ok: true, value: worked }, dosed: dosed.value, group, part, moved, checks };
}

/** Answers `dose-for`. */
export function doseFor(context: Context, asked: Asked<'dose-for'>): Reply<'dose-for'> {
  const tx = context.store.read;
  const session = sessionOf(tx, asked.session);
  const holding = holdingOf(tx, session.plan.holding);
  const row = subjectOfName(tx, asked.subject);
  const when = whenIn(context, holding);
  const last = weightOf(row);
  const weight =
    asked.weight === undefined ? last : parseWeight(asked.weight, 'weight', { unit: holding.weightUnit });
  const shelf = shelfOf(tx, undefined, inHandOf(session));
  const stops: Warning[] = [];
  const done = doneIn(tx, session.id).get(row.subject);
  if (done) stops.push({ code: 'already-treated', text: `${row.shown} was already treated in this session` });
  if (row.present !== 1) stops.push({ code: 'gone', text: `${row.shown} is no longer here by the book` });
  const question = asked.weight === undefined || !weight ? undefined : weightQuestion(weight, last);
  if (question) stops.push(question);
  const leftOut = session.plan.leftOut.find((item) => item.subject === row.subject);
  if (leftOut) stops.push({ code: 'left-out', text: `Left out when planned: ${leftOut.why.text}` });

  const race = { tx, shelf, notIf: notIfReader(tx, [row.subject]), session, holding, when };
  const weighedOn = asked.weight === undefined ? row.weighed_on : null;
  const today = when.local.slice(0, 10) as Day;
  const used: { site: SiteId; side: 'left' | 'right' }[] = [];
  const doses = session.plan.lines.map((line) => {
    const found = doseOfLine(race, line, row, weight, weighedOn);
    const { of, worked, checks } = found;
    if (found.moved !== undefined) stops.push(found.moved);
    const { terms } = of.revision;
    const units = worked.ok ? baseOf(worked.value.draw) * row.heads : 0;
    const plan = line.source === 'ours' ? shelf.plan(line.medicine, units, when).draws : [];
    const day = dayOf(race, line, row, found);
    if (day !== undefined && !done?.lines.has(line.line)) stops.push(dosedToday(row.shown, day.text));
    const foreseen = worked.ok
      ? foreseenOf(race, { ...line, instruction: followedIn(asked.instructions, line) }, row, of, plan, [
          ...(day === undefined ? [] : [day]),
        ])
      : undefined;
    const route = terms.doseLines.find((each) => each.id === line.doseLine)?.route ?? '';
    return {
      line: line.line,
      name: terms.name,
      route,
      dose: worked.ok
        ? withWarnings(shownDose(worked.value, terms.piece), [
            ...dueForLine(tx, line, route, today),
            ...losesOrganic(race, row, line, terms.purpose),
          ])
        : null,
      ...(worked.ok ? {} : { refused: { code: worked.error.code, text: worked.error.message } }),
      ...(checks.length === 0 ? {} : { checks }),
      ...optional('group', shownGroup(found, worked.ok ? printAmount(worked.value.draw, terms.piece) : '')),
      ...optional('foreseen', foreseen),
      draws: plan.map((draw) => shownDraw(draw, terms.piece)),
      ...optional(
        'where',
        worked.ok
          ? whereNow(race, line, row, found, worked.value.draw, weight, used, asked.fromDrawer)
          : undefined,
      ),
    };
  });
  return {
    who: {
      ...shownOf(row),
      ...optional(
        'predicted',
        asked.weight === undefined ? predictedWeight(tx, row.subject, today) : undefined,
      ),
      ...(weight ? { weight: printWeight(weight) } : {}),
      // The day belongs to the weight of the book, not to one that was typed just now.
      ...(weighedOn === null ? {} : { weighedOn }),
      ...(weighedOn === null || row.weighed_how === null ? {} : { weighedHow: row.weighed_how }),
    },
    doses,
    ...optional(
      'oldWeight',
      doses.some(({ dose }) => dose) ? sayOldWeight(row.class, weighedOn, today) : undefined,
    ),
    stops,
  };
}

/** Whether this dose is too much with what it had of the medicine today. */
function dayOf({ tx, when }: AtTheRace, line: SessionLine, row: SubjectRow, { of, dosed, group }: LineDose) {
  const { terms } = of.revision;
  const doseLine = terms.doseLines.find(({ id }) => id === line.doseLine);
  if (dosed === undefined || doseLine === undefined) return undefined;
  const { subject, heads } = row;
  const { medicine } = line;
  const dose = { administration: 'foreseen', subjects: [subject], heads, medicine, happened: when };
  return dayDeviation(othersThatDay(tx, dose, [], lineOfRepeats(terms, doseLine)), {
    terms,
    dose: dosed.worked.draw,
    dosed,
    group,
  });
}

/** A course that would end its organic status is said before the dose is given. */
function losesOrganic(
  { tx, when }: AtTheRace,
  row: SubjectRow,
  line: SessionLine,
  purpose: string,
): Warning[] {
  const goesOn = (subject: string) => goingOn(tx)(subject, line, when.local) !== undefined;
  const warning = organicWarning(tx, [row], { purpose, local: when.local, zone: when.zone, goesOn });
  return warning === undefined ? [] : [warning];
}

/** Where it goes; the next medicine of the same animal goes elsewhere. */
function whereNow(
  { tx, when }: AtTheRace,
  line: SessionLine,
  row: SubjectRow,
  { of }: LineDose,
  volume: Amount,
  weight: Weight | undefined,
  used: { site: SiteId; side: 'left' | 'right' }[],
  fromDrawer: boolean | undefined,
) {
  const { terms } = of.revision;
  const advice = advised(tx, {
    row,
    terms,
    line: lineFor(terms, line.doseLine, row.class),
    volume,
    weight,
    local: when.local,
    equipment: line.equipment,
    besides: used,
    fromDrawer,
  });
  if (advice.sites?.ok === true)
    used.push(...advice.sites.value.spots.map(({ place, side }) => ({ site: place.site, side })));
  return whereOf(advice);
}

function shownGroup({ group, part }: LineDose, dose: string) {
  if (group === undefined || part === undefined) return undefined;
  const to = printWeight(part.to);
  const says =
    group.of === 1
      ? `All are dosed to ${to}: ${dose}`
      : `Part ${part.n} of ${group.of}, dosed to ${to}: ${dose}`;
  return { part: part.n, of: group.of, to, says };
}

type ShownDose = ReturnType<typeof shownDose>;
const withWarnings = (dose: ShownDose, more: readonly Warning[]): ShownDose => ({
  ...dose,
  warnings: [...dose.warnings, ...more],
});
