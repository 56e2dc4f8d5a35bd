import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { compareAmounts, parseAmount } from '../../../src-shared/quantity/amount.ts';
import { compare } from '../../../src-shared/quantity/fraction.ts';
import { parsePeriod } from '../../../src-shared/quantity/period.ts';
import { measureOf, parseRate, perKilogram, rateAmount } from '../../../src-shared/quantity/rate.ts';
import { parseStrength, strengthMeasure, strengthPerUnit } from '../../../src-shared/quantity/strength.ts';

/**
 * What must be typed a second time from the insert, unseen, before a label may be planned with: the rates, the
 * strengths and the meat periods, where one wrong digit hurts.
 */
export type Again = {
  readonly key: string;
  /** What to look for on the insert. */
  readonly label: string;
  readonly hint: string;
  readonly text: string;
  /** True when the second typing says the same as the first. Refuses what cannot be read. */
  agrees(text: string, field: string): boolean;
};

/** All that must be typed again. */
export function typeAgain(terms: LabelTerms): readonly Again[] {
  const { piece } = terms;
  const asked: Again[] = [];
  const many = terms.doseLines.length > 1;
  terms.doseLines.forEach((line, n) => {
    const of = line.title ?? (many ? `dose ${n + 1}` : 'the dose');
    const { rate } = line;
    if (rate.style === 'rate') {
      asked.push({
        key: `rate-${line.id}`,
        label: many ? `Rate of ${of}` : 'Rate',
        hint: 'The dose for so much weight, or for each animal.',
        text: rate.text,
        agrees: (text, field) => sameRate(text, rate.text, field, piece),
      });
      return;
    }
    rate.bands.forEach((band, b) => {
      asked.push({
        key: `band-${line.id}-${b}`,
        label: `Up to ${band.upTo}`,
        hint: `The dose of this band${many ? ` of ${of}` : ''}.`,
        text: band.dose,
        agrees: (text, field) => {
          const one = parseAmount(text, field, { piece });
          const other = parseAmount(band.dose, field, { piece });
          return one.kind === other.kind && compareAmounts(one, other) === 0;
        },
      });
    });
  });
  terms.actives.forEach((active, n) => {
    const { strength } = active;
    if (strength === undefined) return;
    asked.push({
      key: `strength-${n}`,
      label: `Strength of ${active.substance}`,
      hint: 'How much of it is in how much medicine.',
      text: strength,
      agrees: (text, field) => {
        const one = parseStrength(text, field, { piece });
        const other = parseStrength(strength, field, { piece });
        return (
          strengthMeasure(one) === strengthMeasure(other) &&
          (one.unit === '%' ||
            other.unit === '%' ||
            (one.inUnit === 'piece') === (other.inUnit === 'piece')) &&
          compare(strengthPerUnit(one, terms.kind), strengthPerUnit(other, terms.kind)) === 0
        );
      },
    });
  });
  const meat = terms.periods.filter((row) => row.produce === 'meat');
  meat.forEach((row, n) => {
    const { value } = row;
    if (value === undefined) return;
    const which = meat.length > 1 ? `, row ${n + 1}` : '';
    asked.push({
      key: `meat-${n}`,
      label: `Meat period${which}`,
      hint: 'As in 28 d or 72 h; days and hours are not the same.',
      text: value,
      agrees: (text, field) => {
        const one = parsePeriod(text, field);
        const other = parsePeriod(value, field);
        return one.value === other.value && one.unit === other.unit;
      },
    });
  });
  return asked;
}

/** Of all that must be typed again, what a correction changed. */
export function changedAgain(before: LabelTerms, after: LabelTerms): readonly Again[] {
  const was = new Map(typeAgain(before).map((one) => [one.key, one.text] as const));
  return typeAgain(after).filter((one) => was.get(one.key) !== one.text);
}

function sameRate(text: string, first: string, field: string, piece: string | undefined): boolean {
  const one = parseRate(text, field, { piece });
  const other = parseRate(first, field, { piece });
  if (measureOf(one.unit) !== measureOf(other.unit)) return false;
  if ((one.perUnit === 'head') !== (other.perUnit === 'head')) return false;
  const each = one.perUnit === 'head' ? rateAmount : perKilogram;
  return compare(each(one), each(other)) === 0;
}
