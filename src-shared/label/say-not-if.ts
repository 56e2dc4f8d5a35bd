import { periodWords } from './say-text.ts';
import type { NotIf } from './terms.ts';
import { CLASS_WORDS } from './words.ts';

/** One "not if" row in words, without a full stop: "Not within 14 days after shearing". The terms have passed `checkTerms`. */
export function notIfWords(rule: NotIf): string {
  const value = rule.value ?? '';
  const words: Readonly<Record<NotIf['code'], () => string>> = {
    class: () => `Not for ${CLASS_WORDS[value] ?? value}`,
    'younger-than': () => `Not under ${periodWords(value)} of age`,
    'older-than': () => `Not over ${periodWords(value)} of age`,
    'lighter-than': () => `Not under ${value}`,
    'heavier-than': () => `Not over ${value}`,
    'pregnant-from-to': () =>
      `Not in ewes from ${periodWords(rule.from ?? '')} after the ram went in to ${periodWords(rule.to ?? '')} after he came out`,
    'before-lambing': () => `Not within ${periodWords(value)} before lambing`,
    milking: () => 'Not in ewes whose milk is for people',
    'condition-under': () => `Not in a body condition under ${value}`,
    'shorn-within': () => `Not within ${periodWords(value)} after shearing`,
    'same-substance-within': () => `Not within ${periodWords(value)} of the same substance`,
    'not-with': () => `Not together with ${value}`,
  };
  return words[rule.code]();
}
