import { CLASSES, type SheepClass } from '../../src-shared/label/terms.ts';
import { searchKey } from '../../src-shared/search-key.ts';

/** Words of the trade for classes and sexes. A word that means different things in different places is not here. */

export type Sex = 'female' | 'male' | 'castrated';

const CLASS_WORDS: Record<SheepClass, readonly string[]> = {
  lamb: ['lamb', 'lambs'],
  'ewe-lamb': ['ewe lamb', 'ewe lambs', 'chilver'],
  'ram-lamb': ['ram lamb', 'ram lambs', 'tup lamb', 'tup lambs'],
  wether: ['wether', 'wethers', 'wedder', 'wedders'],
  hogg: ['hogg', 'hoggs', 'hogget', 'hoggets'],
  ewe: ['ewe', 'ewes'],
  ram: ['ram', 'rams', 'tup', 'tups'],
};

const SEX_WORDS: Record<Sex, readonly string[]> = {
  female: ['f', 'female', 'females', 'ewe', '♀'],
  male: ['m', 'male', 'males', 'ram', 'tup', 'entire', '♂'],
  castrated: ['castrated', 'castrate', 'wether', 'wedder', 'neutered'],
};

function byWord<T extends string>(words: Record<T, readonly string[]>, names: readonly T[]): Map<string, T> {
  return new Map(names.flatMap((name) => words[name].map((word): [string, T] => [word, name])));
}

const CLASS_BY_WORD = byWord(CLASS_WORDS, CLASSES);
const SEX_BY_WORD = byWord(SEX_WORDS, ['female', 'male', 'castrated']);

/** A word as it is compared: without case, accents and hyphens. Answers to questions are kept under it. */
export function wordKey(text: string): string {
  return searchKey(text.replace(/[-_./]+/g, ' '));
}

/** The class a word stands for: as answered (`refuse`: its rows are refused), as known, or undefined. */
export function classOfWord(
  word: string,
  answers: ReadonlyMap<string, SheepClass | 'refuse'>,
): SheepClass | 'refuse' | undefined {
  const key = wordKey(word);
  return answers.get(key) ?? CLASS_BY_WORD.get(key);
}

/** The sex a word stands for: as answered, as known, or undefined. */
export function sexOfWord(
  word: string,
  answers: ReadonlyMap<string, Sex | 'refuse'>,
): Sex | 'refuse' | undefined {
  const key = wordKey(word);
  return answers.get(key) ?? SEX_BY_WORD.get(key);
}

/** True when an animal of this class cannot be of this sex. */
export function contradicts(sheepClass: SheepClass, sex: Sex): boolean {
  if (sheepClass === 'ewe' || sheepClass === 'ewe-lamb') return sex !== 'female';
  if (sheepClass === 'ram' || sheepClass === 'ram-lamb') return sex !== 'male';
  return sheepClass === 'wether' && sex !== 'castrated';
}
