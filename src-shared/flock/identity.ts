import { quoted } from '../quantity/field.ts';
import { Refusal } from '../refusal.ts';
import { COUNTRY_NUMBERS } from './countries.ts';

/**
 * What a reader types or a person copies from an ear: a chip of 15 digits (ISO 11784), an official tag number, or
 * a number the farm gave. A chip and the tag of the same animal have the same `key`, so that a read of one finds
 * the other. Nothing is guessed: a number that a spreadsheet damaged is refused.
 */
export type Identity = {
  kind: 'chip' | 'tag' | 'management';
  /** As it was read: "826" in a chip, "UK" on a tag. Absent for a maker's code and for a management number. */
  country?: string;
  /** The maker's code of a chip, 900 to 998. */
  maker?: string;
  /** True for code 999, which is for trying readers out. */
  test?: boolean;
  /** The 12 digits of the animal, or the management number. */
  number: string;
  /** As people write it: "826 012345600001", "UK 0 123456 00001". */
  written: string;
  /** Equal for everything that names the same animal. */
  key: string;
};

/** 38 bits: the largest number an ISO 11784 transponder can hold. */
const MOST_NUMBER = 274_877_906_943n;

function refuse(code: string, message: string, next: string): Refusal {
  return new Refusal(code, message, { field: 'read', next });
}

/**
 * Reads a number. Refuses with the reason: `read-empty`, `read-too-long`, `spreadsheet-number` (8.26E+14),
 * `spreadsheet-point` (a trailing .0), `zero-lost` (14 digits), `country-missing`, `country-unknown`, `bad-chip`,
 * `number-too-large`, `flock-mark-only`, `bad-read`.
 */
export function readIdentity(text: string): Identity {
  const read = text.trim();
  if (read === '') throw refuse('read-empty', 'Read: there is no number.', 'Read the animal again.');
  if (read.length > 40)
    throw refuse('read-too-long', 'Read: that is too long for one animal.', 'Read one animal at a time.');
  refuseDamage(read);
  const close = read.replace(/[\s-]/g, '');
  if (/^\d+$/.test(close)) return close.length === 15 ? chip(close) : digitsOnly(close, read);
  const lettered = /^([A-Za-z]{2})(\d+)$/.exec(close);
  if (lettered !== null) {
    const found = tag((lettered[1] ?? '').toUpperCase(), lettered[2] ?? '', read);
    if (found !== undefined) return found;
  }
  return management(read);
}

function refuseDamage(read: string): void {
  if (/^\d+([.,]\d+)?\s*e\s*\+?\d+$/i.test(read)) {
    throw refuse(
      'spreadsheet-number',
      `Read: a spreadsheet shortened this number to ${quoted(read)}, and its digits are lost.`,
      'Format the column as text and copy the numbers again.',
    );
  }
  if (/^[\d\s]{9,}[.,]\d*$/.test(read)) {
    throw refuse(
      'spreadsheet-point',
      `Read: ${quoted(read)} went through a spreadsheet as a number, and digits may be lost.`,
      'Format the column as text and copy the numbers again.',
    );
  }
}

function chip(digits: string): Identity {
  const code = digits.slice(0, 3);
  const number = digits.slice(3);
  if (code === '000')
    throw refuse('bad-chip', 'Read: a chip cannot begin with 000.', 'Read the animal again.');
  if (BigInt(number) > MOST_NUMBER) {
    throw refuse(
      'number-too-large',
      `Read: no chip can hold ${number}; the largest is 274877906943.`,
      'Read the animal again.',
    );
  }
  const base = { kind: 'chip', number, written: `${code} ${number}`, key: digits } as const;
  if (code === '999') return { ...base, test: true };
  return code >= '900' ? { ...base, maker: code } : { ...base, country: code };
}

function digitsOnly(digits: string, read: string): Identity {
  if (digits.length === 14) {
    throw refuse(
      'zero-lost',
      'Read: this has 14 digits and a chip has 15; a spreadsheet may have dropped a nought in front.',
      'Format the column as text and copy the numbers again.',
    );
  }
  if (digits.length > 15) {
    throw refuse(
      'bad-read',
      `Read: this has ${digits.length} digits and a chip has 15.`,
      'Read the animal again.',
    );
  }
  if (digits.length === 13) {
    throw refuse('bad-read', 'Read: this has 13 digits and a chip has 15.', 'Read the animal again.');
  }
  if (digits.length > 8) {
    throw refuse(
      'country-missing',
      'Read: this looks like a tag number without its country.',
      'Write the letters too, as in UK 0 123456 00001.',
    );
  }
  return management(read);
}

/** A tag when the letters are a country's and enough digits follow; a short one is a number of the farm's own. */
function tag(letters: string, digits: string, read: string): Identity | undefined {
  const country = COUNTRY_NUMBERS.get(letters);
  if (country === undefined) {
    if (digits.length < 9) return undefined;
    throw refuse(
      'country-unknown',
      `Read: ${quoted(letters)} is no country known here.`,
      'Write the country as on the tag, as in UK or IE.',
    );
  }
  if (digits.length > 12) {
    throw refuse(
      'bad-read',
      `Read: ${quoted(read)} has more than 12 digits after the country.`,
      'Read the tag again.',
    );
  }
  const british = letters === 'UK' || letters === 'GB';
  if (british && (digits.length === 6 || digits.length === 7)) {
    throw refuse(
      'flock-mark-only',
      `Read: ${quoted(read)} names a flock and not one animal.`,
      'Use the chip, or enter these lambs as a lot.',
    );
  }
  if (digits.length < 8) return undefined;
  const number = digits.padStart(12, '0');
  const written = british
    ? `${letters} ${number.slice(0, 1)} ${number.slice(1, 7)} ${number.slice(7)}`
    : `${letters} ${digits}`;
  return { kind: 'tag', country: letters, number, written, key: country + number };
}

function management(read: string): Identity {
  const written = read.replace(/\s+/g, ' ').normalize('NFC');
  if (!/^[\p{L}\p{M}0-9 ./_#'-]{1,20}$/u.test(written) || !/[\p{L}0-9]/u.test(written)) {
    throw refuse(
      'bad-read',
      `Read: ${quoted(read)} is no number an animal can have.`,
      'Use up to 20 letters and digits.',
    );
  }
  // A word that begins with digits cannot be told from a damaged chip when it is long.
  if (/\d{9,}/.test(written)) {
    throw refuse('bad-read', `Read: ${quoted(read)} is neither a tag nor a chip.`, 'Read the animal again.');
  }
  const key = `own:${written.toUpperCase().replace(/[\s-]/g, '')}`;
  return { kind: 'management', number: written, written, key };
}

/**
 * The 64 bits a chip sends (ISO 11784), as a number: animal bit, 15 bits left at zero here, 10 bits of country or
 * maker, 38 bits of number. 826012345600001 is 0x8000CE82DFDAE801. Refuses what `readIdentity` refuses.
 */
export function chipCode64(chipDigits: string): bigint {
  const read = readIdentity(chipDigits);
  if (read.kind !== 'chip')
    throw refuse('bad-chip', 'Read: this is no chip of 15 digits.', 'Read the animal again.');
  return (1n << 63n) | (BigInt(read.key.slice(0, 3)) << 38n) | BigInt(read.number);
}
