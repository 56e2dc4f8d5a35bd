import { countsSubstance, workOutDose } from '../dose/dose.ts';
import { type Ingredient, type Mixture, mixture } from '../dose/mix.ts';
import type { DoseLine, LabelTerms } from '../label/terms.ts';
import { type Amount, printAmount } from '../quantity/amount.ts';
import { toPlaces } from '../quantity/fraction.ts';
import { periodInWords } from '../quantity/period.ts';
import { parseRate } from '../quantity/rate.ts';
import { parseStrength } from '../quantity/strength.ts';
import { attempt, Refusal } from '../refusal.ts';
import { parseInUse } from './use-by.ts';

/** A powder, a concentrate or pieces made up with water: what it becomes by its label. Pure: the desk and the screen. */

export type Part = {
  readonly amount: Amount;
  /** The container's own strength, where it was made up itself; else the label's counts. */
  readonly own?: string | undefined;
};
export type MadeUpAsk = {
  readonly from: readonly Part[];
  readonly water?: Amount | undefined;
  readonly madeUpTo?: Amount | undefined;
};
export type MadeUp = Mixture & {
  /** "52 g in 943 mL gives 49.63 mg in each mL; 50 kg needs 8.06 mL." */
  readonly says: string;
};

/**
 * The line of the label a mixture is made for: the first that counts substance. Refuses `made-up-by-volume` where none
 * does, because no dose could be worked out, and `several-substances` where the lines count different ones.
 */
function lineToMakeFor(terms: LabelTerms): DoseLine & { rate: { style: 'rate' } } {
  const lines = terms.doseLines.flatMap((line) =>
    line.rate.style === 'rate' && countsSubstance(terms, line) ? [{ ...line, rate: line.rate }] : [],
  );
  const [first] = lines;
  if (first === undefined) {
    throw new Refusal(
      'made-up-by-volume',
      `The label of ${terms.name} doses by volume or by piece and not by substance, so no dose of a mixture can be worked out.`,
      { field: 'from', next: 'Give it as it comes, or ask the vet how it is to be made up.' },
    );
  }
  if (lines.some((line) => line.rate.of !== first.rate.of)) {
    throw new Refusal(
      'several-substances',
      `The label of ${terms.name} doses by several substances, and a mixture has one strength here.`,
      { field: 'from', next: 'Ask the vet how it is to be made up.' },
    );
  }
  return first;
}

/** What the mixture becomes: its strength, its volume, and a sentence with the dose of 50 kg. Refuses what `mixture` refuses. */
export function makeUp(terms: LabelTerms, ask: MadeUpAsk): MadeUp {
  const line = lineToMakeFor(terms);
  const label = terms.actives[line.rate.of]?.strength;
  const piece = terms.piece;
  const from: Ingredient[] = ask.from.map((part, i) => {
    const text = part.own ?? label;
    const strength = text === undefined ? undefined : parseStrength(text, `from.${i}.strength`, { piece });
    return { amount: part.amount, strength, piece };
  });
  const made = mixture({ from, water: ask.water, madeUpTo: ask.madeUpTo });
  const what = ask.from.map(({ amount }) => printAmount(amount, piece)).join(' and ');
  const liquid =
    ask.water === undefined ? `made up to ${printAmount(made.volume)}` : `in ${printAmount(ask.water)}`;
  const dose = attempt(() =>
    workOutDose({
      weight: { value: '50', unit: 'kg' },
      rate: parseRate(line.rate.text, 'rate', { piece }),
      strength: parseStrength(made.strength, 'strength'),
    }),
  );
  const needs = dose.ok ? `; 50 kg needs ${toPlaces(dose.value.exact, 2)} mL` : '';
  const says = `${what} ${liquid} gives ${toPlaces(made.perMl, 2)} ${made.unit} in each mL${needs}.`;
  return { ...made, says };
}

/**
 * How long it may be used once made up, as text ("24 h"): what the label says, or less. Refuses `life-missing` where
 * neither label nor person says, `life-over-label` where more is said than the label allows, and `bad-period`.
 */
export function lifeOf(terms: LabelTerms, stated: string | undefined): string {
  const label = terms.inUse === undefined ? undefined : parseInUse(terms.inUse);
  const field = 'life';
  if (stated === undefined) {
    if (terms.inUse !== undefined && label !== 'none') return terms.inUse;
    throw new Refusal('life-missing', 'Life: say how long it may be used once it is made up.', {
      field,
      next: 'It stands on the label, or the vet says; as in 24 h or 28 d.',
    });
  }
  const said = parseInUse(stated, field);
  if (said === 'none') {
    throw new Refusal(
      'bad-period',
      'Life: what is made up does not keep for ever; write it as in 24 h or 28 d.',
      {
        field,
      },
    );
  }
  if (label === undefined || label === 'none' || said === 'at-once') return stated;
  if (label === 'at-once' || hours(said) > hours(label)) {
    const most = label === 'at-once' ? 'at once only' : `for ${periodInWords(label)}`;
    throw new Refusal('life-over-label', `Life: once opened the label lets it be used ${most}.`, {
      field,
      next: 'Write that or less.',
    });
  }
  return stated;
}

function hours(period: { value: number; unit: 'd' | 'h' }): number {
  return period.unit === 'd' ? period.value * 24 : period.value;
}
