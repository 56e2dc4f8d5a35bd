import { type Amount, type AmountKind, amountOf, inDoseUnits, printAmount } from '../quantity/amount.ts';
import { sayField } from '../quantity/field.ts';
import {
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  ONE,
  type RoundHow,
  toDecimal,
} from '../quantity/fraction.ts';
import {
  type Measure,
  measureOf,
  measureUnit,
  type ParsedRate,
  rateAmount,
  shortRate,
} from '../quantity/rate.ts';
import {
  type ParsedStrength,
  shortStrength,
  strengthMeasure,
  strengthOf,
  strengthPerUnit,
} from '../quantity/strength.ts';
import { KG_PER_LB, kilograms, printWeight, type Weight, weightValue } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Step } from '../working.ts';
import { type BandTable, bandDose } from './bands.ts';

/** What is asked of a dose, and the dose before it is rounded. */

export type Syringe = { readonly capacity: Amount; readonly graduation: Amount };

export type DoseAsk = {
  weight?: Weight | undefined;
  /** One of the two must be there. */
  rate?: ParsedRate | undefined;
  bands?: BandTable | undefined;
  strength?: ParsedStrength | undefined;
  syringe?: Syringe | undefined;
  /** Nearest when absent. */
  rounding?: RoundHow | undefined;
  maxPerSite?: Amount | undefined;
  /** The dose may not be less or more than these. */
  least?: Amount | undefined;
  most?: Amount | undefined;
  /** What the medicine is measured in, where rate and strength leave it open (a powder). */
  kind?: AmountKind | undefined;
  /** The medicine's word for a piece. */
  piece?: string | undefined;
};

/** An amount with the medicine's own word for a piece. */
export function print(amount: Amount, ask: DoseAsk): string {
  return printAmount(amount, ask.piece ?? ask.rate?.piece);
}

/** A value in mL, mg or pieces, exact. */
export function show(value: Fraction, kind: AmountKind, ask: DoseAsk): string {
  if (kind === 'volume') return `${toDecimal(value)} mL`;
  if (kind === 'mass') return `${toDecimal(value)} mg`;
  const word = ask.piece ?? ask.rate?.piece ?? 'piece';
  return value.d === 1n ? printAmount(toAmount(value, kind), word) : `${toDecimal(value)} of a ${word}`;
}

/** A value in mL, mg or pieces as an amount. Refuses `dose-too-large` what is beyond exact numbers. */
export function toAmount(value: Fraction, kind: AmountKind): Amount {
  const base = kind === 'pieces' ? value : multiply(value, fraction(1000));
  const count = Number(base.n);
  if (base.d !== 1n || !Number.isSafeInteger(count)) {
    throw new Refusal(
      'dose-too-large',
      'That dose is too large to be real; check the weight, rate and strength.',
      {
        field: 'rate',
      },
    );
  }
  return amountOf(kind, count);
}

/** The exact dose in mL, mg of product or pieces; its steps are added to `working`. */
export function exactDose(ask: DoseAsk, working: Step[]): { exact: Fraction; kind: AmountKind } {
  if (ask.bands !== undefined) {
    const dose = bandDose(ask.bands, needWeight(ask), working, ask.piece);
    return { exact: inDoseUnits(dose), kind: dose.kind };
  }
  const rate = ask.rate;
  if (rate === undefined) {
    throw new Refusal('rate-missing', 'Give the dose rate or the weight bands of the label.', {
      field: 'rate',
    });
  }
  const measure = measureOf(rate.unit);
  const kind = kindFor(measure, ask);
  // Volumes, pieces and a powder's own grams are the medicine itself and need no strength.
  const ofProduct = measure === kind;
  const strength = ofProduct && !(kind === 'mass' && ask.strength !== undefined) ? undefined : ask.strength;
  const perUnit = strength === undefined ? ONE : strengthFor(strength, measure, kind);
  const given = rateAmount(rate);
  const values: Record<string, string> = {
    amount: `${toDecimal(given)} ${measureUnit(measure) || (rate.piece ?? 'piece')}`,
  };
  let exact: Fraction;
  if (rate.perUnit === 'head') {
    refuseUnlikelyRate(rate);
    exact = divide(given, perUnit);
  } else {
    const weight = needWeight(ask);
    refuseUnlikelyRate(rate);
    const inUnit = weightIn(weight, rate.perUnit, working);
    const per = fraction(...decimalParts(rate.per));
    values.weight = `${toDecimal(inUnit)} ${rate.perUnit}`;
    values.per = rate.per === '1' ? rate.perUnit : `${rate.per} ${rate.perUnit}`;
    exact = divide(multiply(inUnit, given), multiply(per, perUnit));
  }
  if (strength !== undefined) strengthStep(strength, perUnit, kind, ask, values, working);
  values.exact = show(exact, kind, ask);
  working.push({ code: rate.perUnit === 'head' ? 'per-head' : 'by-weight', values });
  return { exact, kind };
}

/** For each kilogram: a hundredth of the animal's weight as substance, a tenth as liquid. Nothing is given at that (practice). */
const NO_RATE: Readonly<Partial<Record<Measure, Fraction>>> = {
  mass: fraction(10_000),
  volume: fraction(100),
};

/** By the head the heaviest sheep is meant: 160 kg, a Suffolk ram (published). */
const HEAVIEST_KG = fraction(160);

/** Refuses (`dose-too-large`) a rate that no medicine is given at: a slip of the number or the unit. */
export function refuseUnlikelyRate(rate: ParsedRate, field = 'rate'): void {
  const bound = NO_RATE[measureOf(rate.unit)];
  if (bound === undefined) return;
  const per = fraction(...decimalParts(rate.per));
  const kg = { head: HEAVIEST_KG, lb: multiply(per, KG_PER_LB), kg: per }[rate.perUnit];
  if (compare(rateAmount(rate), multiply(bound, kg)) < 0) return;
  throw new Refusal(
    'dose-too-large',
    `${sayField(field)}: ${shortRate(rate)} is more than any medicine is given at; check its number and its unit.`,
    { field },
  );
}

/** A typed decimal as whole number over a power of ten; the text was checked when it was parsed. */
function decimalParts(text: string): [bigint, bigint] {
  const point = text.indexOf('.');
  if (point < 0) return [BigInt(text), 1n];
  return [BigInt(text.slice(0, point) + text.slice(point + 1)), 10n ** BigInt(text.length - point - 1)];
}

function weightIn(weight: Weight, unit: 'kg' | 'lb', working: Step[]): Fraction {
  const value = weightValue(weight);
  if (weight.unit === unit) return value;
  const other = unit === 'kg' ? kilograms(weight) : divide(value, KG_PER_LB);
  working.push({
    code: unit === 'kg' ? 'pounds-to-kilograms' : 'kilograms-to-pounds',
    values: { weight: printWeight(weight), result: `${toDecimal(other)} ${unit}` },
    source: '1 lb = 0.45359237 kg exactly',
  });
  return other;
}

function strengthStep(
  strength: ParsedStrength,
  perUnit: Fraction,
  kind: AmountKind,
  ask: DoseAsk,
  values: Record<string, string>,
  working: Step[],
): void {
  const substance = strengthMeasure(strength) === 'mass' ? 'mg' : 'IU';
  const unit = kind === 'volume' ? 'mL' : kind === 'mass' ? 'mg' : (strength.piece ?? ask.piece ?? 'piece');
  values.strength = `${toDecimal(perUnit)} ${substance}`;
  values.in = unit;
  const plain =
    strength.in === '1' && strength.unit === substance && (strength.inUnit === 'mL' || kind === 'pieces');
  if (!plain) {
    working.push({
      code: 'strength',
      values: { label: shortStrength(strength), strength: values.strength, in: unit },
      ...(strength.unit === '%' ? { source: 'Veterinary medical maths: 1 % is 1 g in 100 mL' } : {}),
    });
  }
}

function needWeight(ask: DoseAsk): Weight {
  if (ask.weight === undefined) {
    throw new Refusal(
      'weight-missing',
      'Weight: this dose goes by weight, so the animal must be weighed first.',
      {
        field: 'weight',
        next: 'Weigh it, or enter what the scale showed.',
      },
    );
  }
  return ask.weight;
}

/** What the medicine is measured in. A rate of substance needs the strength to say so. */
function kindFor(measure: Measure, ask: DoseAsk): AmountKind {
  if (measure === 'volume' || measure === 'pieces') return measure;
  if (ask.strength !== undefined) {
    const of = strengthOf(ask.strength);
    return of === 'volume' && ask.strength.unit === '%' && ask.kind === 'mass' ? 'mass' : of;
  }
  if (measure === 'mass' && ask.kind === 'mass') return 'mass';
  throw new Refusal(
    'strength-missing',
    'Strength: this rate counts substance, so the strength must be known.',
    {
      field: 'strength',
      next: 'Enter the strength from the label, as in 10 mg/mL.',
    },
  );
}

function strengthFor(strength: ParsedStrength, measure: Measure, kind: AmountKind): Fraction {
  if (strengthMeasure(strength) !== measure) {
    throw new Refusal(
      'units-do-not-match',
      `Strength: the rate counts ${measureUnit(measure)} and the strength ${measureUnit(strengthMeasure(strength))}.`,
      { field: 'strength', next: 'Enter both in the same unit from the label.' },
    );
  }
  return strengthPerUnit(strength, kind);
}
