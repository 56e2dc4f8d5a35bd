import { type AmountKind, printAmount } from '../quantity/amount.ts';
import { type Fraction, toPlaces } from '../quantity/fraction.ts';
import { printWeight } from '../quantity/weight.ts';
import type { Step } from '../working.ts';
import type { Distinct } from './draft-gate.ts';
import type { DraftSplit } from './draft-parts.ts';
import { show } from './exact.ts';

type Drafted = {
  chosen: DraftSplit;
  leastProduct: DraftSplit;
  leastWorst: DraftSplit;
  toHeaviest: DraftSplit;
  cap: Fraction;
  distinct: readonly Distinct[];
  kind: AmountKind;
  piece?: string | undefined;
};

const SOURCE = 'Least product within the cap, then the least overdose for at most 5 % more (derived)';

/** How the parts were reached: the dose of each part's heaviest, what its lightest gets, the total, and the ends of the trade. */
export function draftSteps(drafted: Drafted): Step[] {
  const { chosen, distinct, kind, piece } = drafted;
  const own = new Map(distinct.map((one) => [one.weight, one]));
  const steps: Step[] = [];
  const ask = { piece };
  for (const part of chosen.parts) {
    const [lightest, heaviest] = [own.get(part.from), own.get(part.to)];
    if (lightest === undefined || heaviest === undefined) throw new RangeError('A part has no weights.');
    steps.push(...heaviest.working, {
      code: 'draft-part',
      values: {
        heads: String(part.heads),
        from: printWeight(part.from),
        to: printWeight(part.to),
        exact: show(heaviest.exact, kind, ask),
        dose: printAmount(part.dose, piece),
        own: show(lightest.exact, kind, ask),
        over: toPlaces(part.overPercent, 1),
      },
    });
  }
  steps.push({
    code: 'draft-total',
    values: {
      sum: chosen.parts.map((part) => `${part.heads} × ${printAmount(part.dose, piece)}`).join(' + '),
      total: printAmount(chosen.total, piece),
      worst: toPlaces(chosen.worstOverPercent, 1),
      cap: toPlaces(drafted.cap, 1),
    },
    source: SOURCE,
  });
  for (const [code, split] of [
    ['draft-least-product', drafted.leastProduct],
    ['draft-least-worst', drafted.leastWorst],
    ['draft-to-heaviest', drafted.toHeaviest],
  ] as const) {
    steps.push({
      code,
      values: { total: printAmount(split.total, piece), worst: toPlaces(split.worstOverPercent, 1) },
    });
  }
  return steps;
}
