import type { Reply } from '../../../src-shared/calls/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import {
  type Amount,
  amountOf,
  baseOf,
  parseAmount,
  printAmount,
} from '../../../src-shared/quantity/amount.ts';
import { fraction, toDecimal, toPlaces } from '../../../src-shared/quantity/fraction.ts';
import { parseStrength, strengthPerUnit } from '../../../src-shared/quantity/strength.ts';
import { attempt, Refusal } from '../../../src-shared/refusal.ts';
import { type Expiry, parseExpiry } from '../../../src-shared/stock/use-by.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import { count } from '../../parts/words.ts';

export type Container = Reply<'cabinet'>['containers'][number];

/** How a container stands, as people say it. */
export const stateWords: Readonly<Record<Container['state'], string>> = {
  sealed: 'Sealed',
  open: 'Open',
  'past-in-use': 'Open too long',
  expired: 'Expired',
  empty: 'Empty',
  quarantined: 'Set aside',
  disposed: 'Disposed of',
  returned: 'Returned',
};

/** True while it stands on the shelf and holds something that may not be used. */
export function mustNotBeUsed(state: Container['state']): boolean {
  return state === 'expired' || state === 'past-in-use' || state === 'quarantined';
}

/** True once it has left the farm: nothing more happens to it. */
export function isGone(state: Container['state']): boolean {
  return state === 'disposed' || state === 'returned';
}

/** One container in a sentence: "1 L, 740 mL left, use by 22 Dec 2026". */
export function sayContainer(one: Container): string {
  const left = unitsOf(one.left.amount) === unitsOf(one.received.amount) ? 'full' : `${one.left.text} left`;
  const until = isGone(one.state) ? '' : `, use by ${one.useBy}`;
  return `${sayReceived(one)}, ${left}${until}`;
}

/** What came in it, in litres from one litre up: "1 L", "2.5 L", "250 mL". */
export function sayReceived(one: Container): string {
  const { amount, text } = one.received;
  if (amount.kind !== 'volume' || amount.microlitres < 1_000_000) return text;
  return `${toDecimal(fraction(amount.microlitres, 1_000_000n))} L`;
}

/** The difference between what was counted and what the book has, in words; nothing while it cannot be read. */
export function sayDifference(typed: string, one: Container): string | undefined {
  return differenceFrom(typed, one.left, one.piece);
}

/** The same against any amount that the book has. */
export function differenceFrom(
  typed: string,
  left: Container['left'],
  piece: string | undefined,
): string | undefined {
  const more = piece === undefined ? {} : { piece };
  const outcome = attempt(() => parseAmount(typed, 'amount', more));
  if (!outcome.ok) return undefined;
  const counted = outcome.value;
  const { amount } = left;
  if (counted.kind !== amount.kind) return undefined;
  const apart = baseOf(counted) - unitsOf(amount);
  if (apart === 0) return `The book has the same: ${left.text}.`;
  const size = printAmount(amountOf(counted.kind, Math.abs(apart)), piece);
  return `The book has ${left.text}: ${size} ${apart < 0 ? 'less' : 'more'} is there.`;
}

const monthNames = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/**
 * An expiry as it is printed on packs: "2027-03", "03/2027", "Mar 2027", "2027-03-14", "14 Mar 2027". A day in
 * figures with the year last could be read two ways and is refused. Refuses (`bad-day`).
 */
export function readExpiry(typed: string, field = 'expiry'): Expiry {
  const text = typed.trim().toLowerCase();
  const figures = /^(\d{1,2})\s*[-./ ]\s*(\d{4})$/.exec(text);
  if (figures !== null) return parseExpiry(`${figures[2]}-${(figures[1] ?? '').padStart(2, '0')}`, field);
  const named = /^(?:(\d{1,2})[\s.]+)?([a-z]{3,9})\.?\s+(\d{4})$/.exec(text);
  const month = monthNames.indexOf((named?.[2] ?? '').slice(0, 3)) + 1;
  if (named !== null && month > 0) {
    const start = `${named[3]}-${String(month).padStart(2, '0')}`;
    return parseExpiry(named[1] === undefined ? start : `${start}-${named[1].padStart(2, '0')}`, field);
  }
  if (/^\d{1,2}[-./ ]\d{1,2}[-./ ]\d{4}$/.test(text)) {
    throw new Refusal('bad-day', 'Expiry: day and month could be read either way round.', {
      field,
      next: 'Write it as in 2027-03-14 or 14 Mar 2027.',
    });
  }
  return parseExpiry(text, field);
}

/** "Usable through 31 Mar 2027." */
export function backExpiry(typed: string): string | undefined {
  const outcome = attempt(() => readExpiry(typed));
  return outcome.ok ? `Usable through ${printDay(outcome.value.lastDay)}.` : undefined;
}

export type Pack = { readonly count: number; readonly size: string; readonly amount: Amount };

/**
 * Packs as people write them: "2 × 500 mL, 1 x 1 L" or only "500 mL". A size is text for the desk, which reads it
 * again. Refuses (`bad-packs`, and what `parseAmount` refuses).
 */
export function readPacks(typed: string, more: { piece?: string }, field = 'packs'): Pack[] {
  const parts = typed
    .split(/[,;\n]/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
  if (parts.length === 0) {
    throw new Refusal('bad-packs', 'Packs: write how many and how large, as in 2 × 500 mL.', { field });
  }
  return parts.map((part) => {
    const match = /^(\d{1,3})\s*[x×*]\s*(.+)$/i.exec(part);
    const many = match === null ? 1 : Number(match[1]);
    if (many < 1 || many > 200) {
      throw new Refusal('bad-packs', 'Packs: write from 1 to 200 of one size.', { field });
    }
    const size = (match?.[2] ?? part).trim();
    return { count: many, size, amount: parseAmount(size, field, more) };
  });
}

/** "3 containers, 2000 mL in all." */
export function backPacks(typed: string, more: { piece?: string }): string | undefined {
  const outcome = attempt(() => readPacks(typed, more));
  if (!outcome.ok) return undefined;
  const packs = outcome.value;
  const [first] = packs;
  if (first === undefined || packs.some((pack) => pack.amount.kind !== first.amount.kind)) return undefined;
  const bases = packs.map((pack) => pack.count * baseOf(pack.amount));
  const all = bases.reduce((sum, base) => sum + base, 0);
  const many = packs.reduce((sum, pack) => sum + pack.count, 0);
  const total = printAmount(amountOf(first.amount.kind, all), more.piece);
  return `${count(many, 'container', 'containers')}, ${total} in all.`;
}

/** The strength of what was made up on the farm: "Made up here, 49.63 mg in each mL (46800 mg in 943 mL)." */
export function sayMadeUp(text: string): string {
  const read = attempt(() => parseStrength(text, 'strength'));
  if (!read.ok) return `Made up here to ${text}.`;
  const perMl = `${toPlaces(strengthPerUnit(read.value, 'volume'), 2)} ${read.value.unit === 'IU' ? 'IU' : 'mg'} in each mL`;
  return `Made up here, ${perMl} (${text}).`;
}
