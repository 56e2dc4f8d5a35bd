import { Refusal } from '../refusal.ts';
import { quoted, sayField } from './field.ts';
import { type Fraction, fraction, multiply, parseDecimal, toDecimal } from './fraction.ts';

/** Amounts of medicine: whole microlitres, whole micrograms or whole pieces, each a type of its own. */

export type Microlitres = number & { readonly unit: 'microlitres' };
export type Micrograms = number & { readonly unit: 'micrograms' };
export type Pieces = number & { readonly unit: 'pieces' };
export type Amount =
  | { readonly kind: 'volume'; readonly microlitres: Microlitres }
  | { readonly kind: 'mass'; readonly micrograms: Micrograms }
  | { readonly kind: 'pieces'; readonly pieces: Pieces };
export type AmountKind = Amount['kind'];

/** What a piece may be called when the medicine gives it no name of its own: singular, plural. */
export const PIECE_WORDS: Readonly<Record<string, string>> = {
  bolus: 'boluses',
  capsule: 'capsules',
  dose: 'doses',
  drop: 'drops',
  implant: 'implants',
  piece: 'pieces',
  pessary: 'pessaries',
  sachet: 'sachets',
  sponge: 'sponges',
  tablet: 'tablets',
  tube: 'tubes',
};

const SINGULAR: ReadonlyMap<string, string> = new Map(
  Object.entries(PIECE_WORDS).flatMap(([one, many]) => [
    [one, one],
    [many, one],
  ]),
);

/** The singular of a word for a piece, or undefined when it is none. `own` is the medicine's own word. */
export function pieceWord(word: string, own?: string): string | undefined {
  const lower = word.toLowerCase();
  if (own !== undefined) {
    const mine = own.toLowerCase();
    if (lower === mine || lower === pluralOf(mine)) return mine;
  }
  return SINGULAR.get(lower);
}

/** "tablets" of "tablet". */
export function pluralOf(word: string): string {
  return PIECE_WORDS[word] ?? (/(s|x|ch|sh)$/.test(word) ? `${word}es` : `${word}s`);
}

/** "1 bolus", "2 boluses". */
export function countPieces(count: string, piece: string): string {
  return `${count} ${count === '1' ? piece : pluralOf(piece)}`;
}

/**
 * An amount from its count of base units (µL, µg, pieces). A balance may be below zero.
 * Throws RangeError when the count is not whole or not exact as a number: a mistake in a program.
 */
export function amountOf(kind: AmountKind, base: number): Amount {
  if (!Number.isSafeInteger(base))
    throw new RangeError(`An amount must be a whole number of base units: ${base}.`);
  const whole = base === 0 ? 0 : base;
  if (kind === 'volume') return { kind, microlitres: whole as Microlitres };
  if (kind === 'mass') return { kind, micrograms: whole as Micrograms };
  return { kind, pieces: whole as Pieces };
}

/** The count of base units: µL, µg or pieces. */
export function baseOf(amount: Amount): number {
  if (amount.kind === 'volume') return amount.microlitres;
  return amount.kind === 'mass' ? amount.micrograms : amount.pieces;
}

/** Volume in mL, mass in mg, pieces as they are: the units in which doses are worked out. */
export function inDoseUnits(amount: Amount): Fraction {
  return amount.kind === 'pieces' ? fraction(amount.pieces) : fraction(baseOf(amount), 1000n);
}

/** Throws RangeError when the kinds differ: mL and tablets do not add. */
export function addAmounts(a: Amount, b: Amount): Amount {
  sameKind(a, b);
  return amountOf(a.kind, baseOf(a) + baseOf(b));
}

/** Below zero, zero or above zero. Throws RangeError when the kinds differ. */
export function compareAmounts(a: Amount, b: Amount): number {
  sameKind(a, b);
  return baseOf(a) - baseOf(b);
}

function sameKind(a: Amount, b: Amount): void {
  if (a.kind !== b.kind) throw new RangeError(`A ${a.kind} and a ${b.kind} cannot be put together.`);
}

type Unit = { kind: AmountKind; base: Fraction };
/** How many base units one of each unit is; keys in lower case, µ (U+00B5) and μ (U+03BC) both. */
const UNITS: ReadonlyMap<string, Unit> = new Map<string, Unit>([
  ['ml', { kind: 'volume', base: fraction(1000) }],
  ['cc', { kind: 'volume', base: fraction(1000) }],
  ['l', { kind: 'volume', base: fraction(1_000_000) }],
  ['\u00b5l', { kind: 'volume', base: fraction(1) }],
  ['\u03bcl', { kind: 'volume', base: fraction(1) }],
  ['kg', { kind: 'mass', base: fraction(1_000_000_000) }],
  ['g', { kind: 'mass', base: fraction(1_000_000) }],
  ['mg', { kind: 'mass', base: fraction(1000) }],
  ['mcg', { kind: 'mass', base: fraction(1) }],
  ['\u00b5g', { kind: 'mass', base: fraction(1) }],
  ['\u03bcg', { kind: 'mass', base: fraction(1) }],
]);

/** Splits "1.24 mL" into its number and its unit; the unit may be empty. */
export function splitUnit(text: string, field: string): { number: string; unit: string } {
  const trimmed = text.trim();
  if (trimmed.length > 80) {
    throw new Refusal('bad-amount', `${sayField(field)}: that text is too long to be an amount.`, { field });
  }
  let cut = 0;
  // Everything that could belong to a number, so that "1,5 mL" is refused for its comma and not for its unit.
  while (cut < trimmed.length && /[\d.,+\-−–０-９]/.test(trimmed.charAt(cut))) cut += 1;
  if (/^e[+-]?\d/i.test(trimmed.slice(cut))) cut = trimmed.search(/\s|$/);
  return { number: trimmed.slice(0, cut), unit: trimmed.slice(cut).trim() };
}

/**
 * Reads "1.24 mL", "500 mL", "250 g", "20 tablets", "1 bolus". Zero is allowed, below zero is not.
 * `piece` is the medicine's own word for a piece. Refuses (`bad-amount`, `bad-number`) what has no unit, an
 * unknown unit, or is no whole number of microlitres, micrograms or pieces.
 */
export function parseAmount(text: string, field: string, more: { piece?: string | undefined } = {}): Amount {
  const { number, unit } = splitUnit(text, field);
  if (unit === '') {
    if (number !== '') parseDecimal(number, field);
    throw new Refusal('bad-amount', `${sayField(field)}: write the unit after the number, as in 5 mL.`, {
      field,
    });
  }
  const value = parseDecimal(number, field);
  const known = UNITS.get(unit.toLowerCase());
  const piece = known === undefined ? pieceWord(unit, more.piece) : undefined;
  if (known === undefined && piece === undefined) {
    throw new Refusal(
      'bad-amount',
      `${sayField(field)}: ${quoted(unit)} is no unit known here; use mL, L, mg, g or pieces such as tablets.`,
      { field },
    );
  }
  const kind = known?.kind ?? 'pieces';
  const base = known === undefined ? value : multiply(value, known.base);
  if (base.d !== 1n) {
    const smallest = { volume: 'microlitre', mass: 'microgram', pieces: piece ?? 'piece' }[kind];
    throw new Refusal('bad-amount', `${sayField(field)}: ${quoted(text)} is not a whole ${smallest} count.`, {
      field,
    });
  }
  const count = Number(base.n);
  if (!Number.isSafeInteger(count)) {
    throw new Refusal('bad-amount', `${sayField(field)}: ${quoted(text)} is too much to be real.`, { field });
  }
  return amountOf(kind, count);
}

/** What the pieces of an amount are called, in the singular: "tablet" of "3 tablets". Undefined for mL and g. */
export function pieceNamed(text: string, more: { piece?: string | undefined } = {}): string | undefined {
  return pieceWord(splitUnit(text, 'amount').unit, more.piece);
}

/** "1.24 mL", "250 g", "0.2 mg", "2 boluses". Read back by `parseAmount` it is the same amount when not below zero. */
export function printAmount(amount: Amount, piece = 'piece'): string {
  const base = baseOf(amount);
  if (amount.kind === 'volume') return `${toDecimal(fraction(base, 1000n))} mL`;
  if (amount.kind === 'pieces') return countPieces(String(base), piece.toLowerCase());
  const size = Math.abs(base);
  // None is none in any unit; a powder is counted in g.
  if (size >= 1_000_000 || size === 0) return `${toDecimal(fraction(base, 1_000_000n))} g`;
  if (size >= 1000) return `${toDecimal(fraction(base, 1000n))} mg`;
  return `${base} µg`;
}
