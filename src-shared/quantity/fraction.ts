import { Refusal } from '../refusal.ts';
import { sayField } from './field.ts';

/**
 * Exact fractions of whole numbers. Everything between what a person typed and the one place where a dose is
 * rounded is computed with these: a float would carry 0.1 + 0.2 into a syringe.
 */

/** In lowest terms; `d` is always above zero. */
export type Fraction = { readonly n: bigint; readonly d: bigint };

export type RoundHow = 'nearest' | 'up' | 'down';

const SAFE = BigInt(Number.MAX_SAFE_INTEGER);

function commonDivisor(a: bigint, b: bigint): bigint {
  let x = a < 0n ? -a : a;
  let y = b;
  while (y !== 0n) {
    if (x <= SAFE && y <= SAFE) {
      // Whole numbers this small are exact as plain numbers, and ten times faster.
      let p = Number(x);
      let q = Number(y);
      while (q !== 0) {
        const rest = p % q;
        p = q;
        q = rest;
      }
      return BigInt(p);
    }
    const rest = x % y;
    x = y;
    y = rest;
  }
  return x;
}

/**
 * A fraction in lowest terms.
 * Throws RangeError for a denominator of zero or a number that is not whole: both are mistakes in a program,
 * never something a person typed.
 */
export function fraction(n: bigint | number, d: bigint | number = 1n): Fraction {
  let top = typeof n === 'bigint' ? n : BigInt(n);
  let bottom = typeof d === 'bigint' ? d : BigInt(d);
  if (bottom === 0n) throw new RangeError('A fraction cannot have zero below the line.');
  if (bottom < 0n) {
    top = -top;
    bottom = -bottom;
  }
  if (bottom === 1n) return { n: top, d: bottom };
  const common = commonDivisor(top, bottom);
  return common === 1n ? { n: top, d: bottom } : { n: top / common, d: bottom / common };
}

export const ZERO: Fraction = { n: 0n, d: 1n };
export const ONE: Fraction = { n: 1n, d: 1n };

/** The sum, in lowest terms. */
export function add(a: Fraction, b: Fraction): Fraction {
  return fraction(a.n * b.d + b.n * a.d, a.d * b.d);
}

/** `a` less `b`, in lowest terms. */
export function subtract(a: Fraction, b: Fraction): Fraction {
  return fraction(a.n * b.d - b.n * a.d, a.d * b.d);
}

/** The product, in lowest terms. */
export function multiply(a: Fraction, b: Fraction): Fraction {
  return fraction(a.n * b.n, a.d * b.d);
}

/** Throws RangeError when `b` is zero. */
export function divide(a: Fraction, b: Fraction): Fraction {
  return fraction(a.n * b.d, a.d * b.n);
}

/** Below zero, zero or above zero, as `a` is less than, equal to or more than `b`. */
export function compare(a: Fraction, b: Fraction): number {
  const left = a.n * b.d;
  const right = b.n * a.d;
  return left < right ? -1 : left > right ? 1 : 0;
}

/** The size without its sign. */
export function absolute(a: Fraction): Fraction {
  return a.n < 0n ? { n: -a.n, d: a.d } : a;
}

/** The largest whole number not above the fraction. */
export function floorOf(a: Fraction): bigint {
  const whole = a.n / a.d;
  return a.n < 0n && whole * a.d !== a.n ? whole - 1n : whole;
}

/** The smallest whole number not below the fraction. */
export function ceilingOf(a: Fraction): bigint {
  return -floorOf({ n: -a.n, d: a.d });
}

/** How many whole steps a value is, rounded as asked; a tie goes up. Throws RangeError when the step is not above zero. */
export function stepsOf(value: Fraction, step: Fraction, how: RoundHow): bigint {
  if (step.n <= 0n) throw new RangeError('A rounding step must be above zero.');
  const steps = divide(value, step);
  if (how === 'down') return floorOf(steps);
  if (how === 'up') return ceilingOf(steps);
  return floorOf({ n: steps.n * 2n + steps.d, d: steps.d * 2n });
}

/** The value as a whole number of steps; a tie goes up. */
export function roundTo(value: Fraction, step: Fraction, how: RoundHow): Fraction {
  return fraction(stepsOf(value, step, how) * step.n, step.d);
}

/** Digits after the point that write the fraction exactly, or undefined when no number of digits does. */
function finitePlaces(d: bigint): number | undefined {
  let rest = d;
  let twos = 0;
  let fives = 0;
  while (rest % 2n === 0n) {
    rest /= 2n;
    twos += 1;
  }
  while (rest % 5n === 0n) {
    rest /= 5n;
    fives += 1;
  }
  return rest === 1n ? Math.max(twos, fives) : undefined;
}

function writeScaled(scaled: bigint, places: number): string {
  const digits = scaled.toString();
  if (places === 0) return digits;
  const padded = digits.padStart(places + 1, '0');
  const cut = padded.length - places;
  let end = padded.length;
  while (end > cut && padded.charCodeAt(end - 1) === 48) end -= 1;
  return end === cut ? padded.slice(0, cut) : `${padded.slice(0, cut)}.${padded.slice(cut, end)}`;
}

/** Plain digits: "0.5", "30", "-3.2". Exact where the digits end, else 9 significant digits, a tie away from zero. */
export function toDecimal(f: Fraction): string {
  const sign = f.n < 0n ? '-' : '';
  const top = f.n < 0n ? -f.n : f.n;
  if (f.d === 1n) return sign + top.toString();
  const places = finitePlaces(f.d);
  if (places !== undefined) return sign + writeScaled((top * 10n ** BigInt(places)) / f.d, places);
  return sign + significant(top, f.d, 9);
}

/** Plain digits, so many of them significant, a tie away from zero: for what is no fraction, such as a root. */
export function toSignificant(f: Fraction, digits: number): string {
  const size = absolute(f);
  if (size.n === 0n) return '0';
  return (f.n < 0n ? '-' : '') + significant(size.n, size.d, digits);
}

/** A magnitude in so many significant digits, trailing noughts dropped. */
function significant(top: bigint, bottom: bigint, digits: number): string {
  let scale = digits - (top / bottom).toString().length;
  if (top < bottom) {
    // 0.00123: noughts after the point are not significant.
    scale = digits;
    let probe = top * 10n;
    while (probe < bottom) {
      probe *= 10n;
      scale += 1;
    }
  }
  if (scale < 0) {
    const unit = 10n ** BigInt(-scale);
    return (((top * 2n + bottom * unit) / (bottom * unit * 2n)) * unit).toString();
  }
  const scaled = (top * 2n * 10n ** BigInt(scale) + bottom) / (bottom * 2n);
  return writeScaled(scaled, scale);
}

/** Rounded to so many digits after the point for reading; a tie goes away from zero. */
export function toPlaces(f: Fraction, places: number): string {
  const scale = 10n ** BigInt(places);
  const top = f.n < 0n ? -f.n : f.n;
  const scaled = (top * scale * 2n + f.d) / (f.d * 2n);
  const text = writeScaled(scaled, places);
  return f.n < 0n && text !== '0' ? `-${text}` : text;
}

const MOST_WHOLE_DIGITS = 12;
const MOST_PLACES = 9;
const PLAIN = /^(\d{1,12})(?:\.(\d{1,9}))?$/;

/**
 * Reads a number as people type it: plain digits, "." before the part below one, nothing else.
 * Bounds: 0 or more, 12 digits before and 9 after the point. Refuses (`bad-number`) a comma, digits of another
 * script, an exponent, a sign and an empty text, and says how to write it.
 */
export function parseDecimal(text: string, field: string): Fraction {
  const trimmed = text.length > 60 ? text : text.trim();
  const match = PLAIN.exec(trimmed);
  if (match === null) throw numberRefusal(trimmed, field);
  const places = match[2] ?? '';
  return fraction(BigInt(match[1] + places), 10n ** BigInt(places.length));
}

function numberRefusal(text: string, field: string): Refusal {
  const name = sayField(field);
  const refuse = (says: string) => new Refusal('bad-number', `${name}: ${says}`, { field });
  if (text === '') return refuse('a number is missing.');
  if (text.length > MOST_WHOLE_DIGITS + MOST_PLACES + 1) {
    return refuse(`write at most ${MOST_WHOLE_DIGITS} digits before and ${MOST_PLACES} after the point.`);
  }
  if (/^[-−–]/.test(text)) return refuse(`“${text}” is below zero, and that cannot be.`);
  if (text.includes(','))
    return refuse(`write a point, not a comma, and nothing between thousands, as in 1.5 or 1500.`);
  if (/^\.\d+$/.test(text)) return refuse(`write a nought before the point: 0${text}.`);
  if (/^\d+\.$/.test(text)) return refuse(`a digit is missing after the point in “${text}”.`);
  if (/^[\d.]+e[+-]?\d+$/i.test(text)) return refuse(`write “${text}” out in plain digits.`);
  if (/^\d+(\.\d+)?$/.test(text)) {
    return refuse(`write at most ${MOST_WHOLE_DIGITS} digits before and ${MOST_PLACES} after the point.`);
  }
  return refuse(`“${text}” is not a number in plain digits, as in 12 or 0.5.`);
}
