import { z } from 'zod';
import { parseAmount, pieceNamed } from '../quantity/amount.ts';
import { compare, fraction, parseDecimal, toDecimal } from '../quantity/fraction.ts';
import { parseStrength } from '../quantity/strength.ts';
import { printUseWorking, useOf } from '../record/use.ts';
import { parseFactor } from '../record/use-factors.ts';
import { Refusal } from '../refusal.ts';
import { readCount, typedCount } from './work-out-count.ts';
import { topic, typedText } from './work-out-topic.ts';

const number = typedCount;
const askSchema = z.strictObject({
  given: z
    .array(
      z.strictObject({
        amount: typedText,
        strength: typedText,
        /** mg in one IU, or the part of the salt that is the substance: one of the two. */
        iuToMg: number.optional(),
        saltFactor: number.optional(),
      }),
    )
    .max(1000),
  animals: z.array(z.strictObject({ count: number, kg: number })).max(1000),
});

export const useTopic = topic(
  'Active substance used, in mg for each kg of the animals.',
  askSchema,
  ({ given, animals }) => {
    const read = given.map(({ amount, strength, iuToMg, saltFactor }, i) => {
      const at = (name: string) => `given.${i}.${name}`;
      return {
        strength: parseStrength(strength, at('strength')),
        amount: parseAmount(amount, at('amount')),
        piece: pieceNamed(amount),
        iu: iuToMg === undefined ? undefined : parseFactor(String(iuToMg), at('iuToMg'), 'iu'),
        salt:
          saltFactor === undefined ? undefined : parseFactor(String(saltFactor), at('saltFactor'), 'salt'),
      };
    });
    const { totalMg, mgPerKg, working } = useOf(
      read,
      animals.map(({ count, kg }, i) => ({
        count: headsIn(count, `animals.${i}.count`),
        kg: kilogramsIn(String(kg), `animals.${i}.kg`),
      })),
    );
    return {
      totalMg: toDecimal(totalMg),
      mgPerKg: toDecimal(mgPerKg),
      working: printUseWorking(working),
      warnings: [],
    };
  },
);

function headsIn(count: z.output<typeof typedCount>, field: string): number {
  const heads = readCount(count, field);
  if (heads >= 0 && heads <= 10_000_000) return heads;
  throw new Refusal('bad-count', 'Count: write a number of animals from 0 to ten million.', { field });
}

function kilogramsIn(text: string, field: string) {
  const value = parseDecimal(text.replace(/\s*kg$/i, ''), field);
  if (value.n > 0n && compare(value, fraction(2000)) <= 0) return value;
  throw new Refusal('bad-weight', 'kg: write the weight of one animal in kg, above 0 and at most 2000.', {
    field,
  });
}
