import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DoseAnswer } from '../../../src-shared/dose/dose.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { sayDoseLine } from '../../../src-shared/label/say.ts';
import { amountOf, baseOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { toDecimal } from '../../../src-shared/quantity/fraction.ts';
import { printUseBy } from '../../../src-shared/stock/use-by.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Revision } from '../reading/revision.ts';
import type { StockRow } from '../reading/stock.ts';
import type { Draw, Shelf } from './shelf.ts';

type PlanReply = Reply<'plan-session'>;

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
