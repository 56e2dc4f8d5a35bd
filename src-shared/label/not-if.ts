import { compare } from '../quantity/fraction.ts';
import { parsePeriod } from '../quantity/period.ts';
import { kilograms, parseWeight, type Weight } from '../quantity/weight.ts';
import type { LabelTerms, NotIf, SheepClass } from './terms.ts';

/** What is known of the animal when its "not if" rows are read. */
export type NotIfGiven = {
  class: SheepClass;
  weight?: Weight | undefined;
  ageDays?: number | undefined;
  milking: boolean;
};

/** One row that bars the animal, or that a person must check because the book does not know enough. */
export type NotIfFinding = { row: NotIf; applies: 'yes' | 'check'; text: string };

/**
 * Which "not if" rows of the label apply to this animal. A row that needs what is not known is never passed over
 * in silence: it comes back as `check`, to be read and answered by the person who plans.
 */
export function notIfFindings(terms: LabelTerms, given: NotIfGiven): NotIfFinding[] {
  return terms.notIf.flatMap((row) => {
    const applies = judge(row, given);
    return applies === 'no' ? [] : [{ row, applies, text: row.says ?? sayRow(row) }];
  });
}

function judge(row: NotIf, given: NotIfGiven): 'yes' | 'no' | 'check' {
  const value = row.value ?? '';
  switch (row.code) {
    case 'class':
      return value === given.class ? 'yes' : 'no';
    case 'milking':
      return given.milking ? 'yes' : 'no';
    case 'lighter-than':
    case 'heavier-than': {
      if (given.weight === undefined) return 'check';
      const side = compare(kilograms(given.weight), kilograms(parseWeight(value, 'notIf')));
      return (row.code === 'lighter-than' ? side < 0 : side > 0) ? 'yes' : 'no';
    }
    case 'younger-than':
    case 'older-than': {
      if (given.ageDays === undefined) return 'check';
      const limit = parsePeriod(value, 'notIf');
      const hours = limit.unit === 'd' ? limit.value * 24 : limit.value;
      const age = given.ageDays * 24;
      return (row.code === 'younger-than' ? age < hours : age > hours) ? 'yes' : 'no';
    }
    default:
      return 'check';
  }
}

function sayRow(row: NotIf): string {
  const words = row.code.replaceAll('-', ' ');
  return `Not if ${words}${row.value === undefined ? '' : ` ${row.value}`}`;
}
