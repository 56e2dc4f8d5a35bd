import { z } from 'zod';
import { howShort } from '../dose/leak.ts';
import { printWorking } from '../dose/working.ts';
import { inDoseUnits, parseAmount } from '../quantity/amount.ts';
import { toDecimal } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import { readCount, typedCount } from './work-out-count.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  dose: typedText,
  drops: typedCount.optional(),
  lost: typedText.optional(),
});

export const leakTopic = topic(
  'How short an animal is when some of its dose ran out again.',
  askSchema,
  (ask) => {
    const given = parseAmount(ask.dose, 'dose');
    const lost =
      ask.drops !== undefined && ask.lost === undefined
        ? { drops: readCount(ask.drops, 'drops') }
        : ask.lost !== undefined && ask.drops === undefined
          ? { amount: parseAmount(ask.lost, 'lost') }
          : undefined;
    if (lost === undefined) {
      throw new Refusal('bad-input', 'Lost: give either drops or an amount, and not both.', {
        field: 'lost',
      });
    }
    const short = howShort(lost, given);
    const unit = { volume: 'Ml', mass: 'Mg', pieces: 'Pieces' }[short.lost.kind];
    return {
      [`lost${unit}`]: toDecimal(inDoseUnits(short.lost)),
      shortPercent: toDecimal(short.shortPercent),
      ...(short.leastPercent === undefined ? {} : { leastPercent: toDecimal(short.leastPercent) }),
      ...(short.mostPercent === undefined ? {} : { mostPercent: toDecimal(short.mostPercent) }),
      working: printWorking(short.working),
      warnings: [{ code: 'give-no-more', text: 'Give more only if the label or the vet allows it.' }],
    };
  },
);
