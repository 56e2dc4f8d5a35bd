import type { Reply } from '../../../src-shared/calls/all.ts';

/** As many pack sizes as the desk compares. */
export const MOST_SIZES = 12;

export type SupplyValues = Record<string, string> & { supplier: string; leadDays: string; least: string };

/** Names as the desk names them, so that a refusal lands beside its field. */
export const sizeField = (n: number) => `packs.${n}.size`;
export const priceField = (n: number) => `packs.${n}.price`;

/** What stands in the form at first: what is written, else what the deliveries show. */
export function supplyStart({ written, seen }: Reply<'supply'>): SupplyValues {
  const packs = written === undefined || written.packs.length === 0 ? seen.packs : written.packs;
  const rows = Array.from({ length: MOST_SIZES }, (_, n) => [
    [sizeField(n), packs[n]?.size ?? ''],
    [priceField(n), packs[n]?.price ?? ''],
  ]).flat();
  return {
    ...Object.fromEntries(rows),
    supplier: written?.supplier ?? seen.supplier ?? '',
    leadDays: written?.leadDays === undefined ? '' : String(written.leadDays),
    least: written?.least ?? '',
  };
}

/**
 * The packs up to the last row that has anything in it. A row between them that is empty goes to the desk as it is,
 * which says so beside it: closing it up would put what is refused beside another row.
 */
export function packsOf(values: SupplyValues): { size: string; price?: string }[] {
  const rows = Array.from({ length: MOST_SIZES }, (_, n) => ({
    size: values[sizeField(n)] ?? '',
    price: values[priceField(n)] ?? '',
  }));
  const last = rows.findLastIndex(({ size, price }) => size.trim() !== '' || price.trim() !== '');
  return rows.slice(0, last + 1).map(({ size, price }) => (price.trim() === '' ? { size } : { size, price }));
}
