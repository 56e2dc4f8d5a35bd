import { readBands } from '../dose/dose.ts';
import { type DoseAsk, exactDose, show } from '../dose/exact.ts';
import { compare, type Fraction, fraction, toPlaces } from '../quantity/fraction.ts';
import { hoursIn, parsePeriod } from '../quantity/period.ts';
import { parseRate } from '../quantity/rate.ts';
import { parseStrength, strengthMeasure, strengthOf, strengthPerUnit } from '../quantity/strength.ts';
import { kilograms, parseWeight, printWeight, type Weight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Warning } from '../working.ts';
import { shorterThanBefore } from './earlier.ts';
import type { DoseLine, LabelTerms } from './terms.ts';
import { PRODUCE_WORDS } from './words.ts';

const INJECTED = new Set(['subcutaneous', 'intramuscular', 'intravenous']);
const FIFTY: Weight = { value: '50', unit: 'kg' };
/** Bounds of what is usual (practice): they only ask. */
const MOST_INJECTED_ML = fraction(30);
const LEAST_INJECTED_ML = fraction(1n, 10n);
const MOST_ORAL_ML = fraction(150);
const MOST_HOURS = 120 * 24;
/** A mL of nearly everything weighs about a gram (practice): more than that of substance is a slip of IU or of a digit. */
const MOST_MG_PER_ML = fraction(1000);

/**
 * What to ask the person who typed a label that is readable but unusual: over 30 mL or under 0.1 mL injected into
 * 50 kg (`much-injected`, `little-injected`), over 150 mL by mouth (`much-by-mouth`), a period over 120 d
 * (`long-period`) or shorter than in one of the `earlier` revisions (`shorter-period`), a dose that goes on larger
 * than it began (`larger-after`), a salt without a word on what its strength counts (`salt-or-base`), more than a
 * gram in a mL (`strong`). A question never bars. The terms have passed `checkTerms`.
 */
export function plausibilityQuestions(terms: LabelTerms, earlier: readonly LabelTerms[] = []): Warning[] {
  return [
    ...aboutStrength(terms),
    ...terms.doseLines.flatMap((line) => [...aboutVolume(terms, line), ...aboutNext(terms, line)]),
    ...aboutLength(terms),
    ...shorterThanBefore(terms, earlier),
  ];
}

function aboutStrength(terms: LabelTerms): Warning[] {
  const questions: Warning[] = [];
  for (const active of terms.actives) {
    if (active.strength === undefined) continue;
    if (active.salt !== undefined && active.strengthOf === undefined) {
      questions.push({
        code: 'salt-or-base',
        text: `The label names a salt, ${active.salt}: is it left open whether ${active.strength} counts the salt or ${active.substance} itself?`,
      });
    }
    const strength = parseStrength(active.strength, 'strength', { piece: terms.piece });
    if (strengthMeasure(strength) !== 'mass' || strengthOf(strength) !== 'volume') continue;
    if (compare(strengthPerUnit(strength, 'volume'), MOST_MG_PER_ML) > 0) {
      questions.push({
        code: 'strong',
        text: `${active.strength} of ${active.substance} is more than a gram in each mL: is the label so, and is it not IU?`,
      });
    }
  }
  return questions;
}

function aboutVolume(terms: LabelTerms, line: DoseLine): Warning[] {
  const weight = usualWeight(line);
  const dose = exactAt(terms, line, weight);
  if (dose?.kind !== 'volume') return [];
  const { exact: ml } = dose;
  const ask = (code: string, more: string): Warning[] => [
    { code, text: `${sayMl(ml)} for an animal of ${printWeight(weight)} is ${more}: is the label so?` },
  ];
  if (INJECTED.has(line.route)) {
    if (compare(ml, MOST_INJECTED_ML) > 0) return ask('much-injected', 'much to inject');
    if (compare(ml, LEAST_INJECTED_ML) < 0) return ask('little-injected', 'too little to measure well');
  }
  if (line.route === 'oral' && compare(ml, MOST_ORAL_ML) > 0)
    return ask('much-by-mouth', 'much to give by mouth');
  return [];
}

/** A course goes on with as much as it began with or with less: larger, the two are likely to be swapped. */
function aboutNext(terms: LabelTerms, line: DoseLine): Warning[] {
  const next = terms.doseLines.find((one) => one.id === line.followedBy);
  if (next === undefined || next.id === line.id) return [];
  const weight = usualWeight(line);
  const first = exactAt(terms, line, weight);
  const then = exactAt(terms, next, weight);
  if (first === undefined || then === undefined || compare(then.exact, first.exact) <= 0) return [];
  const words = (dose: ExactDose) => show(dose.exact, dose.kind, { piece: terms.piece });
  return [
    {
      code: 'larger-after',
      text: `${words(first)} for an animal of ${printWeight(weight)} goes on with a larger dose, ${words(then)}: is the label so, and are the two not swapped?`,
    },
  ];
}

function aboutLength(terms: LabelTerms): Warning[] {
  return terms.periods.flatMap((row) =>
    [row.value, row.valueFromDose]
      .filter((text) => text !== undefined)
      .filter((text) => hoursIn(parsePeriod(text, 'periods.value')) > MOST_HOURS)
      .map((text) => ({
        code: 'long-period',
        text: `${PRODUCE_WORDS[row.produce]}: ${text} is a long period: is the label so?`,
      })),
  );
}

/** "12.5 mL"; three places are enough to ask by, but a trace is not said to be nothing. */
function sayMl(ml: Fraction): string {
  const text = toPlaces(ml, 3);
  return text === '0' ? 'Less than 0.001 mL' : `${text} mL`;
}

/** 50 kg, or what is nearest to it among the weights that the line gives a dose for. */
function usualWeight(line: DoseLine): Weight {
  const { rate } = line;
  const last = rate.style === 'bands' && rate.furtherStep === undefined ? rate.bands.at(-1)?.upTo : undefined;
  const first = rate.style === 'bands' ? rate.from : undefined;
  let weight = FIFTY;
  for (const text of [line.mostWeight, last]) {
    if (text === undefined) continue;
    const most = parseWeight(text, 'mostWeight');
    if (compare(kilograms(most), kilograms(weight)) < 0) weight = most;
  }
  for (const text of [line.leastWeight, first]) {
    if (text === undefined) continue;
    const least = parseWeight(text, 'leastWeight');
    if (compare(kilograms(least), kilograms(weight)) > 0) weight = least;
  }
  return weight;
}

type ExactDose = ReturnType<typeof exactDose>;

/** What a line gives before any rounding; nothing where its table gives none at this weight. */
function exactAt(terms: LabelTerms, line: DoseLine, weight: Weight): ExactDose | undefined {
  const { rate } = line;
  const { piece, kind } = terms;
  const strength = rate.style === 'rate' ? terms.actives[rate.of]?.strength : undefined;
  const ask: DoseAsk = {
    weight,
    kind,
    piece,
    ...(rate.style === 'rate'
      ? { rate: parseRate(rate.text, 'rate', { piece }) }
      : { bands: readBands(rate, 'rate', piece) }),
    strength: strength === undefined ? undefined : parseStrength(strength, 'strength', { piece }),
  };
  try {
    return exactDose(ask, []);
  } catch (thrown) {
    if (thrown instanceof Refusal && /-band$/.test(thrown.code)) return undefined;
    throw thrown;
  }
}
