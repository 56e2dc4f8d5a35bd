import { type Amount, amountOf, baseOf, printAmount } from '../quantity/amount.ts';
import { ceilingOf, compare, divide, subtract } from '../quantity/fraction.ts';
import { kilograms, printWeight, type Weight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Step } from '../working.ts';

/** A table of doses by weight. Each band reaches up to and including its weight. */
export type BandTable = {
  readonly bands: readonly { readonly upTo: Weight; readonly dose: Amount }[];
  /** There is no dose below this weight. */
  readonly from?: Weight | undefined;
  /** "and for each further 10 kg or part". */
  readonly furtherStep?: { readonly each: Weight; readonly dose: Amount } | undefined;
};

/**
 * The dose of the band a weight is in: never interpolated. A weight in the gap between two printed bands takes the
 * upper one, which follows from "up to". Below `from` and above the last band (without a further step) there is no
 * dose: `below-first-band`, `above-last-band`. Weights are compared as exact fractions of what was entered, so that
 * 50 lb is in the band up to 50 lb.
 */
export function bandDose(table: BandTable, weight: Weight, working: Step[], piece?: string): Amount {
  const kg = kilograms(weight);
  const shown = printWeight(weight);
  if (table.from !== undefined && compare(kg, kilograms(table.from)) < 0) {
    throw new Refusal(
      'below-first-band',
      `${shown} is below ${printWeight(table.from)}, where the label starts: it gives no dose for this weight.`,
      { field: 'weight', next: 'Do not give it; ask the vet.' },
    );
  }
  for (const band of table.bands) {
    if (compare(kg, kilograms(band.upTo)) > 0) continue;
    working.push({
      code: 'band',
      values: { weight: shown, upTo: printWeight(band.upTo), dose: printAmount(band.dose, piece) },
    });
    return band.dose;
  }
  return furtherDose(table, weight, working, piece);
}

function furtherDose(table: BandTable, weight: Weight, working: Step[], piece?: string): Amount {
  const last = table.bands.at(-1);
  const further = table.furtherStep;
  const shown = printWeight(weight);
  if (last === undefined || further === undefined) {
    const top = last === undefined ? 'the label' : printWeight(last.upTo);
    throw new Refusal(
      'above-last-band',
      `${shown} is above ${top}, where the label ends: it gives no dose for this weight.`,
      {
        field: 'weight',
        next: 'Do not add bands up; ask the vet.',
      },
    );
  }
  const above = subtract(kilograms(weight), kilograms(last.upTo));
  const parts = Number(ceilingOf(divide(above, kilograms(further.each))));
  const dose = amountOf(last.dose.kind, baseOf(last.dose) + parts * baseOf(further.dose));
  working.push({
    code: 'further-step',
    values: {
      weight: shown,
      upTo: printWeight(last.upTo),
      dose: printAmount(last.dose, piece),
      parts: String(parts),
      each: printWeight(further.each),
      more: printAmount(further.dose, piece),
      total: printAmount(dose, piece),
    },
  });
  return dose;
}

/**
 * Holds a table to what it must be: bands rising in weight, no dose less than the one before it, one kind of amount, no dose of nothing, `from` below the
 * first band's end. Refuses `bad-bands` with the path of what is wrong under `field`.
 */
export function checkBands(table: BandTable, field: string): void {
  const refuse = (path: string, says: string) => new Refusal('bad-bands', says, { field: path });
  const first = table.bands[0];
  if (first === undefined) throw refuse(field, 'Bands: at least one weight band is needed.');
  table.bands.forEach((band, i) => {
    const before = table.bands[i - 1];
    if (before !== undefined && compare(kilograms(band.upTo), kilograms(before.upTo)) <= 0) {
      throw refuse(
        `${field}.${i}.upTo`,
        `Up to: ${printWeight(band.upTo)} must be above the band before it.`,
      );
    }
    if (band.dose.kind !== first.dose.kind) {
      throw refuse(`${field}.${i}.dose`, 'Dose: all bands must be in the same unit.');
    }
    // A table that gives a heavier animal less is a slip of the hand or two lines swapped.
    if (before !== undefined && baseOf(band.dose) < baseOf(before.dose)) {
      throw refuse(
        `${field}.${i}.dose`,
        `Dose: ${printAmount(band.dose)} is less than the lighter band before it gets; check both.`,
      );
    }
    if (baseOf(band.dose) === 0)
      throw refuse(`${field}.${i}.dose`, 'Dose: a band cannot have a dose of nothing.');
  });
  if (table.from !== undefined && compare(kilograms(table.from), kilograms(first.upTo)) > 0) {
    throw refuse('from', `From: ${printWeight(table.from)} is above the end of the first band.`);
  }
  if (table.furtherStep !== undefined) {
    if (table.furtherStep.dose.kind !== first.dose.kind) {
      throw refuse('furtherStep.dose', 'Further step: it must be in the same unit as the bands.');
    }
    if (baseOf(table.furtherStep.dose) === 0) {
      throw refuse('furtherStep.dose', 'Further step: it cannot have a dose of nothing.');
    }
  }
}
