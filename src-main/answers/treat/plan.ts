import type { z } from 'zod';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { treatCalls } from '../../../src-shared/calls/treat.ts';
import type { DoseAnswer } from '../../../src-shared/dose/dose.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import type { NotIfFinding } from '../../../src-shared/label/not-if.ts';
import { sayDoseLine } from '../../../src-shared/label/say.ts';
import { amountOf, baseOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { toDecimal } from '../../../src-shared/quantity/fraction.ts';
import { parseWeight, printWeight, type Weight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { printUseBy } from '../../../src-shared/stock/use-by.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { dueForLine, weighersDue, withEquipment } from '../reading/equipment.ts';
import { type Holding, holdingOf } from '../reading/holding.ts';
import { newestRevision, type Revision } from '../reading/revision.ts';
import type { StockRow } from '../reading/stock.ts';
import { membersOf, type SubjectRow, shownOf, subjectsOf } from '../reading/subjects.ts';
import { lineFor, type Treatment, workedDose } from './core.ts';
import { besides, notIfReader } from './not-if-facts.ts';
import { barring, checksOfAll } from './not-if-said.ts';
import type { Draw, Shelf } from './shelf.ts';

type PlanAsk = Pick<
  z.output<(typeof treatCalls)['plan-session']['request']>,
  'holding' | 'mode' | 'subjects' | 'groups' | 'lines'
>;
export type LineAsk = PlanAsk['lines'][number];
type PlanReply = Reply<'plan-session'>;
export type SessionLine = DataOf<'session-opened'>['lines'][number];

export type Planned = {
  reply: PlanReply;
  /** As the session entry keeps it. */
  lines: SessionLine[];
  subjects: DataOf<'session-opened'>['subjects'];
  leftOut: DataOf<'session-opened'>['leftOut'];
};

/** The weight the book has of a subject, as it was entered. */
export function weightOf(row: SubjectRow): Weight | undefined {
  return row.weight === null || row.weight_unit === null
    ? undefined
    : { value: row.weight, unit: row.weight_unit };
}

/** A worked-out dose as every screen shows it. */
export function shownDose(
  worked: DoseAnswer,
  piece: string | undefined,
): NonNullable<PlanReply['rows'][number]['doses'][number]> {
  const unit = worked.draw.kind === 'volume' ? 'mL' : worked.draw.kind === 'mass' ? 'mg' : (piece ?? 'piece');
  return {
    draw: {
      amount: amountData(worked.draw.kind, baseOf(worked.draw)),
      text: printAmount(worked.draw, piece),
    },
    sites: worked.sites.map((site) => printAmount(site, piece)),
    exact: `${toDecimal(worked.exact)} ${unit}`,
    working: printWorking(worked.working),
    warnings: worked.warnings,
  };
}

/** What a bottle gives, as every screen shows it. */
export function shownDraw(draw: Draw, piece: string | undefined) {
  const amount = amountOf(draw.kind, draw.take);
  return {
    container: draw.container,
    label: draw.label,
    batch: draw.batch,
    useBy: printUseBy(draw.unusableFrom),
    take: { amount: amountData(draw.kind, draw.take), text: printAmount(amount, piece) },
  };
}

/** What a line of a session is dosed by: the box its bottle came in, or the newest label when it is not our bottle. */
export function revisionForLine(
  tx: Reader,
  shelf: Shelf,
  line: LineAsk | SessionLine,
  when: Happened,
): {
  revision: Revision;
  strength: string | null;
  /** What the dose is measured in: the bottle's kind, which is not the label's where it was made up on the farm. */
  kind: StockRow['kind'];
} {
  const bottle = line.source === 'ours' ? shelf.first(line.medicine, when) : undefined;
  const revision = bottle?.revision ?? newestRevision(tx, line.medicine);
  return {
    revision,
    strength: bottle?.row.strength ?? null,
    kind: bottle?.row.kind ?? revision.terms.kind,
  };
}

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
): Planned {
  const holding = holdingOf(tx, asked.holding);
  const subjects = chosen(tx, asked);
  const weighed =
    typedWeight === undefined || subjects.length !== 1
      ? undefined
      : parseWeight(typedWeight, 'weight', { unit: holding.weightUnit });
  const lines = asked.lines.map((line, i) => ({
    asked: withEquipment(tx, line, `lines.${i}.equipment`),
    ...revisionForLine(tx, shelf, line, when),
  }));
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
  const needs = lines.map(() => 0);
  const checks = lines.map((): NotIfFinding[][] => []);
  const together = asked.lines.map((line) => besides(asked.lines, line));
  const notIf = notIfReader(
    tx,
    subjects.map((row) => row.subject),
  );

  for (const row of subjects) {
    const weight = weighed ?? weightOf(row);
    const toWeigh: number[] = [];
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
    const doses = lines.map((line, i) => {
      const said = lines.length > 1 ? `${line.revision.terms.name}: ` : '';
      const leave = (code: string, text: string): null => {
        leftOut.push({ ...shownOf(row), why: { code, text: `${said}${text}` } });
        return null;
      };
      if (row.present !== 1) return leave('gone', 'it is no longer here');
      try {
        const bars = barring(findings[i] ?? []);
        if (bars !== undefined) return leave('not-if', bars);
        return planned(line.revision, line.asked, row, weight, when, by, holding, line.strength);
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
      if (dose) needs[i] = (needs[i] ?? 0) + baseOf(dose.worked.draw) * row.heads;
    });
    rows.push({
      ...shownOf(row),
      ...(weight ? { weight: printWeight(weight) } : {}),
      ...(row.weighed_on && !weighed ? { weighedOn: row.weighed_on } : {}),
      ...(row.weighed_how && !weighed ? { weighedHow: row.weighed_how } : {}),
      doses: doses.map((dose, i) => (dose ? shownDose(dose.worked, lines[i]?.revision.terms.piece) : null)),
      toWeigh: toWeigh.length > 0,
    });
    kept.push({
      subject: row.subject,
      heads: row.heads,
      doses: doses.map((dose) => (dose ? amountData(dose.worked.draw.kind, baseOf(dose.worked.draw)) : null)),
      ...(toWeigh.length > 0 ? { toWeigh } : {}),
    });
  }

  const today = when.local.slice(0, 10) as Day;
  const planLines = lines.map((line, i) => {
    const shown = shownLine(shelf, line.asked, line, needs[i] ?? 0, when, checksOfAll(checks[i] ?? []));
    return { ...shown, warnings: [...shown.warnings, ...dueForLine(tx, line.asked, shown.route, today)] };
  });
  const warnings = [...sessionWarnings(rows, lines.length), ...weighersDue(tx, today)];
  return {
    reply: { rows, leftOut, lines: planLines, warnings },
    lines: lines.map(({ asked: line, revision }, i) => ({
      line: `L${i + 1}`,
      medicine: line.medicine,
      revision: revision.revision,
      doseLine: planLines[i]?.doseLine ?? '',
      source: line.source,
      containers: planLines[i]?.draws.map((draw) => draw.container) ?? [],
      reason: line.reason,
      ...(line.instruction === undefined ? {} : { instruction: line.instruction }),
      ...(line.prescription === undefined ? {} : { prescription: line.prescription }),
      ...(line.syringe === undefined ? {} : { syringe: line.syringe }),
      ...(line.equipment === undefined ? {} : { equipment: line.equipment }),
      ...(line.batch === undefined ? {} : { batch: line.batch }),
    })),
    subjects: kept,
    leftOut: leftOut.map(({ subject, why }) => ({ subject, why })),
  };
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
  revision: Revision,
  line: LineAsk,
  row: SubjectRow,
  weight: Weight | undefined,
  when: Happened,
  by: string,
  holding: Holding,
  strength: string | null,
) {
  const { terms } = revision;
  const doseLine = lineFor(terms, line.doseLine, row.class);
  const treatment: Treatment = {
    holding,
    subject: row,
    heads: row.heads,
    medicine: line.medicine,
    source: line.source,
    reason: line.reason,
    weight,
    givenBy: by,
    happened: when,
    syringe: line.syringe,
  };
  return { line: doseLine, worked: workedDose(terms, doseLine, treatment, strength) };
}

/** A line of the plan: how much it needs, from which bottles, and what must be checked by eye. */
export function shownLine(
  shelf: Shelf,
  asked: { medicine: string; doseLine?: string | undefined; source: string },
  of: { revision: Revision; kind: StockRow['kind'] },
  needUnits: number,
  when: Happened,
  checks: readonly string[],
): PlanReply['lines'][number] {
  const { kind } = of;
  const { terms } = of.revision;
  const doseLine = terms.doseLines.find((line) => line.id === asked.doseLine) ?? terms.doseLines[0];
  const plan =
    asked.source === 'ours' ? shelf.plan(asked.medicine, needUnits, when) : { draws: [], short: 0 };
  const warnings: Warning[] = checks.map((text) => ({
    code: 'check-by-eye',
    text: `Check before dosing: ${text}`,
  }));
  const shown = (units: number) => ({
    amount: amountData(kind, units),
    text: printAmount(amountOf(kind, units), terms.piece),
  });
  if (plan.short > 0) {
    warnings.push({
      code: 'short',
      text: `${shown(plan.short).text} of ${terms.name} is missing in the cabinet`,
    });
  }
  if (new Set(plan.draws.map((draw) => draw.revision)).size > 1) {
    warnings.push({
      code: 'two-inserts',
      text: 'The bottles have different inserts: the longest period counts',
    });
  }
  return {
    medicine: asked.medicine,
    name: terms.name,
    doseLine: doseLine?.id ?? '',
    says: doseLine ? sayDoseLine(terms, doseLine) : '',
    route: doseLine?.route ?? '',
    needs: shown(needUnits),
    draws: plan.draws.map((draw) => shownDraw(draw, terms.piece)),
    ...(plan.short > 0 ? { short: shown(plan.short) } : {}),
    warnings,
  };
}

function sessionWarnings(rows: PlanReply['rows'], lines: number): Warning[] {
  const warnings: Warning[] = [];
  if (lines > 1) {
    warnings.push({
      code: 'several-medicines',
      text: 'Several medicines at once: the label periods may no longer hold. Ask the vet.',
    });
  }
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
