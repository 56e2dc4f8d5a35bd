import type { Reply } from '../../../src-shared/calls/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { amountOf } from '../../../src-shared/quantity/amount.ts';
import { fraction, ONE, roundTo } from '../../../src-shared/quantity/fraction.ts';
import { printAbout } from '../../../src-shared/stock/about.ts';
import type { Outlook, OutlookContainer } from '../../../src-shared/stock/outlook-types.ts';
import { type Price, printPrice } from '../../../src-shared/stock/price.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import type { MedicineRow } from '../reading/labels.ts';
import type { StockRow } from '../reading/stock.ts';

type Waste = Pick<Reply<'outlook'>, 'unused' | 'unusedCost' | 'unusedSays' | 'notCounted'>;

/** What will not be used up of a medicine, one by one and in all, and what stands there and is not counted. */
export function wasteShown(found: Outlook, { name, kind, piece }: LabelTerms): Waste {
  const say = (units: number) => printAbout(amountOf(kind, units), piece);
  return {
    unused: found.unused.map(({ container, label, amount, why, lastDay, cost }) => {
      const end = why === 'expired' ? 'expires' : 'has been open too long';
      const lost = cost === undefined ? '' : `: ${printPrice(cost)} lost`;
      return {
        container,
        label,
        amount: say(amount),
        lastDay,
        says: `${say(amount)} of ${name} in ${label} is left when it ${end}, on ${printDay(lastDay)}${lost}.`,
        ...optional('cost', cost && printPrice(cost)),
      };
    }),
    unusedCost: found.unusedCost.map(printPrice),
    ...optional('unusedSays', sayUnused(name, found, say)),
    notCounted: found.notCounted.map(
      ({ label, state, left }) => `${label}: ${say(left)}, ${NOT_COUNTED[state] ?? state}`,
    ),
  };
}

function sayUnused(
  name: string,
  { unused, unusedCost }: Outlook,
  say: (units: number) => string,
): string | undefined {
  const [first] = unused;
  if (first === undefined) return undefined;
  const sum = unused.reduce((all, { amount }) => all + amount, 0);
  const many = unused.length === 1 ? first.label : `${unused.length} containers`;
  const from = unused.length === 1 ? 'which ends' : 'the first of which ends';
  const cost = unusedCost.length === 0 ? '' : `: ${listed(unusedCost.map(printPrice))} lost`;
  return `${say(sum)} of ${name} will not be used up, in ${many}, ${from} on ${printDay(first.lastDay)}${cost}.`;
}

const NOT_COUNTED: Readonly<Record<string, string>> = {
  expired: 'past its expiry',
  'past-in-use': 'open too long',
  quarantined: 'set aside',
};

/** Containers as they came; what was made up here is not the medicine any more. */
export function containersOf(tx: Reader, row: MedicineRow, rows: readonly StockRow[]): OutlookContainer[] {
  const prices = new Map<string, { price: Price; count: number } | undefined>();
  return rows
    .filter((one) => one.kind === row.kind && one.strength === null)
    .map((one) => {
      if (one.batch === null) return one;
      if (!prices.has(one.batch)) prices.set(one.batch, priceOf(tx, one.batch));
      const known = prices.get(one.batch);
      if (known === undefined) return one;
      const each = roundTo(fraction(known.price.minorUnits, BigInt(known.count)), ONE, 'nearest');
      return { ...one, price: { minorUnits: Number(each.n), currency: known.price.currency } };
    });
}

/** What a delivery cost and of how many containers, where they are all of one size. */
function priceOf(tx: Reader, batch: string): { price: Price; count: number } | undefined {
  const row = tx.get<{ data: string }>('SELECT data FROM batch WHERE id = ?', batch);
  if (row === undefined) return undefined;
  const { price, containers } = JSON.parse(row.data) as {
    price?: Price;
    containers: { amount: Parameters<typeof unitsOf>[0] }[];
  };
  const sizes = new Set(containers.map(({ amount }) => unitsOf(amount)));
  return price === undefined || sizes.size !== 1 ? undefined : { price, count: containers.length };
}
