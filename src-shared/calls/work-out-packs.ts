import { z } from 'zod';
import { inDoseUnits, parseAmount, printAmount } from '../quantity/amount.ts';
import { sayField } from '../quantity/field.ts';
import { fraction, multiply, parseDecimal, toDecimal } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import { planPacks } from '../stock/packs.ts';
import type { PackOffer, PacksAsk } from '../stock/packs-types.ts';
import { parsePrice, printPrice } from '../stock/price.ts';
import { parseInUse } from '../stock/use-by.ts';
import { printStockWorking } from '../stock/working.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  needs: z.array(z.strictObject({ on: typedText, amount: typedText })).max(1000),
  packs: z.array(z.strictObject({ size: typedText, price: z.union([typedText, z.number()]) })).max(100),
  inUse: typedText.optional(),
  zone: typedText.optional(),
});

export const packsTopic = topic(
  'The cheapest packs for needs by date, when an opened pack does not keep.',
  askSchema,
  (ask) => {
    const { offers, printMoney } = readOffers(ask.packs);
    const question: PacksAsk = {
      needs: ask.needs.map(({ on, amount }, i) => ({ on, amount: parseAmount(amount, `needs.${i}.amount`) })),
      packs: offers,
      inUse: ask.inUse,
      zone: ask.zone,
      printMoney,
    };
    const plan = planPacks(question);
    const name = (pack: number) => {
      const offer = offers[pack];
      if (offer === undefined) throw new RangeError('Only packs that were asked about are bought.');
      return printAmount(offer.size);
    };
    const unit = { volume: 'Ml', mass: 'Mg', pieces: 'Pieces' }[plan.leftOver.kind];
    return {
      buy: plan.buy.map(({ pack, count }) => ({ size: name(pack), count })),
      cost: printMoney(plan.cost),
      [`leftOver${unit}`]: toDecimal(inDoseUnits(plan.leftOver)),
      days: plan.days.map(({ on, opens }) => ({
        on,
        opens: opens.flatMap((count, pack) => (count === 0 ? [] : [{ size: name(pack), count }])),
      })),
      working: printStockWorking(plan.working),
      warnings: clockWarning(ask),
    };
  },
);

/** Without a currency a price is taken to three digits after the point, which is what the finest currency has. */
const THOUSAND = fraction(1000);

/** Prices, all in one currency or all without, as whole minor units, and how to print such a sum. */
function readOffers(packs: z.output<typeof askSchema>['packs']): {
  offers: PackOffer[];
  printMoney: (minorUnits: number) => string;
} {
  const read = packs.map(({ size, price }, i) => {
    const field = `packs.${i}.price`;
    const text = String(price).trim();
    return {
      size: parseAmount(size, `packs.${i}.size`),
      ...(/[A-Za-z]{3}$/.test(text)
        ? parsePrice(text, field)
        : { minorUnits: bare(text, field), currency: '' }),
    };
  });
  const currency = read[0]?.currency ?? '';
  const other = read.findIndex((one) => one.currency !== currency);
  if (other >= 0) {
    throw new Refusal('bad-price', 'Price: all prices must be in the same currency, or all without one.', {
      field: `packs.${other}.price`,
      next: 'Write the prices in one currency.',
    });
  }
  return {
    offers: read.map(({ size, minorUnits }) => ({ size, price: minorUnits })),
    printMoney: (minorUnits) =>
      currency === '' ? toDecimal(fraction(minorUnits, 1000n)) : printPrice({ minorUnits, currency }),
  };
}

function bare(text: string, field: string): number {
  const minor = multiply(parseDecimal(text, field), THOUSAND);
  if (minor.d === 1n) return Number(minor.n);
  throw new Refusal('bad-price', `${sayField(field)}: write at most three digits after the point.`, {
    field,
  });
}

function clockWarning({ inUse, zone, needs }: z.output<typeof askSchema>): { code: string; text: string }[] {
  const life = inUse === undefined ? 'none' : parseInUse(inUse);
  if (typeof life === 'string' || life.unit === 'd' || zone !== undefined) return [];
  if (!needs.some(({ on }) => on.trim().length > 10)) return [];
  return [
    {
      code: 'clock-change',
      text: 'Hours are counted by an even clock: name the time zone where the clocks may change in between.',
    },
  ];
}
