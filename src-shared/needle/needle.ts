import type { Fraction } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import { type Gauge, LENGTHS } from './tubing.ts';

/** One needle as it is read off its packet: gauge and length, and the words for both. */

/** Labelled lengths in use, in inches, shortest first. */
export const LENGTH_NAMES = ['1/4', '1/2', '5/8', '3/4', '1', '1 1/2'] as const;
export type NeedleLength = (typeof LENGTH_NAMES)[number];

export type Needle = { readonly gauge: Gauge; readonly lengthIn: NeedleLength };

/** Lengths in eighths of an inch: whole numbers, so that they compare exactly. */
const EIGHTHS: Readonly<Record<NeedleLength, number>> = {
  '1/4': 2,
  '1/2': 4,
  '5/8': 5,
  '3/4': 6,
  '1': 8,
  '1 1/2': 12,
};

/** How long, in eighths of an inch. */
export function eighths(length: NeedleLength): number {
  return EIGHTHS[length];
}

/** The labelled length in mm, exact. The hub adds to what the liquid flows through, not to what goes in. */
export function lengthMm(length: NeedleLength): Fraction {
  const found = LENGTHS.get(length);
  if (found === undefined) throw new RangeError(`There is no length of ${length} in.`);
  return found;
}

/** "18G 1/2 in". */
export function printNeedle({ gauge, lengthIn }: Needle): string {
  return `${gauge}G ${lengthIn} in`;
}

export function sameNeedle(a: Needle, b: Needle): boolean {
  return a.gauge === b.gauge && a.lengthIn === b.lengthIn;
}

const SIGNS: Readonly<Record<string, string>> = { '¼': '1/4', '½': '1/2', '⅝': '5/8', '¾': '3/4' };
const DECIMALS: Readonly<Record<string, NeedleLength>> = {
  '0.25': '1/4',
  '0.5': '1/2',
  '0.625': '5/8',
  '0.75': '3/4',
  '1.5': '1 1/2',
};

/**
 * The length in what a person types: "1/2", "½", "1 1/2 in", "1½", "0.5". Inches only. Refuses (`unknown-length`)
 * one that is not in use, and a length in mm.
 */
export function readLength(text: string, field: string): NeedleLength {
  const bare = text
    .replace(/[¼½⅝¾]/g, (sign) => ` ${SIGNS[sign] ?? sign}`)
    .replace(/\s*(inches|inch|in|["”″])\s*$/i, '')
    .replace(/^(\d)-(\d)/, '$1 $2')
    .replace(/\s+/g, ' ')
    .trim();
  const found = LENGTH_NAMES.find((name) => name === bare) ?? DECIMALS[bare];
  if (found !== undefined) return found;
  throw new Refusal(
    'unknown-length',
    `Length: write it in inches as it stands on the packet: ${LENGTH_NAMES.join(', ')}.`,
    { field, next: 'Read the length on the packet, as in 1/2.' },
  );
}
