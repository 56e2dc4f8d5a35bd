import { z } from 'zod';
import { refuseUnlikelyRate } from '../dose/exact.ts';
import { labelCheck } from '../label/statements.ts';
import { toDecimal, toPlaces } from '../quantity/fraction.ts';
import { parseRate, printRate } from '../quantity/rate.ts';
import { parseStrength, printStrength } from '../quantity/strength.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({ rate: typedText, perVolume: typedText, strength: typedText.optional() });

export const labelCheckTopic = topic(
  'Whether two dose statements of an insert are the same dose.',
  askSchema,
  (ask) => {
    const rate = parseRate(ask.rate, 'rate');
    const perVolume = parseRate(ask.perVolume, 'perVolume');
    const strength = ask.strength === undefined ? undefined : parseStrength(ask.strength, 'strength');
    refuseUnlikelyRate(rate, 'rate');
    refuseUnlikelyRate(perVolume, 'perVolume');
    const check = labelCheck({ rate, perVolume, strength });
    const unit = { volume: 'ml', mass: 'mg', pieces: 'pieces' }[check.kind];
    const within = strength === undefined ? '' : ` at ${printStrength(strength)}`;
    const percent = toPlaces(check.differencePercent, 2);
    return {
      agree: check.agree,
      differencePercent: toDecimal(check.differencePercent),
      examples: check.examples.map(({ weight, value }) => ({ weight, [unit]: toDecimal(value) })),
      working: [
        { code: 'statements', text: `${printRate(rate)}${within}, against ${printRate(perVolume)}` },
        {
          code: 'difference',
          text: `They differ by ${percent} %, and statements agree within 1 %`,
          source: '21 CFR 520.1454 prints two statements 0.21 % apart',
        },
      ],
      warnings: check.agree
        ? []
        : [
            {
              code: 'statements-disagree',
              text: `The two statements differ by ${percent} %: check both against the insert.`,
            },
          ],
    };
  },
);
