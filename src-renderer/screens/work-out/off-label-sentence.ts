import { typedDay } from '../../parts/typed-when.ts';
import { lawOptions } from '../farm/holding-words.ts';
import { period, said, when } from './readers.ts';
import type { Reply, TopicSentence } from './sentence.ts';

/** "28 days", "1 day", "36 hours". */
function inWords(text: string): string {
  const [value = '', unit] = text.split(' ');
  const name = unit === 'h' ? 'hour' : 'day';
  return `${value} ${name}${value === '1' ? '' : 's'}`;
}

function least(reply: Reply): { label: string; big: string; gap: string } {
  const minimum = said(reply, 'minimum');
  if (minimum !== undefined)
    return { label: 'No less than', big: inWords(minimum), gap: `no less than ${inWords(minimum)}` };
  const floor = said(reply, 'floor');
  if (floor === undefined)
    return { label: 'By law', big: 'The vet must state it', gap: 'a period: the law has no number' };
  return {
    label: 'The vet must state it',
    big: `not below ${inWords(floor)}`,
    gap: `a period: the law has no number, and it may not be below the ${inWords(floor)} of the label`,
  };
}

/** The least period after a treatment outside its label, by law and day. */
export const offLabelSentence: TopicSentence = {
  topic: 'off-label',
  head: 'Before and after',
  question: 'What is the least period outside the label?',
  text: 'Given outside its label on {on}, under the law of {law}, and asked about [produce]. [prints] So the vet states <least>.',
  blanks: {
    on: {
      ...when('Day', 'day of treatment'),
      ask: (text) => typedDay(text) ?? text,
    },
    law: { says: 'law', size: 18, options: lawOptions },
    longest: { ...period, says: 'longest period' },
    species: { ...period, says: 'period for sheep' },
  },
  turns: {
    produce: [
      { id: 'meat', word: 'meat', ask: { produce: 'meat' } },
      { id: 'milk', word: 'milk', ask: { produce: 'milk' } },
    ],
    prints: [
      {
        id: 'longest',
        word: 'It prints no period for sheep.',
        text: 'The longest period that the label prints for it, of any animal, is {longest}.',
      },
      {
        id: 'species',
        word: 'It has one for sheep.',
        text: 'The label prints {species} for sheep, and {longest} at the longest.',
      },
      { id: 'zero', word: 'Its period is zero.', ask: { zero: true }, text: 'The medicine is for [family].' },
      { id: 'none', word: 'It is not authorised for it.', ask: { notAuthorised: true } },
    ],
    family: [
      { id: 'same', word: 'sheep, goats or cattle', ask: { otherFamily: false } },
      { id: 'other', word: 'other animals, such as pigs or poultry', ask: { otherFamily: true } },
    ],
  },
  example: { on: '1 Jun 2026', law: 'gb', longest: '49 d' },
  tell: (reply) => {
    const { label, big, gap } = least(reply);
    return { gaps: { least: gap }, label, big };
  },
};
