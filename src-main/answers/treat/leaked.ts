import type { z } from 'zod';
import type { leakedAsk } from '../../../src-shared/calls/treat.ts';
import { type HowShort, howShort } from '../../../src-shared/dose/leak.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { type Amount, baseOf, parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { toPlaces } from '../../../src-shared/quantity/fraction.ts';
import { Refusal } from '../../../src-shared/refusal.ts';

export type LeakedAsk = z.output<typeof leakedAsk>;
type Leaked = NonNullable<DataOf<'administered'>['leaked']>;
type Of = { dose: Amount; total: Amount; heads: number; piece: string | undefined };

/**
 * What ran out again, as the entry keeps it, and the deviation that says how short the animal is. No drops at all is
 * no leak. Whether to make good for it is the word of the label or the vet: no second dose is worked out. Refuses what `howShort` refuses, under the field `leaked`.
 */
export function leakOf(
  asked: LeakedAsk,
  of: Of,
): { data: Leaked; deviation: { code: string; text: string } } | undefined {
  const drops = 'drops' in asked ? asked.drops : undefined;
  if (drops === 0) return undefined;
  // Of a lot nobody knows over how many it was spread, so it is held against the whole.
  const given = of.heads === 1 ? of.dose : of.total;
  const short = shortBy(asked, given, of.piece);
  const { lost } = short;
  return {
    data: { amount: amountData(lost.kind, baseOf(lost)), ...(drops === undefined ? {} : { drops }) },
    deviation: { code: 'leaked-back', text: sayShort(short, drops, given, of) },
  };
}

function shortBy(asked: LeakedAsk, given: Amount, piece: string | undefined): HowShort {
  try {
    return howShort(
      'drops' in asked ? asked : { amount: parseAmount(asked.amount, 'leaked', { piece }) },
      given,
      piece,
    );
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    throw new Refusal(thrown.code, thrown.message, { field: 'leaked', next: thrown.next });
  }
}

function sayShort(short: HowShort, drops: number | undefined, given: Amount, of: Of): string {
  const print = (amount: Amount) => printAmount(amount, of.piece);
  const whole = of.heads === 1 ? print(given) : `${print(given)} for ${of.heads} head together`;
  const percent = toPlaces(short.shortPercent, 0);
  if (drops === undefined || short.leastPercent === undefined || short.mostPercent === undefined) {
    return `${print(short.lost)} of ${whole} leaked back: ${percent} % short`;
  }
  const range = `${toPlaces(short.leastPercent, 0)} to ${toPlaces(short.mostPercent, 0)} %`;
  return `${drops} ${drops === 1 ? 'drop' : 'drops'} of ${whole} leaked back: about ${percent} % short, ${range} by how large the drops were`;
}
