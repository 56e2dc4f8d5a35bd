import { attempt } from '../refusal.ts';
import { type Day, lastDayOfMonth, printDay } from '../time/day.ts';
import type { Expiry } from './use-by.ts';

/**
 * The fields of a GS1 element string that a medicine pack carries: two to four digits that name the field, then its
 * value (GS1 General Specifications; lengths of fields that are not read here from memory).
 */
export type FieldName =
  | 'gtin'
  | 'expiry'
  | 'batch'
  | 'serial'
  | 'made'
  | 'bestBefore'
  | 'variant'
  | 'national';
export type FieldKind = { readonly name: FieldName; readonly says: string } & (
  | { readonly fixed: 'product' | 'day' }
  | { readonly most: number }
);

const national: FieldKind = { name: 'national', says: 'national number', most: 20 };

export const FIELDS: ReadonlyMap<string, FieldKind> = new Map<string, FieldKind>([
  ['01', { name: 'gtin', says: 'product', fixed: 'product' }],
  ['10', { name: 'batch', says: 'batch', most: 20 }],
  ['11', { name: 'made', says: 'made on', fixed: 'day' }],
  ['15', { name: 'bestBefore', says: 'best before', fixed: 'day' }],
  ['17', { name: 'expiry', says: 'expiry', fixed: 'day' }],
  ['21', { name: 'serial', says: 'serial number', most: 20 }],
  ['240', { name: 'variant', says: 'maker’s own number', most: 30 }],
  ['710', national],
  ['711', national],
  ['712', national],
  ['713', national],
  ['714', national],
]);

/** How long the value of a fixed field is. */
export const FIXED_LENGTH = { product: 14, day: 6 } as const;

/** Fields that are not read but end by themselves, by their first two digits: signs in all (from memory). */
const PASSED_BY: Readonly<Record<string, number>> = {
  '00': 20,
  '02': 16,
  '03': 16,
  '04': 18,
  '12': 8,
  '13': 8,
  '16': 8,
  '20': 4,
  '31': 10,
  '32': 10,
  '33': 10,
  '34': 10,
  '35': 10,
  '36': 10,
  '41': 16,
};

/** Signs of a field that is not read, when it has a length of its own. */
export function lengthPassedBy(text: string): number | undefined {
  return PASSED_BY[text.slice(0, 2)];
}

/** The field a text begins with, or nothing. */
export function fieldAt(text: string): { ai: string; kind: FieldKind } | undefined {
  for (const length of [2, 3]) {
    const ai = text.slice(0, length);
    const kind = FIELDS.get(ai);
    if (kind !== undefined) return { ai, kind };
  }
  return undefined;
}

/** The signs a batch or serial may hold: character set 82 of the General Specifications. */
export const VALUE_SIGNS = /^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]+$/;

/**
 * Whether the last digit checks the ones before it: from the right 3, 1, 3, 1 …, and the sum up to a full ten
 * (GS1). `digits` are digits only.
 */
export function checkDigitHolds(digits: string): boolean {
  return digits.length > 1 && checkDigit(digits.slice(0, -1)) === digits.slice(-1);
}

/** The check digit that belongs behind these digits. */
export function checkDigit(digits: string): string {
  let sum = 0;
  for (let i = 0; i < digits.length; i += 1) {
    const weight = (digits.length - i) % 2 === 1 ? 3 : 1;
    sum += weight * Number(digits.charAt(i));
  }
  return String((10 - (sum % 10)) % 10);
}

/** A product number that is there: 14 digits, the check digit right, not noughts alone. */
export function isProduct(digits: string): boolean {
  return /^\d{14}$/.test(digits) && /[1-9]/.test(digits) && checkDigitHolds(digits);
}

/**
 * The full year of two digits: within 49 years back and 50 ahead of `on` (GS1). Without a day, 2000 to 2099: no pack
 * that is still on a shelf lies outside.
 */
export function fullYear(two: number, on: Day | undefined): number {
  if (on === undefined) return 2000 + two;
  const first = Number(on.slice(0, 4)) - 49;
  return first + ((two - (first % 100) + 100) % 100);
}

/** Reads YYMMDD; day 00 is the last of the month. Nothing where there is no such day. */
export function packDay(text: string, on: Day | undefined): Expiry | undefined {
  if (!/^\d{6}$/.test(text)) return undefined;
  const month = `${fullYear(Number(text.slice(0, 2)), on)}-${text.slice(2, 4)}`;
  const read = attempt(() => lastDayOfMonth(month));
  if (!read.ok) return undefined;
  const day = text.slice(4);
  if (day === '00') return { printed: month, lastDay: read.value };
  const full = `${month}-${day}`;
  return day <= read.value.slice(8) ? { printed: full, lastDay: full as Day } : undefined;
}

/** A value as it is put into a sentence: "expiry 31 Dec 2027", "batch ABC". */
export function sayElement(ai: string, value: string, on: Day | undefined): string {
  const kind = FIELDS.get(ai);
  const day = kind !== undefined && 'fixed' in kind && kind.fixed === 'day' ? packDay(value, on) : undefined;
  return `${kind?.says ?? ai} ${day === undefined ? value : printDay(day.lastDay)}`;
}
