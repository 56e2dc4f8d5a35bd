import type { Asked } from '../../../src-shared/calls/all.ts';
import type { useCalls } from '../../../src-shared/calls/use.ts';
import { parseFactor } from '../../../src-shared/record/use-factors.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import { type Answers, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf } from '../reading/holding.ts';
import { rulesOfUse, standardKg, withOwnHeads } from './heads.ts';
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

function setUseRules(context: Context, asked: Asked<'set-use-rules'>) {
  return write<'set-use-rules'>(context, asked, (act) => {
    act.add('use-rules-set', {
      livingKg: standardKg(asked.livingKg, 'livingKg'),
      slaughteredKg: standardKg(asked.slaughteredKg, 'slaughteredKg'),
      repeatDays: asked.repeatDays,
      ...optional('heads', rulesOfUse(context.store.read).heads),
    });
    return { done: true };
  });
}

/** Refuses `no-such-holding`, `bad-year`. */
function setUseHeads(context: Context, asked: Asked<'set-use-heads'>) {
  return write<'set-use-heads'>(context, asked, (act) => {
    const tx = context.store.read;
    const { zone } = holdingOf(tx, asked.holding);
    const thisYear = Number(dayOf(parseInstant(context.now(), 'clock'), zone).slice(0, 4));
    const { holding, year, living, slaughtered } = asked;
    const said = { holding, year, ...optional('living', living), ...optional('slaughtered', slaughtered) };
    act.add('use-rules-set', withOwnHeads(rulesOfUse(tx), said, thisYear));
    return { done: true };
  });
}

/** What was used of antimicrobials, remedies against parasites and vaccines. */
export const useAnswers: Answers<keyof typeof useCalls> = {
  use: answerUse,
  'use-paper': usePaper,
  'set-substance': setSubstance,
  'set-use-rules': setUseRules,
  'set-use-heads': setUseHeads,
};
