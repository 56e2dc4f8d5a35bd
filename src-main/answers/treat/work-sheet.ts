import { MOST_PARTS_KEPT } from '../../../src-shared/entries/grouping.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { sayHow } from '../../../src-shared/flock/weight-known.ts';
import { isInjectedRoute, labelCautions } from '../../../src-shared/label/cautions.ts';
import { sayDoseLine, sayPeriod } from '../../../src-shared/label/say.ts';
import { amountOf, baseOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { printWeight } from '../../../src-shared/quantity/weight.ts';
import type { DoseCount } from '../../../src-shared/stock/fillings.ts';
import { printUseBy } from '../../../src-shared/stock/use-by.ts';
import { checkRows } from '../../paper/papers.ts';
import { type SheetRow, type WorkSheet, workSheetRows } from '../../paper/work-sheet.ts';
import { clockState } from '../../store/store.ts';
import type { Answer } from '../context.ts';
import { paperHead } from '../declare/paper.ts';
import { kitPaper } from '../kit/paper.ts';
import { holdingOf } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { NEEDLE_MARK, needleHoldsOn } from '../reading/needles.ts';
import { revisionOf } from '../reading/revision.ts';
import { type SubjectRow, subjectsOf, weightOf } from '../reading/subjects.ts';
import { type AtTheRace, doseOfLine, type LineDose } from './dose-for.ts';
import { groupInSessionShown } from './group-shown.ts';
import { notIfReader } from './not-if-facts.ts';
import { revisionForLine, type SessionLine } from './plan-line.ts';
import { lossReader, sayLosses } from './plan-losses.ts';
import { drawnWithLosses } from './plan-stock.ts';
import { headsRecorded, inHandOf, openSessionOf, type Session, waitingIn } from './session.ts';
import { shelfOf } from './shelf.ts';
import { whenIn } from './when.ts';

type Planned = Session['plan']['subjects'][number];

/**
 * Answers `work-sheet`: the PDF of an open session, by what the book knows now. Who came to be barred since the plan
 * was made stands among those left out.
 */
export const workSheet: Answer<'work-sheet'> = async (context, asked) => {
  const { store } = context;
  const tx = store.read;
  const session = openSessionOf(tx, asked.session);
  const holding = holdingOf(tx, session.plan.holding);
  const waiting = waitingIn(tx, session);
  const { leftOut, lines, mark, sharpsOut } = session.plan;
  const notIf = notIfReader(
    tx,
    waiting.map((item) => item.subject),
  );
  const race = {
    tx,
    shelf: shelfOf(tx, undefined, inHandOf(session)),
    notIf,
    session,
    holding,
    when: whenIn(context, holding),
  };
  const rowOf = new Map(
    subjectsOf(
      tx,
      [...waiting, ...leftOut].map((item) => item.subject),
    ).map((row) => [row.subject, row]),
  );
  const needles = needleHoldsOn(tx, [...rowOf.keys()]);
  const sheet: Pick<WorkSheet, 'rows' | 'leftOut'> = { rows: [], leftOut: [] };
  const needs = lines.map((): DoseCount[] => []);
  const byName = (a: { subject: string }, b: { subject: string }) =>
    (rowOf.get(a.subject)?.shown ?? '').localeCompare(rowOf.get(b.subject)?.shown ?? '', 'en', {
      numeric: true,
    });
  for (const { subject, why } of leftOut.toSorted(byName)) {
    const row = rowOf.get(subject);
    if (row) sheet.leftOut.push({ ...whoOf(row), why: why.text });
  }
  const i = lines.findIndex(({ grouping }) => grouping !== undefined);
  // By parts first, as they come through the gate; whoever belongs to none comes last.
  const inParts = waiting
    .toSorted(byName)
    .toSorted((a, b) => (a.parts?.[i] ?? MOST_PARTS_KEPT) - (b.parts?.[i] ?? MOST_PARTS_KEPT));
  const headings = headingsOf(race, waiting, rowOf, i);
  for (const item of inParts) {
    const row = rowOf.get(item.subject);
    if (!row) continue;
    const before = sheet.rows.length;
    place(race, item, row, sheet, needs, headings(item));
    // Whoever handles it has to know, whatever it is treated with.
    if (needles.has(row.subject)) sheet.rows[before]?.checks.unshift(`${row.shown} ${NEEDLE_MARK}`);
  }
  const head = store.head();
  const data: WorkSheet = {
    head: paperHead(tx, holding, {
      now: context.now(),
      checkCode: head.checkCode,
      size: asked.paper ?? holding.paper,
      doubted: clockState(store, context.now()).state === 'doubted',
    }),
    session: {
      name: session.name,
      opened: printLocal(session.opened),
      recorded: headsRecorded(tx, session.id),
      mark: mark ? `${mark.colour}, ${mark.place}` : '',
      ...(sharpsOut === undefined ? {} : { sharpsOut }),
    },
    medicines: lines.map((line, i) => medicineOf(race, line, needs[i] ?? [])),
    kit: kitPaper(context, session, holding),
    ...sheet,
  };
  checkRows(workSheetRows(data));
  const bytes = await context.render({ paper: 'work-sheet', data });
  return {
    paper: store.kept.attachments.put(bytes),
    rows: sheet.rows.length,
    leftOut: sheet.leftOut.length,
    checkCode: head.checkCode,
  };
};

function whoOf(row: SubjectRow) {
  return { shown: row.shown, class: row.class.replace('-', ' '), heads: row.heads };
}

/** Puts one that waits on the sheet, or among those left out when nothing may be given to it any more. */
function place(
  race: AtTheRace,
  item: Planned,
  row: SubjectRow,
  sheet: Pick<WorkSheet, 'rows' | 'leftOut'>,
  needs: DoseCount[][],
  part: string | undefined,
): void {
  const { lines } = race.session.plan;
  if (row.present !== 1) {
    sheet.leftOut.push({ ...whoOf(row), why: 'since it was planned: it is no longer here' });
    return;
  }
  const weight = weightOf(row);
  const gets = lines.flatMap((line, i) => {
    if (item.doses[i] == null && item.toWeigh?.includes(i) !== true) return [];
    return [{ i, line, found: doseOfLine(race, line, row, weight, row.weighed_on, item) }];
  });
  const named = (found: LineDose) => (lines.length > 1 ? found.of.revision.terms.name : '');
  const isOut = ({ found }: { found: LineDose }) =>
    !found.worked.ok && found.worked.error.code !== 'weight-missing';
  const refusals = gets.filter(isOut).map(({ found }) => {
    const medicine = named(found);
    return `${medicine === '' ? '' : `${medicine}: `}since it was planned: ${found.worked.ok ? '' : found.worked.error.message}`;
  });
  for (const why of refusals) sheet.leftOut.push({ ...whoOf(row), why });
  const stays = gets.filter((each) => !isOut(each));
  if (stays.length === 0) return;
  const known = [
    ...(row.weighed_how === null ? [] : [sayHow(row.weighed_how)]),
    ...(row.weighed_on === null ? [] : [printLocal(row.weighed_on.slice(0, 10))]),
  ];
  for (const { i, found } of stays) {
    if (found.worked.ok) needs[i]?.push({ units: baseOf(found.worked.value.draw), heads: row.heads });
  }
  sheet.rows.push({
    ...whoOf(row),
    ...(part === undefined ? {} : { part }),
    weight: weight ? printWeight(weight) : 'not known',
    known: weight ? known.join(', ') : '',
    doses: stays.map(({ i, found }) => doseOf(found, item.doses[i] ?? null, named(found))),
    checks: stays.flatMap(({ found }) =>
      found.checks.map((text) => (lines.length > 1 ? `${named(found)}: ${text}` : text)),
    ),
  });
}

/** What stands above the rows of each part: which it is, who is in it, what each gets and where the gate is set. */
function headingsOf(
  { session, tx }: AtTheRace,
  waiting: readonly Planned[],
  rowOf: ReadonlyMap<string, SubjectRow>,
  i: number,
): (item: Planned) => string | undefined {
  const line = session.plan.lines[i];
  if (line === undefined) return () => undefined;
  const { terms } = revisionOf(tx, line.revision);
  const shown = groupInSessionShown(line.grouping, i, [...waiting], rowOf, terms.piece);
  const medicine = session.plan.lines.length > 1 ? `${terms.name}, ` : '';
  return ({ parts }) => {
    const n = parts?.[i];
    const part = shown?.parts.find((one) => one.part - 1 === n);
    if (part === undefined) return `${medicine}each by its own weight`;
    const which = part.of === 1 ? 'all to the heaviest' : `part ${part.part} of ${part.of}`;
    return `${medicine}${which}: ${part.says}`;
  };
}

function doseOf(
  found: LineDose,
  planned: Planned['doses'][number],
  medicine: string,
): SheetRow['doses'][number] {
  const { worked } = found;
  const { piece } = found.of.revision.terms;
  if (!worked.ok) return { medicine, dose: '', places: '', note: 'weigh it; then work out the dose' };
  const { draw, sites } = worked.value;
  const before = planned && amountOf(planned.kind, unitsOf(planned));
  const isOther = before && (before.kind !== draw.kind || baseOf(before) !== baseOf(draw));
  return {
    medicine,
    dose: printAmount(draw, piece),
    places: sites.length > 1 ? sites.map((site) => printAmount(site, piece)).join(' + ') : '',
    note: [
      ...(found.part === undefined ? [] : [`dosed to ${printWeight(found.part.to)}`]),
      ...(found.moved === undefined ? [] : [found.moved.text]),
      ...(isOther ? [`planned was ${printAmount(before, piece)}`] : []),
    ].join('; '),
  };
}

const SOURCES: Readonly<Record<SessionLine['source'], string>> = {
  ours: '',
  vet: 'Brought by the vet: write down the batch and the use-by date.',
  contractor: 'Brought by a contractor: write down the batch and the use-by date.',
  'earlier-keeper': 'From an earlier keeper: write down the batch and the use-by date.',
};

function medicineOf(
  { tx, shelf, when }: AtTheRace,
  line: SessionLine,
  doses: readonly DoseCount[],
): WorkSheet['medicines'][number] {
  const { revision, kind } = revisionForLine(tx, shelf, line, when);
  const { terms } = revision;
  const doseLine = terms.doseLines.find((each) => each.id === line.doseLine);
  const isOurs = line.source === 'ours';
  const units = doses.reduce((sum, { units: each, heads }) => sum + each * heads, 0);
  const plan = isOurs ? shelf.plan(line.medicine, units, when) : { draws: [], short: 0 };
  const drawn = { ...line, route: doseLine?.route ?? '', kind };
  const lost = isOurs ? drawnWithLosses(shelf, lossReader(tx, 'this-work'), drawn, doses, when) : undefined;
  const amount = (of: number) => printAmount(amountOf(kind, of), terms.piece);
  const isInjected = isInjectedRoute(doseLine?.route);
  return {
    name: terms.name,
    rule: doseLine ? sayDoseLine(terms, doseLine) : 'The label has no such dose line any more: plan it anew.',
    reason: line.reason,
    needs: amount(units),
    ...(plan.short > 0 ? { short: amount(plan.short) } : {}),
    ...(lost === undefined ? {} : { losses: sayLosses(amountOf(kind, units), lost.losses, terms.piece) }),
    ...(lost === undefined || lost.short === 0 || plan.short > 0
      ? {}
      : { shortOfLosses: amount(lost.short) }),
    bottles: (lost ?? plan).draws.map((draw) => ({
      label: draw.label,
      batch: draw.batch,
      useBy: printUseBy(draw.unusableFrom),
      take: printAmount(amountOf(draw.kind, draw.take), terms.piece),
    })),
    from:
      line.batch === undefined
        ? SOURCES[line.source]
        : `${SOURCES[line.source]} Planned with batch ${line.batch}.`,
    isInjected,
    label: labelCautions(terms, isInjected),
    periods: terms.periods.filter(({ market }) => market === 'domestic').map((row) => sayPeriod(terms, row)),
  };
}
