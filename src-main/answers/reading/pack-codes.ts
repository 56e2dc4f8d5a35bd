import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Reader } from '../../store/store.ts';
import { recordOf } from './holding.ts';
import { printLocal } from './labels.ts';

type ProductCode = DataOf<'product-code-set'>;

/** What a product number stands for, or nothing when it was never taken in. */
export function productOf(tx: Reader, gtin: string): ProductCode | undefined {
  return recordOf<ProductCode>(tx, 'product-code', gtin);
}

/** The pack of a medicine with this serial number, in words: "B4-1, taken in on 1 May 2026". */
export function packOfSerial(tx: Reader, medicine: string, serial: string): string | undefined {
  const rows = tx.all<{ received: string; data: string }>(
    'SELECT received, data FROM batch WHERE medicine = ? AND instr(data, ?) > 0 ORDER BY seq',
    medicine,
    JSON.stringify(serial),
  );
  for (const { received, data } of rows) {
    const { containers } = JSON.parse(data) as DataOf<'batch-received'>;
    const found = containers.find((one) => one.serial === serial);
    if (found) return `${found.label}, taken in on ${printLocal(received)}`;
  }
  return undefined;
}
