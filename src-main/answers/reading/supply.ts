import type { DataOf } from '../../../src-shared/entries/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { type Amount, amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { fraction, ONE, roundTo } from '../../../src-shared/quantity/fraction.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Price, parsePrice, printPrice } from '../../../src-shared/stock/price.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { recordOf } from './holding.ts';

type Batch = DataOf<'batch-received'>;
export type Written = DataOf<'supply-set'>;
/** A pack that can be got, with the price of one where it is known. */
export type Offer = { size: string; amount: Amount; price?: Price };
/** How a medicine is got, whatever the book has it from. */
export type Supply = {
  supplier?: string;
  offers: Offer[];
  leadDays?: number;
  least?: Amount;
  /** Packs are those of the deliveries so far, because none are written down. */
  isFromDeliveries: boolean;
};

export function writtenSupply(tx: Reader, medicine: string): Written | undefined {
  return recordOf<Written>(tx, 'supply', medicine);
}

/** What the deliveries of a medicine show: the last supplier, and each pack size with the last price of one. */
export function seenSupply(tx: Reader, medicine: string, piece: string | undefined): Supply {
  const batches = tx
    .all<{ data: string }>(
      // A price that came after the delivery goes before what stood in it.
      `SELECT coalesce((SELECT json_set(b.data, '$.price', json(r.data -> '$.price')) FROM record AS r
         WHERE r.what = 'batch-price' AND r.id = b.id), b.data) AS data
       FROM batch AS b WHERE b.medicine = ? ORDER BY b.received, b.seq`,
      medicine,
    )
    .map(({ data }) => JSON.parse(data) as Batch);
  const offers = new Map<number, Offer>();
  let supplier: string | undefined;
  for (const batch of batches) {
    supplier = batch.supplier ?? supplier;
    const sizes = [...new Set(batch.containers.map(({ amount }) => unitsOf(amount)))];
    for (const units of sizes) {
      const kind = batch.containers[0]?.amount.kind ?? 'volume';
      const amount = amountOf(kind, units);
      // A price for packs of several sizes does not say what one of them cost.
      const price =
        sizes.length === 1 && batch.price ? ofOne(batch.price, batch.containers.length) : undefined;
      const known = price ?? offers.get(units)?.price;
      offers.set(units, { size: printAmount(amount, piece), amount, ...optional('price', known) });
    }
  }
  return {
    ...optional('supplier', supplier),
    offers: [...offers].sort(([a], [b]) => a - b).map(([, offer]) => offer),
    isFromDeliveries: true,
  };
}

/** The price of one of so many, to a whole penny upwards: an estimate must not be too low. */
function ofOne(price: Price, count: number): Price {
  const each = roundTo(fraction(price.minorUnits, BigInt(count)), ONE, 'up');
  return { minorUnits: Number(each.n), currency: price.currency };
}

/** What is written down, and where that says nothing what the deliveries show. */
export function supplyOf(tx: Reader, medicine: string, piece: string | undefined): Supply {
  const seen = seenSupply(tx, medicine, piece);
  const written = writtenSupply(tx, medicine);
  if (written === undefined) return seen;
  const isFromDeliveries = written.packs.length === 0;
  return {
    ...optional('supplier', written.supplier ?? seen.supplier),
    offers: isFromDeliveries
      ? seen.offers
      : written.packs.map(({ size, amount, price }) => ({
          size,
          amount: amountOf(amount.kind, unitsOf(amount)),
          ...optional('price', price),
        })),
    ...optional('leadDays', written.leadDays),
    ...optional('least', written.least && amountOf(written.least.kind, unitsOf(written.least))),
    isFromDeliveries,
  };
}

/**
 * The one currency of the book: that of the first price in it. A book keeps to one, because sums in two are no sums.
 * @param except leaves out what is written for this medicine: it is about to be written anew
 */
export function bookCurrency(tx: Reader, except?: string): string | undefined {
  return tx.get<{ currency: string }>(
    `SELECT currency FROM (
       SELECT seq, data ->> '$.price.currency' AS currency FROM batch
       UNION ALL
       SELECT seq, data ->> '$.price.currency' FROM record WHERE what = 'batch-price'
       UNION ALL
       SELECT r.seq, p.value ->> '$.price.currency' FROM record AS r, json_each(r.data, '$.packs') AS p
         WHERE r.what = 'supply' AND r.id IS NOT ?
       UNION ALL
       SELECT r.seq, l.value ->> '$.price.currency' FROM record AS r, json_each(r.data, '$.lines') AS l
         WHERE r.what = 'order')
     WHERE currency IS NOT NULL ORDER BY seq LIMIT 1`,
    except ?? null,
  )?.currency;
}

/** Reads a price in the currency of the book. Refuses (`other-currency`, and what `parsePrice` refuses). */
export function priceInBook(text: string, field: string, currency: string | undefined): Price {
  const price = parsePrice(text, field);
  if (currency === undefined || price.currency === currency) return price;
  throw new Refusal(
    'other-currency',
    `Price: this book keeps its prices in ${currency}, and ${printPrice(price)} is another currency.`,
    { field, next: `Write what it costs in ${currency}.` },
  );
}
