import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { amountOf, baseOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import type { DoseCount } from '../../../src-shared/stock/fillings.ts';
import type { PlannedLosses } from '../../../src-shared/stock/losses.ts';
import { printStockWorking } from '../../../src-shared/stock/working.ts';
import type { Warning } from '../../../src-shared/working.ts';
import { printLocal } from '../reading/labels.ts';
import type { StockRow } from '../reading/stock.ts';
import { type LossLine, type LossReader, sayLosses } from './plan-losses.ts';
import { shownDraw } from './plan-shown.ts';
import type { Draw, Shelf } from './shelf.ts';

type PlanLine = Reply<'plan-session'>['lines'][number];
/** What else is said of the stock of a line: with losses, and for the whole course. */
export type LineStock = Pick<PlanLine, 'withLosses' | 'course'> & { warnings: Warning[] };

/** What a line draws: today's doses, and those of the days that follow where it is a course. */
export type StockWork = {
  doses: readonly DoseCount[];
  later: ReadonlyMap<string, readonly DoseCount[]>;
  name: string;
  piece: string | undefined;
};

const unitsIn = (doses: readonly DoseCount[]) =>
  doses.reduce((sum, { units, heads }) => sum + units * heads, 0);

/** The losses of a line, and from which bottles doses and losses come; nothing where nothing is lost. */
export function drawnWithLosses(
  shelf: Shelf,
  lossOf: LossReader,
  line: LossLine,
  doses: readonly DoseCount[],
  when: Happened,
): { losses: PlannedLosses; draws: Draw[]; short: number } | undefined {
  let bottles = shelf.plan(line.medicine, unitsIn(doses), when).draws.length;
  // Each bottle a gun is put on is primed anew, and that may take one bottle more.
  for (;;) {
    const losses = lossOf.of(line, doses, bottles);
    if (losses === undefined) return undefined;
    const plan = shelf.plan(line.medicine, baseOf(losses.withLosses), when);
    if (plan.draws.length <= bottles) return { losses, ...plan };
    bottles = plan.draws.length;
  }
}

/** Losses and course of a line that comes out of our own cabinet, as the plan shows them. */
export function lineStock(
  shelf: Shelf,
  lossOf: LossReader,
  line: LossLine,
  work: StockWork,
  when: Happened,
): LineStock {
  const { piece } = work;
  const shown = shownIn(line.kind, piece);
  const drawn = drawnWithLosses(shelf, lossOf, line, work.doses, when);
  const warnings = [...(drawn?.losses.warnings ?? [])];
  const course = courseOf(shelf, lossOf, line, work, when, drawn);
  if (course !== undefined) warnings.push(...course.warnings);
  return {
    ...(drawn === undefined ? {} : { withLosses: shownLosses(drawn, unitsIn(work.doses), line.kind, piece) }),
    ...(course === undefined ? {} : { course: course.shown(shown) }),
    warnings,
  };
}

type Shown = (units: number) => PlanLine['needs'];

function shownIn(kind: StockRow['kind'], piece: string | undefined): Shown {
  return (units) => ({ amount: amountData(kind, units), text: printAmount(amountOf(kind, units), piece) });
}

/** Doses and losses of a line as every screen and paper shows them. */
export function shownLosses(
  { losses, draws, short }: { losses: PlannedLosses; draws: readonly Draw[]; short: number },
  needUnits: number,
  kind: StockRow['kind'],
  piece: string | undefined,
): NonNullable<PlanLine['withLosses']> {
  const shown = shownIn(kind, piece);
  return {
    total: shown(baseOf(losses.withLosses)),
    lost: shown(baseOf(losses.total)),
    says: sayLosses(amountOf(kind, needUnits), losses, piece),
    draws: draws.map((draw) => shownDraw(draw, piece)),
    ...(short > 0 ? { short: shown(short) } : {}),
    working: printStockWorking(losses.working),
  };
}

function courseOf(
  shelf: Shelf,
  lossOf: LossReader,
  line: LossLine,
  { doses, later, name, piece }: StockWork,
  when: Happened,
  first: { losses: PlannedLosses; draws: readonly Draw[] } | undefined,
) {
  if (later.size === 0) return undefined;
  const bottles = Math.max(1, first?.draws.length ?? 1);
  const needOf = (of: readonly DoseCount[]) => {
    const losses = lossOf.of(line, of, bottles);
    return losses === undefined ? unitsIn(of) : baseOf(losses.withLosses);
  };
  const days = [
    { local: when.local, need: needOf(doses) },
    ...[...later].map(([local, of]) => ({ local, need: needOf(of) })),
  ];
  const plan = shelf.planDays(line.medicine, days, when);
  const none = plan.find(({ short }) => short > 0);
  const total = days.reduce((sum, { need }) => sum + need, 0);
  const missing = plan.reduce((sum, { short }) => sum + short, 0);
  const last = plan.at(-1)?.local ?? when.local;
  const unit = (units: number) => printAmount(amountOf(line.kind, units), piece);
  const says =
    none === undefined
      ? `The whole course, ${plan.length} days to ${printLocal(last)}: ${unit(total)} with losses is there and may be used to the last day`
      : `The course cannot be finished with what is there: from ${printLocal(none.local)} there is none or too little, and ${unit(missing)} of ${name} is missing to the last day, ${printLocal(last)}`;
  return {
    warnings: none === undefined ? [] : [{ code: 'course-short', text: says }],
    shown: (shown: Shown): NonNullable<PlanLine['course']> => ({
      total: shown(total),
      says,
      ...(none === undefined ? {} : { noneFrom: none.local, short: shown(missing) }),
      days: plan.map(({ local, draws, short }, i) => ({
        on: printLocal(local),
        local,
        needs: shown(days.find((day) => day.local === local)?.need ?? days[i]?.need ?? 0),
        draws: draws.map((draw) => shownDraw(draw, piece)),
        ...(short > 0 ? { short: shown(short) } : {}),
      })),
    }),
  };
}
