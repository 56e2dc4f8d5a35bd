import type { DataOf } from '../../../src-shared/entries/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import {
  add,
  divide,
  type Fraction,
  fraction,
  multiply,
  ZERO,
} from '../../../src-shared/quantity/fraction.ts';
import type { Reader } from '../../store/store.ts';

/** Minor units of a currency for one base unit (µL, µg, piece) of a container; exact. */
export type UnitPrice = { currency: string; each: Fraction };

type Made = { units: number; from: { container: string; units: number }[] };

/**
 * What one base unit in a container cost: the price of its delivery over all that came in it; of what was made up on
 * the farm, what went into it over what it made. Nothing where any part of that has no price, or two currencies.
 */
export function unitPrices(tx: Reader): (container: string) => UnitPrice | undefined {
  const known = new Map<string, UnitPrice | undefined>();
  const delivered = deliveredPrices(tx);
  const made = madeUp(tx);
  const priceOf = (container: string): UnitPrice | undefined => {
    if (known.has(container)) return known.get(container);
    // A container cannot be made from itself, but a wrong book must not run for ever.
    known.set(container, undefined);
    const found = delivered.get(container) ?? mixedPrice(made.get(container), priceOf);
    known.set(container, found);
    return found;
  };
  return priceOf;
}

function deliveredPrices(tx: Reader): Map<string, UnitPrice> {
  const found = new Map<string, UnitPrice>();
  for (const { data, later } of tx.all<{ data: string; later: string | null }>(
    `SELECT batch.data, record.data AS later FROM batch
     LEFT JOIN record ON record.what = 'batch-price' AND record.id = batch.id`,
  )) {
    const { price: first, containers } = JSON.parse(data) as DataOf<'batch-received'>;
    const price = later === null ? first : (JSON.parse(later) as DataOf<'batch-priced'>).price;
    const units = containers.reduce((sum, { amount }) => sum + unitsOf(amount), 0);
    if (price === undefined || units === 0) continue;
    const each = fraction(price.minorUnits, BigInt(units));
    for (const { container } of containers) found.set(container, { currency: price.currency, each });
  }
  return found;
}

/** What was made up from what: the movements of one entry belong together. */
function madeUp(tx: Reader): Map<string, Made> {
  const rows = tx.all<{ made: string; units: number; source: string | null; used: number | null }>(
    `SELECT substr(m.subject, 11) AS made, m.units, substr(u.subject, 11) AS source, -u.units AS used
     FROM movement AS m LEFT JOIN movement AS u ON u.seq = m.seq AND u.cause = 'used-to-make'
     WHERE m.cause = 'made-up'`,
  );
  const found = new Map<string, Made>();
  for (const { made, units, source, used } of rows) {
    const one = found.get(made) ?? { units, from: [] };
    found.set(made, one);
    if (source !== null && used !== null) one.from.push({ container: source, units: used });
  }
  return found;
}

function mixedPrice(
  made: Made | undefined,
  priceOf: (container: string) => UnitPrice | undefined,
): UnitPrice | undefined {
  if (made === undefined || made.units === 0 || made.from.length === 0) return undefined;
  let sum = ZERO;
  let currency: string | undefined;
  for (const { container, units } of made.from) {
    const price = priceOf(container);
    if (price === undefined || (currency !== undefined && price.currency !== currency)) return undefined;
    ({ currency } = price);
    sum = add(sum, multiply(price.each, fraction(units)));
  }
  return currency === undefined ? undefined : { currency, each: divide(sum, fraction(made.units)) };
}
