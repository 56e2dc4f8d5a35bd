import { z } from 'zod';
import { checkGun } from '../dose/gun.ts';
import { printWorking } from '../dose/working.ts';
import { inDoseUnits, parseAmount } from '../quantity/amount.ts';
import { toDecimal, toSignificant } from '../quantity/fraction.ts';
import { readCount, typedCount } from './work-out-count.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  setTo: typedText,
  shots: typedCount.optional(),
  total: typedText.optional(),
  each: z.array(typedText).max(200).optional(),
  graduation: typedText.optional(),
});

export const gunCheckTopic = topic(
  'Whether a dosing gun gives what it stands at, and what to set it to.',
  askSchema,
  (ask) => {
    const found = checkGun({
      setTo: parseAmount(ask.setTo, 'setTo'),
      shots: ask.shots === undefined ? undefined : readCount(ask.shots, 'shots'),
      total: ask.total === undefined ? undefined : parseAmount(ask.total, 'total'),
      each: ask.each?.map((shot, i) => parseAmount(shot, `each.${i}`)),
      graduation: ask.graduation === undefined ? undefined : parseAmount(ask.graduation, 'graduation'),
    });
    return {
      shots: found.shots,
      meanMl: toDecimal(found.mean),
      offPercent: toDecimal(found.offPercent),
      ...(found.spreadPercent === undefined ? {} : { spreadPercent: toSignificant(found.spreadPercent, 9) }),
      verdict: found.verdict,
      ...(found.newSetting === undefined ? {} : { newSettingMl: toDecimal(inDoseUnits(found.newSetting)) }),
      says: found.says,
      working: printWorking(found.working),
      warnings: found.warnings,
    };
  },
);
