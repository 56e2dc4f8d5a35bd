import { z } from 'zod';
import { type DoseAsk, type Syringe, workOutDose } from '../dose/dose.ts';
import { printWorking } from '../dose/working.ts';
import { ROUNDINGS } from '../label/terms.ts';
import { type Amount, baseOf, inDoseUnits, parseAmount, printAmount } from '../quantity/amount.ts';
import { compare, fraction, toDecimal } from '../quantity/fraction.ts';
import { parseRate } from '../quantity/rate.ts';
import { parseStrength } from '../quantity/strength.ts';
import { kilograms, parseWeight, printWeight, type Weight, weightQuestion } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Warning } from '../working.ts';
import { bandAsk, pieceIn, readTable } from './work-out-bands.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  weight: typedText.optional(),
  rate: typedText.optional(),
  ...bandAsk,
  strength: typedText.optional(),
  syringe: z.strictObject({ capacity: typedText, graduation: typedText }).optional(),
  rounding: z.enum(ROUNDINGS).optional(),
  maxPerSite: typedText.optional(),
  least: typedText.optional(),
  most: typedText.optional(),
});

export const doseTopic = topic(
  'The dose of one animal, what to draw and in how many sites.',
  askSchema,
  (ask) => {
    const weight = ask.weight === undefined ? undefined : parseWeight(ask.weight, 'weight');
    const bands = readTable(ask);
    if ((ask.rate === undefined) === (bands === undefined)) {
      const message = 'Rate: give either a rate or bands, and not both.';
      throw new Refusal('bad-input', message, { field: 'rate' });
    }
    const least = readBound(ask.least, 'least', weight);
    const most = readBound(ask.most, 'most', weight);
    const question: DoseAsk = {
      weight,
      rate: ask.rate === undefined ? undefined : parseRate(ask.rate, 'rate'),
      bands,
      strength: ask.strength === undefined ? undefined : parseStrength(ask.strength, 'strength'),
      syringe: ask.syringe === undefined ? undefined : readSyringe(ask.syringe, 'syringe'),
      rounding: ask.rounding,
      maxPerSite: ask.maxPerSite === undefined ? undefined : parseAmount(ask.maxPerSite, 'maxPerSite'),
      least,
      most,
      piece: pieceIn(ask),
    };
    const answer = workOutDose(question);
    const unit = { volume: 'Ml', mass: 'Mg', pieces: 'Pieces' }[answer.draw.kind];
    const asked = weight === undefined ? undefined : weightQuestion(weight);
    return {
      [`exact${unit}`]: toDecimal(answer.exact),
      [`draw${unit}`]: plain(answer.draw),
      sites: answer.sites.map((site) => ({ [unit.toLowerCase()]: plain(site) })),
      ...(answer.deliveredPerKg === undefined
        ? {}
        : { deliveredPerKg: toDecimal(answer.deliveredPerKg), deliveredUnit: answer.deliveredUnit }),
      deviationPercent: toDecimal(answer.deviationPercent),
      working: printWorking(answer.working),
      warnings: [...(asked === undefined ? [] : [asked]), ...muchAtOnce(answer.draw), ...answer.warnings],
    };
  },
);

/** The route is not asked here, so the bound is that of a drench (practice, as where a label is typed). It only asks. */
const MOST_AT_ONCE_ML = fraction(150);

function muchAtOnce(draw: Amount): Warning[] {
  if (draw.kind !== 'volume' || compare(inDoseUnits(draw), MOST_AT_ONCE_ML) <= 0) return [];
  const text = `${printAmount(draw)} is much for one sheep, even by mouth: check weight, rate and strength.`;
  return [{ code: 'much-at-once', text }];
}

function plain(amount: Amount): string {
  return toDecimal(inDoseUnits(amount));
}

/** A syringe as typed: its marks must be above zero and not wider than the syringe. */
export function readSyringe(text: { capacity: string; graduation: string }, field: string): Syringe {
  const capacity = parseAmount(text.capacity, `${field}.capacity`);
  const graduation = parseAmount(text.graduation, `${field}.graduation`);
  for (const [name, amount] of [
    ['capacity', capacity],
    ['graduation', graduation],
  ] as const) {
    if (amount.kind !== 'volume' || baseOf(amount) === 0) {
      const message = `${name === 'capacity' ? 'Capacity' : 'Graduation'}: write it in mL, above zero.`;
      throw new Refusal('bad-syringe', message, { field: `${field}.${name}` });
    }
  }
  if (baseOf(graduation) > baseOf(capacity)) {
    throw new Refusal('bad-syringe', 'Graduation: the marks cannot be wider than the syringe holds.', {
      field: `${field}.graduation`,
    });
  }
  return { capacity, graduation };
}

/** A floor or ceiling is a dose, or a weight ("10 kg") that is held against the animal's own. */
function readBound(
  text: string | undefined,
  name: 'least' | 'most',
  weight: Weight | undefined,
): Amount | undefined {
  if (text === undefined) return undefined;
  if (!/(kg|lbs?)\s*$/i.test(text)) return parseAmount(text, name);
  const limit = parseWeight(text, name);
  if (weight === undefined) {
    throw new Refusal(
      'weight-missing',
      `Weight: the label has a limit of ${printWeight(limit)}, so weigh first.`,
      {
        field: 'weight',
      },
    );
  }
  const side = compare(kilograms(weight), kilograms(limit));
  if (name === 'least' ? side >= 0 : side <= 0) return undefined;
  throw new Refusal(
    name === 'least' ? 'under-least' : 'over-most',
    `Weight: ${printWeight(weight)} is ${name === 'least' ? 'under' : 'over'} ${printWeight(limit)}, the ${name} the label allows.`,
    { field: 'weight', next: 'Do not give it; ask the vet.' },
  );
}
