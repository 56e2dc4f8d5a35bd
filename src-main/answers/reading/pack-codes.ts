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
  const found = packsOf(tx, medicine, serial).find((one) => one.serial === serial);
  return found && `${found.label}, taken in on ${printLocal(found.received)}`;
}

/** The serial numbers of the containers of a medicine that have one, by container. */
export function serialsOf(tx: Reader, medicine: string): Map<string, string> {
  return new Map(
    packsOf(tx, medicine, '').flatMap(({ container, serial }) =>
      serial === undefined ? [] : [[container, serial] as const],
    ),
  );
}

/** The containers of the deliveries that speak of a text; an empty one: of all. */
function packsOf(tx: Reader, medicine: string, text: string) {
  return tx
    .all<{ received: string; data: string }>(
      'SELECT received, data FROM batch WHERE medicine = ? AND instr(data, ?) > 0 ORDER BY seq',
      medicine,
      text === '' ? '{' : JSON.stringify(text),
    )
    .flatMap(({ received, data }) =>
      (JSON.parse(data) as DataOf<'batch-received'>).containers.map((one) => ({ ...one, received })),
    );
}
