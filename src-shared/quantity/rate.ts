import { Refusal } from '../refusal.ts';
import { countPieces, pieceWord, splitUnit } from './amount.ts';
import { quoted, sayField } from './field.ts';
import { divide, type Fraction, fraction, multiply, parseDecimal, toDecimal } from './fraction.ts';
import { KG_PER_LB, type WeightUnit, weightUnit } from './weight.ts';

/** A dose rate as the label prints it, its numbers the digits that were typed. */
export type RateUnit = 'µg' | 'mg' | 'g' | 'IU' | 'mL' | 'piece';
export type ParsedRate = {
  readonly amount: string;
  readonly unit: RateUnit;
  /** The word for a piece, when the unit is one. */
  readonly piece?: string;
  /** "50" in "1 mL per 50 kg"; "1" for a head. */
  readonly per: string;
  readonly perUnit: WeightUnit | 'head';
};

/** What a rate counts: mass in mg, activity in IU, volume in mL, or pieces. */
export type Measure = 'mass' | 'activity' | 'volume' | 'pieces';

const UNIT_WORDS: ReadonlyMap<string, RateUnit> = new Map([
  ['\u00b5g', 'µg'],
  ['\u03bcg', 'µg'],
  ['mcg', 'µg'],
  ['mg', 'mg'],
  ['g', 'g'],
  ['iu', 'IU'],
  ['i.u.', 'IU'],
  ['units', 'IU'],
  ['ml', 'mL'],
  ['cc', 'mL'],
]);

/** The unit of a rate or strength from a word, or undefined. */
export function rateUnit(word: string): RateUnit | undefined {
  return UNIT_WORDS.get(word.toLowerCase());
}

const IN_WORDS: Readonly<Record<RateUnit, readonly [string, string]>> = {
  µg: ['microgram', 'micrograms'],
  mg: ['milligram', 'milligrams'],
  g: ['gram', 'grams'],
  IU: ['international unit', 'international units'],
  mL: ['millilitre', 'millilitres'],
  piece: ['piece', 'pieces'],
};

/** "0.2 milligrams", "1 bolus". */
export function unitInWords(amount: string, unit: RateUnit, piece?: string): string {
  if (unit === 'piece') return countPieces(amount, piece ?? 'piece');
  return `${amount} ${IN_WORDS[unit][amount === '1' ? 0 : 1]}`;
}

export function measureOf(unit: RateUnit): Measure {
  if (unit === 'IU') return 'activity';
  if (unit === 'mL') return 'volume';
  return unit === 'piece' ? 'pieces' : 'mass';
}

/** The number of mg, IU, mL or pieces in so many of the unit. */
export function inMeasure(amount: Fraction, unit: RateUnit): Fraction {
  if (unit === 'µg') return divide(amount, fraction(1000));
  return unit === 'g' ? multiply(amount, fraction(1000)) : amount;
}

const BETWEEN = /^(.*?)(?:\s*\/\s*|\s+per\s+|\s+for\s+each\s+|\s+for\s+every\s+)(.*)$/i;
const BODY_WEIGHT = /\s*(?:bw|b\.w\.|body\s?weight|live\s?weight)$/i;
const HEADS = new Set(['head', 'animal', 'sheep']);

/**
 * Reads "0.2 mg/kg", "200 µg/kg", "3000 IU/lb", "0.1 mL per kg", "1 mL per 50 kg", "1 mL / 100 lb",
 * "2 mL per head", "1 bolus per head". Micro is µ, μ or mcg: "ug" is refused, being easily misread.
 * Refuses (`bad-rate`, `bad-number`) a zero, a missing unit and a missing "per".
 */
export function parseRate(
  text: string,
  field: string,
  more: { piece?: string | undefined } = {},
): ParsedRate {
  const refuse = (says: string) => new Refusal('bad-rate', `${sayField(field)}: ${says}`, { field });
  if (text.length > 80) throw refuse('that text is too long to be a dose rate.');
  const match = BETWEEN.exec(text.trim());
  if (match === null) {
    throw refuse(
      `${quoted(text)} does not say for how much weight; write 0.2 mg/kg, 1 mL per 50 kg or 2 mL per head.`,
    );
  }
  const given = splitUnit(match[1] ?? '', field);
  const each = (match[2] ?? '').replace(BODY_WEIGHT, '');
  if (given.number === '' && given.unit !== '')
    throw refuse(`a number is missing before ${quoted(given.unit)}.`);
  const amount = parseDecimal(given.number, field);
  if (amount.n === 0n) throw refuse('a dose rate must be above zero.');
  const unit = rateUnit(given.unit);
  const piece = unit === undefined ? pieceWord(given.unit, more.piece) : undefined;
  if (unit === undefined && piece === undefined) {
    if (/^ug$/i.test(given.unit)) throw refuse('write µg or mcg for micrograms.');
    throw refuse(
      `${quoted(given.unit)} is no unit of a dose; use mL, µg, mg, g, IU or pieces such as bolus.`,
    );
  }
  const what = {
    amount: given.number,
    unit: unit ?? ('piece' as const),
    ...(piece === undefined ? {} : { piece }),
  };
  if (HEADS.has(each.toLowerCase())) return { ...what, per: '1', perUnit: 'head' };
  const weight = splitUnit(each, field);
  const perUnit = weightUnit(weight.unit);
  if (perUnit === undefined) {
    throw refuse(`write kg, lb or head after “per”, not ${quoted(each)}.`);
  }
  const per = weight.number === '' ? '1' : weight.number;
  if (parseDecimal(per, field).n === 0n) throw refuse('the weight after “per” must be above zero.');
  return { ...what, per, perUnit };
}

/** In full words: "0.2 milligrams for each kilogram", "1 millilitre for each 50 kilograms", "1 bolus for each animal". */
export function printRate(rate: ParsedRate): string {
  const what = unitInWords(rate.amount, rate.unit, rate.piece);
  if (rate.perUnit === 'head') return `${what} for each animal`;
  const name = rate.perUnit === 'kg' ? 'kilogram' : 'pound';
  return rate.per === '1' ? `${what} for each ${name}` : `${what} for each ${rate.per} ${name}s`;
}

/** Short, as a label prints it: "0.2 mg/kg", "1 mL per 50 kg", "1 bolus per head". Read back it is the same rate. */
export function shortRate(rate: ParsedRate): string {
  const what =
    rate.unit === 'piece' ? countPieces(rate.amount, rate.piece ?? 'piece') : `${rate.amount} ${rate.unit}`;
  if (rate.perUnit === 'head') return `${what} per head`;
  if (rate.per !== '1') return `${what} per ${rate.per} ${rate.perUnit}`;
  return rate.unit === 'piece' || rate.unit === 'mL'
    ? `${what} per ${rate.perUnit}`
    : `${what}/${rate.perUnit}`;
}

/** The amount of one statement in mg, IU, mL or pieces, before it is divided by its weight. */
export function rateAmount(rate: ParsedRate): Fraction {
  return inMeasure(parseDecimal(rate.amount, 'rate'), rate.unit);
}

/** Exact mg, IU, mL or pieces for each kilogram. Throws RangeError for a rate by the head. */
export function perKilogram(rate: ParsedRate): Fraction {
  if (rate.perUnit === 'head') throw new RangeError('A dose by the head has no amount for each kilogram.');
  const weight = parseDecimal(rate.per, 'rate');
  const kg = rate.perUnit === 'kg' ? weight : multiply(weight, KG_PER_LB);
  return divide(rateAmount(rate), kg);
}

/** The unit of a measure, as it stands beside a number: mg, IU, mL, or nothing for pieces. */
export function measureUnit(measure: Measure): string {
  return { mass: 'mg', activity: 'IU', volume: 'mL', pieces: '' }[measure];
}

/** The same rate for each kilogram in mg, IU, mL or pieces, for reading: "0.2 mg/kg". */
export function ratePerKilogram(rate: ParsedRate): string {
  const unit = rate.unit === 'piece' ? (rate.piece ?? 'piece') : measureUnit(measureOf(rate.unit));
  return `${toDecimal(perKilogram(rate))} ${unit}/kg`;
}
