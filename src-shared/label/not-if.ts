import { compare } from '../quantity/fraction.ts';
import { parsePeriod } from '../quantity/period.ts';
import { kilograms, parseWeight, printWeight } from '../quantity/weight.ts';
import { daysBetween, printDay } from '../time/day.ts';
import { beforeLambing, pregnant, shornWithin } from './not-if-breeding.ts';
import { type Judgement, NO, type NotIfGiven } from './not-if-facts.ts';
import { notWith, sameSubstance } from './not-if-substance.ts';
import { notIfWords } from './say-not-if.ts';
import type { LabelTerms, NotIf, SheepClass } from './terms.ts';

export type { NotIfGiven } from './not-if-facts.ts';

/** One row that bars the animal, or that a person must check because the book does not know enough. */
export type NotIfFinding = {
  row: NotIf;
  applies: 'yes' | 'check';
  /** What the label says, as typed or in words. */
  rule: string;
  /** The same with the facts it was judged by: "…; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39". */
  text: string;
};

/**
 * Which "not if" rows of the label apply to this animal. A row that needs what is not known is never passed over
 * in silence: it comes back as `check`, to be read and answered by the person who plans.
 */
export function notIfFindings(terms: LabelTerms, given: NotIfGiven): NotIfFinding[] {
  return terms.notIf.flatMap((row) => {
    const { applies, why } = judge(row, terms, given);
    if (applies === 'no') return [];
    const rule = (row.says ?? notIfWords(row)).replace(/[.;\s]+$/, '');
    return [{ row, applies, rule, text: why === undefined ? rule : `${rule}; ${why}` }];
  });
}

function judge(row: NotIf, terms: LabelTerms, given: NotIfGiven): Judgement {
  switch (row.code) {
    case 'class':
      return ofClass(row.value ?? '', given.class);
    case 'milking':
      return given.milking ? { applies: 'yes', why: 'it is in milk by the book' } : NO;
    case 'lighter-than':
    case 'heavier-than':
      return ofWeight(row, given);
    case 'younger-than':
    case 'older-than':
      return ofAge(row, given);
    case 'condition-under':
      return { applies: 'check', why: 'the book keeps no body condition' };
    case 'pregnant-from-to':
      return pregnant(row, given);
    case 'before-lambing':
      return beforeLambing(row, given);
    case 'shorn-within':
      return shornWithin(row, given);
    case 'same-substance-within':
      return sameSubstance(row, terms, given);
    case 'not-with':
      return notWith(row, given);
  }
}

/** "Lambs" on a label are lambs of either sex. A lamb whose sex is not said may be the one the row means. */
const WIDER: Readonly<Record<string, readonly SheepClass[]>> = { lamb: ['ewe-lamb', 'ram-lamb'] };
const PERHAPS: Readonly<Record<string, readonly SheepClass[]>> = {
  lamb: ['wether'],
  'ewe-lamb': ['lamb'],
  'ram-lamb': ['lamb'],
  wether: ['lamb'],
};

function ofClass(value: string, cls: SheepClass): Judgement {
  if (value === cls || WIDER[value]?.includes(cls)) return { applies: 'yes' };
  return PERHAPS[value]?.includes(cls)
    ? { applies: 'check', why: `the book says only that it is a ${cls}` }
    : NO;
}

function ofWeight(row: NotIf, { weight, weighedOn }: NotIfGiven): Judgement {
  if (weight === undefined) return { applies: 'check', why: 'the book has no weight' };
  const side = compare(kilograms(weight), kilograms(parseWeight(row.value ?? '', 'notIf')));
  const bars = row.code === 'lighter-than' ? side < 0 : side > 0;
  if (!bars) return NO;
  const when = weighedOn === undefined ? '' : `, weighed ${printDay(weighedOn)}`;
  return { applies: 'yes', why: `it is ${printWeight(weight)}${when}` };
}

function ofAge(row: NotIf, { born, day }: NotIfGiven): Judgement {
  if (born === undefined) return { applies: 'check', why: 'the book has no day of birth' };
  const limit = parsePeriod(row.value ?? '', 'notIf');
  const hours = limit.unit === 'd' ? limit.value * 24 : limit.value;
  const days = daysBetween(born, day);
  const bars = row.code === 'younger-than' ? days * 24 < hours : days * 24 > hours;
  return bars ? { applies: 'yes', why: `born ${printDay(born)}, so ${days} days old` } : NO;
}
