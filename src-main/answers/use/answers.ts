import type { Asked } from '../../../src-shared/calls/all.ts';
import type { useCalls } from '../../../src-shared/calls/use.ts';
import { compare, fraction, toDecimal } from '../../../src-shared/quantity/fraction.ts';
import { kilograms, parseWeight } from '../../../src-shared/quantity/weight.ts';
import { parseFactor } from '../../../src-shared/record/use-factors.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Answers, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { usePaper } from './paper.ts';
import { answerUse } from './use.ts';

/** Refuses `both-factors`, `bad-factor`, `bad-number`. */
function setSubstance(context: Context, asked: Asked<'set-substance'>) {
  return write<'set-substance'>(context, asked, (act) => {
    const { substance, salt, group, iuToMg, saltFactor } = asked;
    if (iuToMg !== undefined && saltFactor !== undefined) {
      throw new Refusal(
        'both-factors',
        'Salt factor: give this one or the mg in one IU, never both: the IU already count the substance alone.',
        { field: 'saltFactor', next: 'Leave one of the two empty.' },
      );
    }
    if (iuToMg !== undefined) parseFactor(iuToMg, 'iuToMg', 'iu');
    if (saltFactor !== undefined) parseFactor(saltFactor, 'saltFactor', 'salt');
    act.add('substance-set', {
      substance,
      group,
      ...optional('salt', salt),
      ...optional('iuToMg', iuToMg?.trim()),
      ...optional('saltFactor', saltFactor?.trim()),
    });
    return { done: true };
  });
}

const MOST_KG = fraction(200);

/** A standard weight as kg. Refuses (`bad-weight`) more than any sheep weighs. */
function standardKg(text: string, field: string): string {
  const kg = kilograms(parseWeight(text, field, { unit: 'kg' }));
  // The entry keeps three digits after the point, which is a gram.
  const grams = kg.n * 1000n;
  if (compare(kg, MOST_KG) <= 0 && grams % kg.d === 0n) return toDecimal(kg);
  throw new Refusal('bad-weight', 'Weight: write the standard weight of one sheep in kg, as in 75.', {
    field,
    next: 'At most 200 kg, with at most three digits after the point.',
  });
}

function setUseRules(context: Context, asked: Asked<'set-use-rules'>) {
  return write<'set-use-rules'>(context, asked, (act) => {
    act.add('use-rules-set', {
      livingKg: standardKg(asked.livingKg, 'livingKg'),
      slaughteredKg: standardKg(asked.slaughteredKg, 'slaughteredKg'),
      repeatDays: asked.repeatDays,
    });
    return { done: true };
  });
}

/** What was used of antimicrobials, remedies against parasites and vaccines. */
export const useAnswers: Answers<keyof typeof useCalls> = {
  use: answerUse,
  'use-paper': usePaper,
  'set-substance': setSubstance,
  'set-use-rules': setUseRules,
};
