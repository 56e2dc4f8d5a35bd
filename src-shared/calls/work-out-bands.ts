import { z } from 'zod';
import { type BandTable, checkBands } from '../dose/bands.ts';
import { parseAmount, pieceWord, splitUnit } from '../quantity/amount.ts';
import { parseWeight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import { typedText } from './work-out-topic.ts';

/** How a topic is asked about doses by bands of weight. */
export const bandAsk = {
  bands: z
    .array(z.strictObject({ upTo: typedText, dose: typedText }))
    .min(1)
    .max(40)
    .optional(),
  from: typedText.optional(),
  furtherStep: z.strictObject({ each: typedText, dose: typedText }).optional(),
};

type BandAsk = z.output<z.ZodObject<typeof bandAsk>>;

/** The word for a piece that the bands use, so that the working says bolus where the label does. */
export function pieceIn(ask: BandAsk): string | undefined {
  const dose = ask.bands?.[0]?.dose;
  return dose === undefined ? undefined : pieceWord(splitUnit(dose, 'bands.0.dose').unit);
}

/** The bands as typed, or undefined without any. Refuses what `checkBands` refuses, and a floor or step without bands. */
export function readTable(ask: BandAsk): BandTable | undefined {
  if (ask.bands === undefined) {
    const stray = ask.from !== undefined ? 'from' : ask.furtherStep !== undefined ? 'furtherStep' : undefined;
    if (stray !== undefined) {
      throw new Refusal('bad-input', `${stray === 'from' ? 'From' : 'Further step'}: it belongs to bands.`, {
        field: stray,
      });
    }
    return undefined;
  }
  const table: BandTable = {
    bands: ask.bands.map((band, i) => ({
      upTo: parseWeight(band.upTo, `bands.${i}.upTo`),
      dose: parseAmount(band.dose, `bands.${i}.dose`),
    })),
    from: ask.from === undefined ? undefined : parseWeight(ask.from, 'from'),
    furtherStep:
      ask.furtherStep === undefined
        ? undefined
        : {
            each: parseWeight(ask.furtherStep.each, 'furtherStep.each'),
            dose: parseAmount(ask.furtherStep.dose, 'furtherStep.dose'),
          },
  };
  checkBands(table, 'bands');
  return table;
}
