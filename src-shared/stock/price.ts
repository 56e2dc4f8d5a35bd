import { quoted, sayField } from '../quantity/field.ts';
import { fraction, multiply, parseDecimal } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';

/** A price in whole minor units (pence, cents, yen), never a fraction of one. */
export type Price = { readonly minorUnits: number; readonly currency: string };

/** Digits after the point of each currency (ISO 4217, from memory). Others are refused, not guessed. */
const NONE = ['CLP', 'ISK', 'JPY', 'KRW', 'PYG', 'UGX', 'VND', 'XAF', 'XOF', 'XPF'];
const TWO = [
  ...[
    'AED',
    'ALL',
    'ARS',
    'AUD',
    'BAM',
    'BGN',
    'BRL',
    'CAD',
    'CHF',
    'CNY',
    'COP',
    'CZK',
    'DKK',
    'EGP',
    'EUR',
  ],
  ...[
    'FKP',
    'GBP',
    'GEL',
    'GIP',
    'HKD',
    'HUF',
    'IDR',
    'ILS',
    'INR',
    'KES',
    'KZT',
    'MAD',
    'MDL',
    'MKD',
    'MXN',
  ],
  ...[
    'MYR',
    'NAD',
    'NGN',
    'NOK',
    'NZD',
    'PEN',
    'PHP',
    'PKR',
    'PLN',
    'RON',
    'RSD',
    'SAR',
    'SEK',
    'SGD',
    'THB',
  ],
  ...['TRY', 'TWD', 'UAH', 'USD', 'UYU', 'ZAR'],
];
const THREE = ['BHD', 'IQD', 'JOD', 'KWD', 'LYD', 'OMR', 'TND'];

const PLACES: ReadonlyMap<string, number> = new Map([
  ...NONE.map((code) => [code, 0] as const),
  ...TWO.map((code) => [code, 2] as const),
  ...THREE.map((code) => [code, 3] as const),
]);

/**
 * Reads "42.50 GBP", "42 EUR", "4200 JPY" exactly. Refuses (`bad-price`, `bad-number`) a missing or unknown currency,
 * a comma, below zero, and more digits after the point than the currency has.
 */
export function parsePrice(text: string, field: string): Price {
  const refuse = (says: string) => new Refusal('bad-price', `${sayField(field)}: ${says}`, { field });
  const match = /^(\S+)\s+([A-Za-z]{3})$/.exec(text.trim());
  if (match === null)
    throw refuse(`write the amount and then the currency, as in 42.50 GBP, not ${quoted(text)}.`);
  const currency = (match[2] ?? '').toUpperCase();
  const places = PLACES.get(currency);
  if (places === undefined)
    throw refuse(`${quoted(currency)} is no currency known here; write it as in GBP, EUR or USD.`);
  const minor = multiply(parseDecimal(match[1] ?? '', field), fraction(10n ** BigInt(places)));
  if (minor.d !== 1n)
    throw refuse(`${currency} has ${places === 0 ? 'no digits' : `${places} digits`} after the point.`);
  const minorUnits = Number(minor.n);
  if (!Number.isSafeInteger(minorUnits)) throw refuse(`${quoted(text)} is too much to be real.`);
  return { minorUnits, currency };
}

/** "42.50 GBP", with every digit the currency has. */
export function printPrice(price: Price): string {
  const places = PLACES.get(price.currency) ?? 2;
  const digits = String(price.minorUnits).padStart(places + 1, '0');
  const cut = digits.length - places;
  return `${digits.slice(0, cut)}${places === 0 ? '' : `.${digits.slice(cut)}`} ${price.currency}`;
}
