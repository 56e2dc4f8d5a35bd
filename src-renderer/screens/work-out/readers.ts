import { countPieces, parseAmount, pieceWord, splitUnit } from '../../../src-shared/quantity/amount.ts';
import { parseDecimal, toPlaces } from '../../../src-shared/quantity/fraction.ts';
import { parsePeriod, periodInWords } from '../../../src-shared/quantity/period.ts';
import { parseRate, printRate } from '../../../src-shared/quantity/rate.ts';
import { parseStrength, printStrength } from '../../../src-shared/quantity/strength.ts';
import { parseWeight } from '../../../src-shared/quantity/weight.ts';
import { attempt, Refusal } from '../../../src-shared/refusal.ts';
import { typedDay, typedWhen } from '../../parts/typed-when.ts';
import { dayInWords } from '../../parts/words.ts';
import type { Blank, Reply } from './sentence.ts';

/** Blanks of the usual kinds. Each takes what is special about it. */

type More = Partial<Blank>;

export function weight(says = 'weight', more: More = {}): Blank {
  const names = { kg: 'kilograms', lb: 'pounds' };
  return {
    says,
    size: 7,
    reads: (text, field) => {
      const { value, unit } = parseWeight(text, field);
      return `${value} ${names[unit]}`;
    },
    ...more,
  };
}

export function rate(more: More = {}): Blank {
  return { says: 'dose rate', size: 11, reads: (text, field) => printRate(parseRate(text, field)), ...more };
}

export function strength(more: More = {}): Blank {
  return {
    says: 'strength',
    size: 10,
    reads: (text, field) => printStrength(parseStrength(text, field)),
    ...more,
  };
}

export function amount(says: string, more: More = {}): Blank {
  return {
    says,
    size: 7,
    reads: (text, field) => {
      parseAmount(text, field);
      return undefined;
    },
    ...more,
  };
}

/** A number whose unit stands behind it in the sentence. */
export function plain(says: string, more: More = {}): Blank {
  return {
    says,
    size: 5,
    reads: (text, field) => {
      parseDecimal(text, field);
      return undefined;
    },
    ...more,
  };
}

export const period: Blank = {
  says: 'period',
  size: 7,
  reads: (text, field) => periodInWords(parsePeriod(text, field)),
};

/** A day, or a day with its time, as people write it. `name` stands at the head of what is wrong with it. */
export function when(name: string, says: string): Blank {
  return {
    says,
    size: 17,
    ask: (text) => typedWhen(text) ?? typedDay(text) ?? text,
    reads: (text, field) => {
      const at = typedWhen(text) ?? typedDay(text);
      if (at === undefined) {
        const message = `${name}: write the day, and the time where it is known, as in 20 Nov 2026 14:05.`;
        throw new Refusal('bad-day', message, { field });
      }
      const [day = '', time] = at.split('T');
      return `${dayInWords(day)}${time === undefined ? '' : ` at ${time}`}`;
    },
  };
}

/**
 * Several values one after the other: "20 38 39 62 kg". A unit that stands behind some of them counts for those
 * without one; where two different units stand there, each has to have its own, and the topic says so.
 */
export function several(text: string): string[] {
  const values = text
    .split(/[;\n]+|,\s+|\s+(?=\d)/)
    .map((value) => value.trim())
    .filter((value) => value !== '');
  const units = new Set(values.map((value) => splitUnit(value, 'values').unit).filter((unit) => unit !== ''));
  const [unit] = units;
  if (units.size !== 1 || unit === undefined) return values;
  return values.map((value) => (splitUnit(value, 'values').unit === '' ? `${value} ${unit}` : value));
}

const UNITS = { Ml: 'mL', Mg: 'mg' } as const;

/** A text of a reply, if it is there. */
export function said(reply: Reply, name: string): string | undefined {
  const value = reply[name];
  return typeof value === 'string' || typeof value === 'number' ? String(value) : undefined;
}

/** A text that every reply of the topic has. Throws when it does not: a mistake in the program. */
export function sure(reply: Reply, name: string): string {
  const value = said(reply, name);
  if (value === undefined) throw new Error(`the reply has no ${name}`);
  return value;
}

/** A list of objects in a reply; empty where there is none. */
export function listIn(reply: Reply, name: string): readonly Reply[] {
  const value = reply[name];
  return Array.isArray(value) ? value.filter((one) => typeof one === 'object' && one !== null) : [];
}

/**
 * An amount of a reply, which names it by its unit ("drawMl", "drawMg", "drawPieces"), with the unit: "1.2 mL",
 * "2 boluses". Long ones are cut for reading and called about; the working has all of it.
 */
export function amountIn(reply: Reply, name: string, piece = 'piece'): string {
  for (const [end, unit] of Object.entries(UNITS)) {
    const value = said(reply, name === '' ? end.toLowerCase() : `${name}${end}`);
    if (value !== undefined) return `${shortly(value, 4)} ${unit}`;
  }
  return countPieces(shortly(sure(reply, name === '' ? 'pieces' : `${name}Pieces`), 4), piece);
}

/** A number for reading: cut to so many digits after the point, and then called about. Keeps a minus. */
export function shortly(text: string, places: number): string {
  const digits = text.replace('-', '');
  const [, after = ''] = digits.split('.');
  if (after.length <= places) return text;
  const sign = text.startsWith('-') ? '-' : '';
  // Decimals of a reply may be longer than what a person may type.
  const read = parseDecimal(cut(digits), 'answer');
  return `about ${sign}${toPlaces(read, places)}`;
}

/** At most 9 digits after the point, which is far past what is shown. */
function cut(digits: string): string {
  const [whole = '0', after = ''] = digits.split('.');
  return `${whole}.${after.slice(0, 9)}`;
}

/** A percentage for reading, without its sign. */
export function percent(text: string): string {
  return `${shortly(text.replace('-', ''), 1)} %`;
}

/** What a piece is called in what was typed: "bolus" in "1 bolus per head" or "2 boluses". */
export function pieceIn(typed: string | undefined): string {
  const word = /^\s*[\d.]+\s*([a-z]+)/i.exec(typed ?? '')?.[1];
  return word === undefined ? 'piece' : (pieceWord(word) ?? 'piece');
}

/** The whole microlitres of a volume, or nothing where it is none. */
export function microlitresOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const read = attempt(() => parseAmount(text, 'volume'));
  return read.ok && read.value.kind === 'volume' ? read.value.microlitres : undefined;
}
