import { z } from 'zod';
import { mixture } from '../dose/mix.ts';
import { printWorking } from '../dose/working.ts';
import { inDoseUnits, parseAmount, pieceWord, splitUnit } from '../quantity/amount.ts';
import { toDecimal } from '../quantity/fraction.ts';
import { parseStrength } from '../quantity/strength.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  amount: typedText,
  strength: typedText.optional(),
  water: typedText.optional(),
  madeUpTo: typedText.optional(),
});

export const madeUpTopic = topic(
  'How strong a powder or concentrate is once water is added.',
  askSchema,
  (ask) => {
    const piece = pieceWord(splitUnit(ask.amount, 'amount').unit);
    const made = mixture({
      from: [
        {
          amount: parseAmount(ask.amount, 'amount'),
          strength: ask.strength === undefined ? undefined : parseStrength(ask.strength, 'strength'),
          piece,
          field: '',
        },
      ],
      water: ask.water === undefined ? undefined : parseAmount(ask.water, 'water'),
      madeUpTo: ask.madeUpTo === undefined ? undefined : parseAmount(ask.madeUpTo, 'madeUpTo'),
    });
    return {
      strength: made.strength,
      perMl: toDecimal(made.perMl),
      unit: made.unit,
      volumeMl: toDecimal(inDoseUnits(made.volume)),
      working: printWorking(made.working),
      warnings: made.warnings,
    };
  },
);
