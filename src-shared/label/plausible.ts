import { readBands, workOutDose } from '../dose/dose.ts';
import { compare, type Fraction, fraction, toDecimal } from '../quantity/fraction.ts';
import { parsePeriod } from '../quantity/period.ts';
import { parseRate } from '../quantity/rate.ts';
import { parseStrength } from '../quantity/strength.ts';
import { kilograms, parseWeight, type Weight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Warning } from '../working.ts';
import type { DoseLine, LabelTerms } from './terms.ts';

const INJECTED = new Set(['subcutaneous', 'intramuscular', 'intravenous']);
const FIFTY: Weight = { value: '50', unit: 'kg' };
/** Bounds of what is usual (practice): they only ask. */
const MOST_INJECTED_ML = fraction(30);
const LEAST_INJECTED_ML = fraction(1n, 10n);
const MOST_ORAL_ML = fraction(150);
const MOST_HOURS = 120 * 24;

/**
 * What to ask the person who typed a label that is readable but unusual: over 30 mL or under 0.1 mL injected into
 * 50 kg, over 150 mL by mouth, a period over 120 d. The terms have passed `checkTerms`.
 */
export function plausibilityQuestions(terms: LabelTerms): Warning[] {
  const questions: Warning[] = [];
  for (const line of terms.doseLines) {
    const asked = doseAtFifty(terms, line);
    if (asked === undefined) continue;
    const { ml, shown } = asked;
    const ask = (code: string, more: string) =>
      questions.push({
        code,
        text: `${toDecimal(ml)} mL for an animal of ${shown} is ${more}: is the label so?`,
      });
    if (INJECTED.has(line.route)) {
      if (compare(ml, MOST_INJECTED_ML) > 0) ask('much-injected', 'much to inject');
      if (compare(ml, LEAST_INJECTED_ML) < 0) ask('little-injected', 'too little to measure well');
    }
    if (line.route === 'oral' && compare(ml, MOST_ORAL_ML) > 0) ask('much-by-mouth', 'much to give by mouth');
  }
  for (const row of terms.periods) {
    if (row.value === undefined) continue;
    const period = parsePeriod(row.value, 'periods.value');
    if ((period.unit === 'd' ? period.value * 24 : period.value) > MOST_HOURS) {
      questions.push({
        code: 'long-period',
        text: `${row.value} for ${row.produce} is a long period: is the label so?`,
      });
    }
  }
  return questions;
}

/** The dose for 50 kg, or for the heaviest animal the line allows when that is lighter. */
function doseAtFifty(terms: LabelTerms, line: DoseLine): { ml: Fraction; shown: string } | undefined {
  if (terms.kind !== 'volume') return undefined;
  const { rate } = line;
  const most = line.mostWeight === undefined ? FIFTY : parseWeight(line.mostWeight, 'mostWeight');
  const weight = compare(kilograms(most), kilograms(FIFTY)) < 0 ? most : FIFTY;
  const strength = rate.style === 'rate' ? terms.actives[rate.of]?.strength : undefined;
  try {
    const { exact } = workOutDose({
      weight,
      ...(rate.style === 'rate'
        ? { rate: parseRate(rate.text, 'rate') }
        : { bands: readBands(rate, 'rate') }),
      strength: strength === undefined ? undefined : parseStrength(strength, 'strength'),
      // Up, so that a dose too small to draw is asked about instead of refused.
      rounding: 'up',
    });
    return { ml: exact, shown: `${weight.value} ${weight.unit}` };
  } catch (thrown) {
    // A table that gives no dose at this weight has nothing to ask about.
    if (thrown instanceof Refusal && /-band$/.test(thrown.code)) return undefined;
    throw thrown;
  }
}
