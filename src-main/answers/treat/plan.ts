import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { sayOldWeights } from '../../../src-shared/flock/weight-age.ts';
import type { NotIfFinding } from '../../../src-shared/label/not-if.ts';
import { baseOf } from '../../../src-shared/quantity/amount.ts';
import type { Fraction } from '../../../src-shared/quantity/fraction.ts';
import { parseWeight, printWeight, type Weight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { DoseCount } from '../../../src-shared/stock/fillings.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import { severalAtOnce } from '../../../src-shared/withdrawal/off-label-laws.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { hasCertificates } from '../reading/certificates.ts';
import { dueForLine, weighersDue, withEquipment } from '../reading/equipment.ts';
import { type Holding, holdingOf } from '../reading/holding.ts';
import { organicWarning } from '../reading/organic.ts';
import { membersOf, type SubjectRow, shownOf, subjectsOf, weightOf } from '../reading/subjects.ts';
import { dosedBy, lineFor, type Treatment } from './core.ts';
import { goingOn } from './courses.ts';
import type { Grouped } from './grouping.ts';
import { inGroup } from './in-group.ts';
import { besides, notIfReader } from './not-if-facts.ts';
import { barring, checksOfAll } from './not-if-said.ts';
import { courseDays } from './plan-course.ts';
import {
  besideLine,
  groupOf,
  type PlanAsk,
  revisionForLine,
  type SessionLine,
  type WorkLine,
  withDoseLine,
} from './plan-line.ts';
import { lossReader } from './plan-losses.ts';
import { shownDose, shownLine } from './plan-shown.ts';
import { lineStock } from './plan-stock.ts';
import type { Shelf } from './shelf.ts';
import { ownSyringes } from './syringe-choice.ts';
import { vaccineTurns } from './vaccine-turn.ts';

type PlanReply = Reply<'plan-session'>;

export type Planned = {
  reply: PlanReply;
  /** As the session entry keeps it. */
  lines: SessionLine[];
  subjects: DataOf<'session-opened'>['subjects'];
  leftOut: DataOf<'session-opened'>['leftOut'];
};

/**
 * Plans a session: strict. Whoever must not be dosed is left out by name with the reason; a label that is still a
 * draft plans nothing.
 */
export function planSession(
  tx: Reader,
  shelf: Shelf,
  asked: PlanAsk,
  when: Happened,
  by: string,
  /** What the only subject weighs now, as typed; the book's weight when absent. */
  typedWeight?: string,
  /** The days of every dose of the course that begins, where a person planned them. */
  saidDays?: readonly string[],
): Planned {
  const holding = holdingOf(tx, asked.holding);
  const subjects = chosen(tx, asked);
  const weighed =
    typedWeight === undefined || subjects.length !== 1
      ? undefined
      : parseWeight(typedWeight, 'weight', { unit: holding.weightUnit });
  const lines = asked.lines.map((line, i) => {
    const of = revisionForLine(tx, shelf, line, when);
    const fitting = withDoseLine(line, of.revision.terms, subjects);
    return { asked: withEquipment(tx, fitting, `lines.${i}.equipment`), ...of };
  });
  for (const { revision } of lines) {
    if (revision.state === 'draft') {
      throw new Refusal('label-draft', `The label of ${revision.terms.name} is still a draft.`, {
        field: 'lines',
        next: 'Have its rate, strength and meat period typed a second time under Cabinet.',
      });
    }
  }

  const rows: PlanReply['rows'] = [];
  const leftOut: PlanReply['leftOut'] = [];
  const kept: Planned['subjects'] = [];
  const counted = lines.map(() => ({ doses: [] as DoseCount[], later: new Map<string, DoseCount[]>() }));
  const days = courseDays(tx, when, saidDays);
  const checks = lines.map((): NotIfFinding[][] => []);
  const exacts = lines.map((): Fraction[] => []);
  const together = asked.lines.map((line) => besides(asked.lines, line));
  const notIf = notIfReader(
    tx,
    subjects.map((row) => row.subject),
  );
  const everyone = subjects.map((row) => {
    const weight = weighed ?? weightOf(row);
    const findings = lines.map((line, i) =>
      notIf.findings({
        row,
        terms: line.revision.terms,
        medicine: line.asked.medicine,
        weight,
        weighedOn: weighed ? null : row.weighed_on,
        when,
        together: together[i],
      }),
    );
    return { row, weight, findings, bars: findings.map((found) => barring(found)) };
  });
  const groups = lines.map((line, i) => {
    const may = everyone.filter(({ row, bars }) => row.present === 1 && bars[i] === undefined);
    return groupOf(line, i, may, when, holding);
  });

  const turns = vaccineTurns(tx, lines, when);
  for (const { row, weight, findings, bars } of everyone) {
    const toWeigh: number[] = [];
    const turn = lines.map((line) => turns.of(row, line));
    const doses = lines.map((line, i) => {
      const said = lines.length > 1 ? `${line.revision.terms.name}: ` : '';
      const leave = (code: string, text: string): null => {
        leftOut.push({ ...shownOf(row), why: { code, text: `${said}${text}` } });
        return null;
      };
      if (row.present !== 1) return leave('gone', 'it is no longer here');
      if (bars[i] !== undefined) return leave('not-if', bars[i]);
      const early = turn[i]?.tooEarly;
      if (early !== undefined) return leave('too-early', early);
      const out = groups[i]?.leftOut.get(row.subject);
      if (out !== undefined) return leave(out.code, out.text);
      try {
        return planned(line, row, weight, when, by, holding, groups[i]);
      } catch (thrown) {
        if (!(thrown instanceof Refusal)) throw thrown;
        // Animal by animal there is a weigher at the race: it is planned, and dosed once it is weighed.
        if (thrown.code === 'weight-missing' && asked.mode === 'each' && row.subject.startsWith('animal:')) {
          toWeigh.push(i);
          return null;
        }
        return leave(thrown.code, thrown.message);
      }
    });
    if (doses.every((dose) => dose === null) && toWeigh.length === 0) continue;
    findings.forEach((found, i) => {
      if (doses[i] || toWeigh.includes(i)) checks[i]?.push(found);
    });
    doses.forEach((dose, i) => {
      if (!dose) return;
      const count = { units: baseOf(dose.worked.draw), heads: row.heads };
      const { doses: all, later } = counted[i] ?? { doses: [], later: new Map<string, DoseCount[]>() };
      all.push(count);
      const medicine = lines[i]?.asked.medicine ?? '';
      for (const local of days.after(row.subject, medicine, dose.doseLine, turn[i]?.n)) {
        const on = later.get(local);
        if (on) on.push(count);
        else later.set(local, [count]);
      }
      exacts[i]?.push(dose.worked.exact);
    });
    const parts = doses.map((dose) => dose?.part ?? null);
    const isGrouped = parts.some((part) => part !== null);
    rows.push({
      ...shownOf(row),
      ...(weight ? { weight: printWeight(weight) } : {}),
      ...(row.weighed_on && !weighed ? { weighedOn: row.weighed_on } : {}),
      ...(row.weighed_how && !weighed ? { weighedHow: row.weighed_how } : {}),
      doses: doses.map((dose, i) => (dose ? shownDose(dose.worked, lines[i]?.revision.terms.piece) : null)),
      ...(isGrouped ? { parts } : {}),
      ...(turns.hasVaccine ? { turns: turn.map((one) => one?.says ?? null) } : {}),
      toWeigh: toWeigh.length > 0,
    });
    kept.push({
      subject: row.subject,
      heads: row.heads,
      doses: doses.map((dose) => (dose ? amountData(dose.worked.draw.kind, baseOf(dose.worked.draw)) : null)),
      ...(toWeigh.length > 0 ? { toWeigh } : {}),
      ...(isGrouped ? { parts: parts.map((part) => (part === null ? null : part - 1)) } : {}),
    });
  }

  const today = when.local.slice(0, 10) as Day;
  const own = ownSyringes(tx);
  const lossOf = lossReader(tx, 'this-work');
  const planLines = lines.map((line, i) => {
    const work = counted[i] ?? { doses: [], later: new Map() };
    const needs = work.doses.reduce((sum, { units, heads }) => sum + units * heads, 0);
    const shown = shownLine(shelf, line.asked, line, needs, when, checksOfAll(checks[i] ?? []));
    const more = besideLine(line, groups[i], exacts[i] ?? [], own);
    const { name, piece } = line.revision.terms;
    const drawn = { ...line.asked, route: shown.route, kind: line.kind };
    const stock =
      line.asked.source === 'ours'
        ? lineStock(shelf, lossOf, drawn, { ...work, name, piece }, when)
        : { warnings: [] };
    const warnings = [
      ...shown.warnings,
      ...more.warnings,
      ...stock.warnings,
      ...dueForLine(tx, line.asked, shown.route, today),
      ...losesOrganic(tx, rows, line, when),
    ];
    return { ...shown, ...more, ...stock, warnings };
  });
  const old = sayOldWeights(rows, today);
  const warnings = [
    ...sessionWarnings(rows, lines.length, holding.law),
    ...(old === undefined ? [] : [{ code: 'old-weights', text: old }]),
    ...weighersDue(tx, today),
  ];
  return {
    reply: { rows, leftOut, lines: planLines, warnings },
    lines: lines.map(({ asked: line, revision }, i) => ({
      line: `L${i + 1}`,
      medicine: line.medicine,
      revision: revision.revision,
      doseLine: planLines[i]?.doseLine ?? '',
      source: line.source,
      containers: (planLines[i]?.withLosses ?? planLines[i])?.draws.map((draw) => draw.container) ?? [],
      reason: line.reason,
      ...(line.instruction === undefined ? {} : { instruction: line.instruction }),
      ...(line.prescription === undefined ? {} : { prescription: line.prescription }),
      ...(line.syringe === undefined ? {} : { syringe: line.syringe }),
      ...(line.equipment === undefined ? {} : { equipment: line.equipment }),
      ...(line.batch === undefined ? {} : { batch: line.batch }),
      ...optional('grouping', groups[i]?.entry),
    })),
    subjects: kept,
    leftOut: leftOut.map(({ subject, why }) => ({ subject, why })),
  };
}

/** Whom this line would cost the organic status: said before anybody is treated. */
function losesOrganic(tx: Reader, rows: PlanReply['rows'], line: WorkLine, when: Happened): Warning[] {
  if (!hasCertificates(tx)) return [];
  const { purpose } = line.revision.terms;
  const everyone = subjectsOf(
    tx,
    rows.map((row) => row.subject),
  );
  const course = goingOn(tx);
  const goesOn = (subject: string) => course(subject, line.asked, when.local) !== undefined;
  const warning = organicWarning(tx, everyone, { purpose, local: when.local, zone: when.zone, goesOn });
  return warning === undefined ? [] : [warning];
}

function chosen(tx: Reader, asked: PlanAsk): SubjectRow[] {
  const named = subjectsOf(tx, asked.subjects);
  if (named.length < asked.subjects.length) {
    throw new Refusal('no-such-animal', 'One of the animals chosen is not in the book.', {
      field: 'subjects',
    });
  }
  const all = new Map(named.map((row) => [row.subject, row]));
  for (const group of asked.groups) for (const row of membersOf(tx, group)) all.set(row.subject, row);
  if (all.size === 0) {
    throw new Refusal('nobody-chosen', 'Nobody was chosen to be treated.', {
      field: 'subjects',
      next: 'Choose animals, a lot or a group.',
    });
  }
  return [...all.values()];
}

function planned(
  line: WorkLine,
  row: SubjectRow,
  weight: Weight | undefined,
  when: Happened,
  by: string,
  holding: Holding,
  grouped: Grouped | undefined,
) {
  const { terms } = line.revision;
  const { medicine, source, reason, syringe } = line.asked;
  const part = grouped?.partOf.get(row.subject);
  const treatment: Treatment = {
    holding,
    subject: row,
    heads: row.heads,
    medicine,
    source,
    reason,
    weight,
    givenBy: by,
    happened: when,
    syringe,
    // It was put into this part just now: what it gets is what the part gets.
    group: grouped && inGroup(grouped.entry, part, true),
  };
  const doseLine = lineFor(terms, line.asked.doseLine, row.class);
  const dosed = dosedBy(terms, doseLine, treatment, line.strength);
  return { worked: dosed.worked, part: dosed.part?.n, doseLine };
}

function sessionWarnings(rows: PlanReply['rows'], lines: number, law: Holding['law']): Warning[] {
  const warnings: Warning[] = [];
  if (lines > 1) warnings.push({ code: 'several-medicines', text: severalAtOnce(law).text });
  const unweighed = rows.filter((row) => row.toWeigh).length;
  if (unweighed > 0) {
    warnings.push({
      code: 'weigh-at-the-race',
      text: `${unweighed} to be weighed at the race: what they need is not in the amounts yet`,
    });
  }
  if (rows.length === 0) warnings.push({ code: 'nobody', text: 'Nobody is left to treat' });
  return warnings;
}
