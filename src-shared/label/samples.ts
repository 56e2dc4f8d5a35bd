import { doseForLine } from '../dose/dose.ts';
import { printAmount } from '../quantity/amount.ts';
import { attempt } from '../refusal.ts';
import type { DoseLine, LabelTerms } from './terms.ts';

/** What a label gives to three sheep, so that a slip is seen in mL: worked out like every dose, by no rule of its own. */

/** A lamb, a hogg and a grown ewe, in kg. */
const SAMPLE_KG = ['20', '45', '80'] as const;

export type Sample = {
  readonly weight: string;
  /** The dose ("4.5 mL, in 2 places"), or why the label gives none. */
  readonly text: string;
  readonly isDose: boolean;
};

/** Refusals that are about the animal: the label can be read and only gives no dose at this weight. */
const OF_THE_WEIGHT = new Set([
  'below-first-band',
  'above-last-band',
  'too-light',
  'too-heavy',
  'over-most',
  'under-least',
  'draws-to-zero',
  'site-below-graduation',
  'too-many-sites',
]);

/**
 * What one dose line gives a sheep of 20, 45 and 80 kg, of the first class it is for and of an age it is for. Empty
 * while the line or the strength it needs cannot be read.
 */
export function samplesOf(terms: LabelTerms, line: DoseLine): Sample[] {
  const found = SAMPLE_KG.map((value) => {
    const given = { weight: { value, unit: 'kg' as const }, class: line.classes[0] ?? 'ewe' };
    return { weight: `${value} kg`, outcome: attempt(() => doseForLine(terms, line.id, given)) };
  });
  if (found.some(({ outcome }) => !outcome.ok && !OF_THE_WEIGHT.has(outcome.error.code))) return [];
  return found.map(({ weight, outcome }) => {
    if (!outcome.ok) return { weight, text: outcome.error.message, isDose: false };
    const { draw, sites } = outcome.value;
    const places = sites.length > 1 ? `, in ${sites.length} places` : '';
    return { weight, text: `${printAmount(draw, terms.piece)}${places}`, isDose: true };
  });
}

export type DoseDifference = {
  /** The dose line by its title, or "the dose", "dose 2". */
  readonly line: string;
  readonly weight: string;
  /** "4.5 mL", "no dose", or "not on the label" for a line that is only on one of the two. */
  readonly before: string;
  readonly after: string;
};

const NOT_THERE = 'not on the label';

/**
 * What another reading of a label gives to the same three sheep, line by line and only where it differs. Both terms
 * have passed `checkTerms`; a dose line is the same one by its id.
 */
export function doseDifferences(before: LabelTerms, after: LabelTerms): DoseDifference[] {
  const ids = new Set([...before.doseLines, ...after.doseLines].map((line) => line.id));
  return [...ids].flatMap((id) => {
    const was = givenBy(before, id);
    const now = givenBy(after, id);
    const line = nameIn(after, id) ?? nameIn(before, id) ?? id;
    return SAMPLE_KG.flatMap((kg) => {
      const weight = `${kg} kg`;
      const one = was.get(weight) ?? NOT_THERE;
      const other = now.get(weight) ?? NOT_THERE;
      return one === other ? [] : [{ line, weight, before: one, after: other }];
    });
  });
}

function givenBy(terms: LabelTerms, id: string): Map<string, string> {
  const line = terms.doseLines.find((one) => one.id === id);
  const samples = line === undefined ? [] : samplesOf(terms, line);
  return new Map(samples.map((one) => [one.weight, one.isDose ? one.text : 'no dose'] as const));
}

function nameIn(terms: LabelTerms, id: string): string | undefined {
  const n = terms.doseLines.findIndex((line) => line.id === id);
  if (n < 0) return undefined;
  return terms.doseLines[n]?.title ?? (terms.doseLines.length === 1 ? 'The dose' : `Dose ${n + 1}`);
}
