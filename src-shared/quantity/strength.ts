import { Refusal } from '../refusal.ts';
import { countPieces, pieceWord, pluralOf, splitUnit } from './amount.ts';
import { quoted, sayField } from './field.ts';
import { divide, type Fraction, fraction, multiply, parseDecimal } from './fraction.ts';
import { inMeasure, type RateUnit, rateUnit, unitInWords } from './rate.ts';

/** How much active substance is in how much medicine, its numbers the digits that were typed. */
export type ParsedStrength = {
  readonly amount: string;
  readonly unit: Exclude<RateUnit, 'mL' | 'piece'> | '%';
  /** "943" in "52 g in 943 mL". "100" for a percentage. */
  readonly in: string;
  readonly inUnit: 'mL' | 'L' | 'g' | 'piece';
  readonly piece?: string;
};

const BETWEEN = /^(.*?)(?:\s*\/\s*|\s+per\s+|\s+in\s+(?:each\s+)?)(.*)$/i;

/**
 * Reads "1 %" (1 g in 100 mL), "10 mg/mL", "300000 IU/mL", "52 g in 943 mL", "100 mg in 2.1 mL",
 * "100 mg per bolus", "500 mg/g". Refuses (`bad-strength`, `bad-number`) zero, a comma between thousands,
 * a percentage above 100 and unknown units.
 */
export function parseStrength(
  text: string,
  field: string,
  more: { piece?: string | undefined } = {},
): ParsedStrength {
  const refuse = (says: string) => new Refusal('bad-strength', `${sayField(field)}: ${says}`, { field });
  if (text.length > 80) throw refuse('that text is too long to be a strength.');
  const trimmed = text.trim();
  const percent = /^(.*?)\s*%(?:\s*w\/v)?$/i.exec(trimmed);
  if (percent !== null) {
    const amount = (percent[1] ?? '').trim();
    const value = parseDecimal(amount, field);
    if (value.n === 0n || value.n > value.d * 100n)
      throw refuse('a strength in % lies above 0 and at most at 100.');
    return { amount, unit: '%', in: '100', inUnit: 'mL' };
  }
  const match = BETWEEN.exec(trimmed);
  if (match === null) {
    throw refuse(
      `${quoted(text)} does not say in how much; write 10 mg/mL, 1 %, 52 g in 943 mL or 100 mg per bolus.`,
    );
  }
  const given = splitUnit(match[1] ?? '', field);
  const unit = rateUnit(given.unit);
  if (given.number !== '' && parseDecimal(given.number, field).n === 0n)
    throw refuse('a strength must be above zero.');
  if (unit === undefined || unit === 'mL' || unit === 'piece') {
    throw refuse(`${quoted(given.unit)} is no unit of a substance; use µg, mg, g or IU.`);
  }
  if (given.number === '') throw refuse(`a number is missing before ${quoted(given.unit)}.`);
  const whole = splitUnit(match[2] ?? '', field);
  const inNumber = whole.number === '' ? '1' : whole.number;
  if (parseDecimal(inNumber, field).n === 0n) throw refuse('the amount it is in must be above zero.');
  const base = { amount: given.number, unit, in: inNumber } as const;
  const word = whole.unit.toLowerCase();
  if (word === 'ml' || word === 'cc') return { ...base, inUnit: 'mL' };
  if (word === 'l') return { ...base, inUnit: 'L' };
  if (word === 'g') return { ...base, inUnit: 'g' };
  const piece = pieceWord(whole.unit, more.piece);
  if (piece === undefined)
    throw refuse(`write mL, L, g or a piece such as bolus after ${quoted(given.unit)}.`);
  return { ...base, inUnit: 'piece', piece };
}

/** What a strength is of: IU of activity, or mass in mg. */
export function strengthMeasure(s: ParsedStrength): 'mass' | 'activity' {
  return s.unit === 'IU' ? 'activity' : 'mass';
}

/** What it is in: a volume, a mass of product, or pieces. A percentage is of either volume or mass. */
export function strengthOf(s: ParsedStrength): 'volume' | 'mass' | 'pieces' {
  if (s.inUnit === 'piece') return 'pieces';
  return s.inUnit === 'g' ? 'mass' : 'volume';
}

/** Exact mg or IU in each mL, each mg of product, or each piece. */
export function strengthPerUnit(s: ParsedStrength, kind: 'volume' | 'mass' | 'pieces'): Fraction {
  const within = parseDecimal(s.in, 'strength');
  if (s.unit === '%') {
    // By volume 1 % is 1 g in 100 mL; by mass it is 1 g in 100 g.
    const value = parseDecimal(s.amount, 'strength');
    return kind === 'mass' ? divide(value, fraction(100)) : multiply(value, fraction(10));
  }
  const amount = inMeasure(parseDecimal(s.amount, 'strength'), s.unit);
  if (s.inUnit === 'L' || s.inUnit === 'g') return divide(amount, multiply(within, fraction(1000)));
  return divide(amount, within);
}

/**
 * Refuses (`pieces-do-not-match`) tablets with a strength per tube: nobody knows how much is in one of the other.
 * "piece" says nothing about which, and goes with all.
 */
export function checkPieces(
  { piece: other }: ParsedStrength,
  piece: string | undefined,
  field = 'strength',
): void {
  if (piece === undefined || other === undefined) return;
  const counted = piece.toLowerCase();
  if (counted === other || counted === 'piece' || other === 'piece') return;
  throw new Refusal(
    'pieces-do-not-match',
    `Strength: it says how much is in one ${other}, and the amount is counted in ${pluralOf(counted)}.`,
    {
      field,
      next: `Look whether it is a ${counted} or a ${other}, and write the same word in both.`,
    },
  );
}

/** Short, as typed: "10 mg/mL", "1 %", "52 g in 943 mL", "100 mg per bolus". Read back it is the same strength. */
export function shortStrength(s: ParsedStrength): string {
  if (s.unit === '%') return `${s.amount} %`;
  const what = `${s.amount} ${s.unit}`;
  if (s.inUnit === 'piece') {
    const piece = s.piece ?? 'piece';
    return s.in === '1' ? `${what} per ${piece}` : `${what} in ${countPieces(s.in, piece)}`;
  }
  return s.in === '1' ? `${what}/${s.inUnit}` : `${what} in ${s.in} ${s.inUnit}`;
}

/** In full words: "10 milligrams in each millilitre", "1 gram in each 100 millilitres". */
export function printStrength(s: ParsedStrength): string {
  if (s.unit === '%') return `${s.amount} per cent: ${unitInWords(s.amount, 'g')} in each 100 millilitres`;
  const what = unitInWords(s.amount, s.unit);
  const name = { mL: 'millilitre', L: 'litre', g: 'gram', piece: s.piece ?? 'piece' }[s.inUnit];
  if (s.in === '1') return `${what} in each ${name}`;
  return `${what} in ${s.inUnit === 'piece' ? countPieces(s.in, name) : `${s.in} ${name}s`}`;
}
