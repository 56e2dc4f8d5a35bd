import type { packCodeCalls } from '../../../src-shared/calls/pack-code.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { readPackCode } from '../../../src-shared/stock/pack-code.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import type { Answers } from '../context.ts';
import { nowLocal } from '../medicine/answers.ts';
import { optional } from '../optional.ts';
import { medicineName } from '../reading/labels.ts';
import { packOfSerial, productOf, serialsOf } from '../reading/pack-codes.ts';
import { stockRows } from '../reading/stock.ts';
import { deliveriesOf } from '../recall/batch.ts';

/**
 * Containers of a batch that are still here, by their labels: the one with the serial number where the book has it,
 * and none whose own serial number is known to be another.
 */
function onShelf(
  tx: Reader,
  medicine: string,
  batchKey: string,
  serial: string | undefined,
): { container: string; label: string }[] {
  const serials = serialsOf(tx, medicine);
  const its = [...serials].find(([, own]) => own === serial)?.[0];
  const mayBe = (id: string) => {
    if (its !== undefined) return id === its;
    return serial === undefined || !serials.has(id);
  };
  return stockRows(tx, medicine)
    .filter(
      ({ number, state }) => searchKey(number) === batchKey && state !== 'disposed' && state !== 'returned',
    )
    .filter(({ id }) => mayBe(id))
    .map(({ id, label }) => ({ container: id, label }))
    .sort((a, b) => a.label.localeCompare(b.label, 'en', { numeric: true }));
}

/** Codes of packs against the book. What cannot be read in one way only is refused with what to do. */
export const packCodeAnswers: Answers<keyof typeof packCodeCalls> = {
  'read-pack'(context, asked) {
    const tx = context.store.read;
    const today = nowLocal(context, tx).slice(0, 10) as Day;
    const code = readPackCode(asked.scan, { on: today });
    const product = productOf(tx, code.gtin);
    const key = code.batch === undefined ? undefined : searchKey(code.batch);
    const batches = new Map<string, { batch: string; number: string; name: string }>();
    for (const { id, medicine, number } of deliveriesOf(tx)) {
      if (key === undefined || searchKey(number) !== key) continue;
      if (product !== undefined && medicine !== product.medicine) continue;
      batches.set(medicine, { batch: id, number, name: medicineName(tx, medicine) });
    }
    const sameSerial =
      product === undefined || code.serial === undefined
        ? undefined
        : packOfSerial(tx, product.medicine, code.serial);
    const warnings: Warning[] = [];
    if (code.expiry !== undefined && code.expiry.lastDay < today) {
      const text = `This pack expired: ${printDay(code.expiry.lastDay)} was its last day.`;
      warnings.push({ code: 'expired', text });
    }
    if (!code.lettersSure && /[yz]/i.test(`${code.batch ?? ''}${code.serial ?? ''}`)) {
      const text = 'Compare Y and Z with the pack: a scanner set for another country changes them round.';
      warnings.push({ code: 'compare-letters', text });
    }
    return {
      gtin: code.gtin,
      ...optional('expiry', code.expiry?.printed),
      ...optional('number', code.batch),
      ...optional('serial', code.serial),
      ...optional(
        'product',
        product && {
          medicine: product.medicine,
          name: medicineName(tx, product.medicine),
          ...optional('size', product.size),
        },
      ),
      batches: [...batches.values()],
      here: product === undefined || key === undefined ? [] : onShelf(tx, product.medicine, key, code.serial),
      ...optional('sameSerial', sameSerial),
      warnings,
    };
  },
};
