import { attempt } from '../../../src-shared/refusal.ts';
import type { ReadPack } from './scan-field.tsx';
import { readExpiry } from './words.ts';

/** The fields of a delivery that a scan fills. */
export type Scanned = {
  medicine: string;
  number: string;
  expiry: string;
  packs: string;
  code: string;
  serials: readonly string[];
};

/**
 * What a scanned pack makes of a delivery: of an empty one its product, batch and expiry; of the same batch one pack
 * more. Nothing that was typed is overwritten by something else: then `wrong` says what to do.
 */
export function addScan(now: Scanned, pack: ReadPack): { change: Partial<Scanned> } | { wrong: string } {
  const { gtin, number, expiry, serial, product, sameSerial } = pack;
  if (serial !== undefined && now.serials.includes(serial)) {
    return {
      wrong: `Serial number ${serial} was scanned already: scan each pack once, or type how many came.`,
    };
  }
  if (sameSerial !== undefined) {
    return {
      wrong: `Serial number ${serial} is in the book already: ${sameSerial}. If this is really another pack, type it in by hand.`,
    };
  }
  if (now.code !== '' && now.code !== gtin) {
    return { wrong: 'This pack is of another product or size. Take in the first one, then this one.' };
  }
  if (product !== undefined && now.medicine !== '' && now.medicine !== product.medicine) {
    return {
      wrong: `This pack is ${product.name}, and another medicine is chosen. Choose it, or scan the right pack.`,
    };
  }
  const isOther = (typed: string, read: string | undefined) =>
    typed.trim() !== '' && read !== undefined && typed.trim() !== read;
  if (isOther(now.number, number)) {
    return { wrong: `This pack is of batch ${number}. Take in batch ${now.number} first, then this one.` };
  }
  if (isOther(printed(now.expiry), expiry)) {
    return {
      wrong: `This pack has the expiry ${expiry}, and ${now.expiry} is written. Compare them with the packs.`,
    };
  }
  // One more only where the code says that it is the same batch: the long code is the same on every pack.
  const isAgain = now.code === gtin && number !== undefined && now.number.trim() === number;
  return {
    change: {
      code: gtin,
      ...(product === undefined ? {} : { medicine: product.medicine }),
      ...(number === undefined ? {} : { number }),
      ...(expiry === undefined ? {} : { expiry }),
      ...(serial === undefined ? {} : { serials: [...now.serials, serial] }),
      packs: isAgain ? oneMore(now.packs) : now.packs.trim() === '' ? sizeOf(product?.size) : now.packs,
    },
  };
}

/** "2027-03" for "03/2027"; what cannot be read stays as it is. */
function printed(expiry: string): string {
  const outcome = attempt(() => readExpiry(expiry));
  return outcome.ok ? outcome.value.printed : expiry;
}

const sizeOf = (size: string | undefined) => (size === undefined ? '' : `1 × ${size}`);

/** "2 × 500 mL" for "1 × 500 mL". Anything else stays as it was typed. */
export function oneMore(packs: string): string {
  const match = /^\s*(?:(\d{1,3})\s*[x×*]\s*)?([^,;\n]+?)\s*$/i.exec(packs);
  if (match?.[2] === undefined) return packs;
  return `${Number(match[1] ?? '1') + 1} × ${match[2]}`;
}
