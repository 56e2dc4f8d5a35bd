import { type Filled, textOf } from './fill.ts';
import type { Part, TopicSentence, Typed } from './sentence.ts';

/** Stands where something is still missing. */
export const OPEN = '…';

/** What to mind with every answer. Said once on a screen, and at the end of what is copied. */
export const CAUTION =
  'The label goes first, and the vet’s word before it. This only does the sums, with what you type, and writes nothing in the book.';

/** One part of a sentence as words. */
function wordsOf(part: Part, filled: Filled, typed: Typed): string {
  if (part.kind === 'text') return part.text;
  if (part.kind === 'gap') return filled.state === 'told' ? (filled.told.gaps[part.name] ?? OPEN) : OPEN;
  // A way with words of its own has said them; the others are their word.
  if (part.kind === 'turn') return part.way.text === undefined ? part.way.word : '';
  const text = textOf(part, typed);
  const option = part.blank.options?.find(({ value }) => value === text);
  if (text === '') return part.isNeeded ? OPEN : `(${part.blank.says} not said)`;
  return option?.label ?? text;
}

/** The sentence in plain words, as it stands now. An empty row at the end of rows is left out. */
export function sentenceText(filled: Filled, typed: Typed): string {
  return filled.parts
    .filter((part) => part.isSpare !== true)
    .map((part) => wordsOf(part, filled, typed))
    .join('')
    .replaceAll(/\s+/g, ' ')
    .replaceAll(/ ([,.;])/g, '$1')
    .trim();
}

/** Question, sentence, answer, working and warnings: what somebody would write down to check it. */
export function workingText(sentence: TopicSentence, filled: Filled, typed: Typed): string | undefined {
  if (filled.state !== 'told') return undefined;
  const { told, working, warnings } = filled;
  return [
    sentence.question,
    sentenceText(filled, typed),
    `${told.label}: ${told.big}`,
    ...(told.lines ?? []),
    ...working.map(({ text, source }) => (source === undefined ? text : `${text} (${source})`)),
    ...warnings.map(({ text }) => `Mind: ${text}`),
    CAUTION,
  ].join('\n');
}
