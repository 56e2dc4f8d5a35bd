import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src-shared/refusal.ts';
import { readPackCode } from '../../src-shared/stock/pack-code.ts';
import { seeded } from './seed.ts';

const GS = '\u001d';

/** The check digit by its definition, without the program's own. */
function withCheck(digits: string): string {
  const sum = [...digits].reduceRight(
    ({ total, weight }, digit) => ({ total: total + weight * Number(digit), weight: 4 - weight }),
    { total: 0, weight: 3 },
  ).total;
  return digits + String((1000 - sum) % 10);
}

const product = fc
  .array(fc.integer({ min: 0, max: 9 }), { minLength: 12, maxLength: 12 })
  .filter((digits) => digits.some((digit) => digit > 0))
  .map((digits) => withCheck(`0${digits.join('')}`));
const day = fc.record({
  year: fc.integer({ min: 20, max: 60 }),
  month: fc.integer({ min: 1, max: 12 }),
  day: fc.integer({ min: 1, max: 28 }),
});
const signs = (most: number) =>
  fc
    .array(fc.constantFrom(...'0123456789ABCXYZabc-/._'), { minLength: 1, maxLength: most })
    .map((letters) => letters.join(''));
const packs = fc.record({ product, day, batch: signs(20), serial: signs(20) });
type Pack = {
  product: string;
  day: { year: number; month: number; day: number };
  batch: string;
  serial: string;
};

const two = (n: number) => String(n).padStart(2, '0');
const fixed = ({ product: gtin, day: on }: Pack) => `01${gtin}17${on.year}${two(on.month)}${two(on.day)}`;
const expiryOf = ({ day: on }: Pack) => `20${on.year}-${two(on.month)}-${two(on.day)}`;

function orRefusal(scan: string) {
  try {
    return readPackCode(scan);
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown;
    throw thrown;
  }
}

describe('a pack code', () => {
  it('with its separators is read as it was made', () => {
    fc.assert(
      fc.property(packs, (pack) => {
        const { batch, serial } = pack;
        // A serial that holds a whole product number is another scan, and these are too short to hold one by chance.
        const read = readPackCode(`${fixed(pack)}10${batch}${GS}21${serial}`);
        expect(read).toMatchObject({
          gtin: pack.product,
          expiry: { lastDay: expiryOf(pack) },
          batch,
          serial,
        });
      }),
      seeded('pack code'),
    );
  });

  it('that lost a separator is never read', () => {
    fc.assert(
      fc.property(packs, (pack) => {
        const { batch, serial } = pack;
        for (const scan of [
          `${fixed(pack)}10${batch}21${serial}`,
          `01${pack.product}10${batch}17${expiryOf(pack).replaceAll('-', '').slice(2)}`,
          `${fixed(pack)}10${batch}${fixed(pack)}10${batch}`,
        ]) {
          expect(orRefusal(scan)).toMatchObject({ name: 'Refusal', field: 'scan' });
        }
      }),
      seeded('pack code without separator'),
    );
  });

  it('that broke off gives no other product and no other expiry', () => {
    fc.assert(
      fc.property(packs, fc.nat(70), (pack, cut) => {
        const read = orRefusal(`${fixed(pack)}10${pack.batch}${GS}21${pack.serial}`.slice(0, cut));
        if (read instanceof Refusal) return;
        expect(read.gtin).toBe(pack.product);
        if (read.expiry !== undefined) expect(read.expiry.lastDay).toBe(expiryOf(pack));
        expect(pack.batch.startsWith(read.batch ?? '')).toBe(true);
        expect(pack.serial.startsWith(read.serial ?? '')).toBe(true);
      }),
      seeded('pack code broken off'),
    );
  });

  it('that broke off after 13 signs is not taken for a linear code', () => {
    fc.assert(
      fc.property(packs, (pack) => {
        expect(orRefusal(fixed(pack).slice(0, 13))).toMatchObject({ name: 'Refusal' });
      }),
      seeded('pack code of 13 signs'),
    );
  });
});
