import { z } from 'zod';
import { type DraftPart, type DraftSplit, draftingRefused, MOST_PARTS, planDraft } from '../dose/draft.ts';
import { printWorking } from '../dose/working.ts';
import { PURPOSES } from '../label/terms.ts';
import { inDoseUnits, parseAmount } from '../quantity/amount.ts';
import { parseDecimal, toDecimal } from '../quantity/fraction.ts';
import { parseRate } from '../quantity/rate.ts';
import { parseStrength } from '../quantity/strength.ts';
import { parseWeight, printWeight, weightQuestion } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import { bandAsk, pieceIn, readTable } from './work-out-bands.ts';
import { readCount, typedCount } from './work-out-count.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  weights: z.array(typedText).min(1).max(20_000),
  rate: typedText.optional(),
  ...bandAsk,
  strength: typedText.optional(),
  groups: typedCount,
  step: typedText.optional(),
  capPercent: z.union([typedText, z.number()]).optional(),
  gate: typedText.optional(),
  most: typedText.optional(),
  purpose: z.enum(PURPOSES).optional(),
  narrowMargin: z.boolean().optional(),
});

export const draftTopic = topic(
  'A group parted by weight, each part dosed to its heaviest.',
  askSchema,
  (ask) => {
    const refused = draftingRefused({
      purpose: ask.purpose ?? 'other',
      narrowMargin: ask.narrowMargin ?? false,
    });
    if (refused !== undefined) throw refused;
    const parts = readCount(ask.groups, 'groups');
    if (parts < 1 || parts > MOST_PARTS) {
      throw new Refusal('bad-parts', `Groups: choose from 1 to ${MOST_PARTS} parts.`, { field: 'groups' });
    }
    const bands = readTable(ask);
    if ((ask.rate === undefined) === (bands === undefined)) {
      throw new Refusal('bad-input', 'Rate: give either a rate or bands, and not both.', { field: 'rate' });
    }
    const weights = ask.weights.map((text, i) => ({
      id: String(i),
      weight: parseWeight(text, `weights.${i}`),
    }));
    const draft = planDraft({
      weights,
      parts,
      bands,
      rate: ask.rate === undefined ? undefined : parseRate(ask.rate, 'rate'),
      strength: ask.strength === undefined ? undefined : parseStrength(ask.strength, 'strength'),
      step: ask.step === undefined ? undefined : parseAmount(ask.step, 'step'),
      capPercent:
        ask.capPercent === undefined ? undefined : parseDecimal(String(ask.capPercent), 'capPercent'),
      gate: ask.gate === undefined ? undefined : parseWeight(ask.gate, 'gate'),
      most: ask.most === undefined ? undefined : parseAmount(ask.most, 'most'),
      piece: pieceIn(ask),
    });
    const asked = weights.map(({ weight }) => weightQuestion(weight)).filter((one) => one !== undefined);
    return {
      ...plainSplit(draft.chosen),
      leastProduct: plainSplit(draft.leastProduct),
      leastWorst: plainSplit(draft.leastWorst),
      toHeaviest: plainSplit(draft.toHeaviest),
      working: printWorking(draft.working),
      warnings: [...asked, ...draft.warnings],
    };
  },
);

const UNITS = { volume: 'Ml', mass: 'Mg', pieces: 'Pieces' } as const;

function plainSplit(split: DraftSplit): Record<string, unknown> {
  return {
    parts: split.parts.map(plainPart),
    [`total${UNITS[split.total.kind]}`]: toDecimal(inDoseUnits(split.total)),
    worstOverPercent: toDecimal(split.worstOverPercent),
  };
}

function plainPart(part: DraftPart): Record<string, unknown> {
  return {
    from: printWeight(part.from),
    to: printWeight(part.to),
    count: part.heads,
    [`dose${UNITS[part.dose.kind]}`]: toDecimal(inDoseUnits(part.dose)),
    overPercent: toDecimal(part.overPercent),
    ...(part.gate === undefined ? {} : { gate: printWeight(part.gate) }),
    byItself: part.byItself,
  };
}
